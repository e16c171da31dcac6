import type { Patch } from '../patch/patch-set.ts';
import { Kind, nextSibling, type Tree } from './tree.ts';

const isBlank = (unit: number) => unit === 0x20 || unit === 0x09;
const isLineEnd = (unit: number) => unit === 0x0a || unit === 0x0d;

/** First unit of the line's indentation where nothing but blanks stand before `at`; -1 where something does. */
function indentStart(text: string, at: number): number {
  while (at > 0 && isBlank(text.charCodeAt(at - 1))) at--;
  return at === 0 || isLineEnd(text.charCodeAt(at - 1)) ? at : -1;
}

/** One past the line end where nothing but blanks stand between `at` and it; -1 where something does. */
function lineEndAfter(text: string, at: number): number {
  while (isBlank(text.charCodeAt(at))) at++;
  if (!isLineEnd(text.charCodeAt(at))) return -1;
  return text.charCodeAt(at) === 0x0d && text.charCodeAt(at + 1) === 0x0a ? at + 2 : at + 1;
}

/** The lines that a span has to itself, with indentation and line end; null where something else stands in them. */
export function ownLines(text: string, from: number, to: number): readonly [start: number, end: number] | null {
  const start = indentStart(text, from);
  const end = lineEndAfter(text, to);
  return start === -1 || end === -1 ? null : [start, end];
}

/** Start of the lines of a comment that stands directly above the line that begins at `lineStart`; else `lineStart`. */
function withComment(tree: Tree, comment: number, lineStart: number): number {
  if (comment === -1 || tree.kind[comment] !== Kind.comment) return lineStart;
  if (lineEndAfter(tree.text, tree.end[comment]!) !== lineStart) return lineStart;
  const start = indentStart(tree.text, tree.start[comment]!);
  return start === -1 ? lineStart : start;
}

export interface Removal {
  readonly node: number;
  readonly owner: string;
}

/**
 * Patches that take elements out. One that has its lines to itself takes them along, indentation and line end, and with
 * them a comment that stands on lines of its own directly above; elsewhere nothing but the element goes. Neighbours on
 * one line that all go count as one.
 * @param removals in document order, none inside another, none the root.
 * @returns the patches and the comments that went along.
 */
export function removePatches(tree: Tree, removals: readonly Removal[]): { patches: Patch[]; comments: Set<number> } {
  const { text } = tree;
  const before = previousSiblings(tree, removals);
  const patches: Patch[] = [];
  const comments = new Set<number>();
  for (let first = 0; first < removals.length; ) {
    let last = first;
    while (
      last + 1 < removals.length &&
      onlyBlanks(text, tree.end[removals[last]!.node]!, tree.start[removals[last + 1]!.node]!)
    )
      last++;
    const run = removals.slice(first, last + 1);
    let start = tree.start[run[0]!.node]!;
    let end = tree.end[run.at(-1)!.node]!;
    const lineStart = indentStart(text, start);
    const lineEnd = lineEndAfter(text, end);
    if (lineStart !== -1 && lineEnd !== -1) {
      const comment = before.get(run[0]!.node)!;
      start = withComment(tree, comment, lineStart);
      if (start < lineStart) comments.add(comment);
      end = lineEnd;
    }
    for (const [at, { node, owner }] of run.entries()) {
      const stop = at === run.length - 1 ? end : tree.start[run[at + 1]!.node]!;
      patches.push({ start: at === 0 ? start : tree.start[node]!, end: stop, text: '', owner });
    }
    first = last + 1;
  }
  return { patches, comments };
}

function onlyBlanks(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (!isBlank(text.charCodeAt(at))) return false;
  return true;
}

/** The node just before each removal among its siblings, -1 for none; one walk for each parent. */
function previousSiblings(tree: Tree, removals: readonly Removal[]): Map<number, number> {
  const previous = new Map<number, number>();
  const parents = new Set(removals.map(({ node }) => tree.parent[node]!));
  for (const parent of parents) {
    let before = -1;
    for (let child = parent + 1; child !== -1; child = nextSibling(tree, child)) {
      previous.set(child, before);
      before = child;
    }
  }
  return previous;
}
