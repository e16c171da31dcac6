import { decodeReferences, sourceOffsets } from './escape.ts';
import { firstChild, Kind, nameOf, nextSibling, type Tree } from './tree.ts';

/** Marks a site that is an element's own text. */
export const TEXT = -1;
/** Marks a site that is an element's own name used as a value. */
export const TAG = -2;

/** Where a value stands: `attr` is an index into the tree's attributes, or TEXT, or TAG. */
export interface Site {
  readonly node: number;
  readonly attr: number;
}

/** A site, or the units [from, to) of the decoded value there. */
export interface PartSite extends Site {
  readonly part?: readonly [from: number, to: number];
}

/** A run of one element's own character data: plain text or the inside of a CDATA section. */
export interface Run {
  readonly start: number;
  readonly end: number;
  readonly cdata: boolean;
}

/** The element's own character data in order; spans of nothing are left out. */
export function runsOf(tree: Tree, node: number): Run[] {
  const runs: Run[] = [];
  let at = tree.openEnd[node]!;
  const plain = (end: number) => {
    if (end > at) runs.push({ start: at, end, cdata: false });
  };
  for (let child = firstChild(tree, node); child !== -1; child = nextSibling(tree, child)) {
    plain(tree.start[child]!);
    at = tree.end[child]!;
    if (tree.kind[child] === Kind.cdata) runs.push({ start: tree.start[child]! + 9, end: at - 3, cdata: true });
  }
  if (tree.openEnd[node]! < tree.end[node]!) plain(tree.closeStart[node]!);
  return runs;
}

/** The element's own text, decoded: references resolved, line ends as LF (XML 1.0, 2.11). Not trimmed. */
export function textOf(tree: Tree, node: number): string {
  if (tree.after[node] === node + 1) {
    const start = tree.openEnd[node]!;
    const end = tree.closeStart[node]!;
    return start < end ? decodeReferences(tree.text.slice(start, end), false) : '';
  }
  let value = '';
  for (const run of runsOf(tree, node)) {
    const raw = tree.text.slice(run.start, run.end);
    value += run.cdata ? raw.replace(/\r\n?/g, '\n') : decodeReferences(raw, false);
  }
  return value;
}

/** The attribute's value, decoded (XML 1.0, 3.3.3). */
export function attributeValue(tree: Tree, attr: number): string {
  return decodeReferences(tree.text.slice(tree.valueStart[attr]!, tree.valueEnd[attr]!), true);
}

/** The decoded value at a site, or the part of it, not trimmed. */
export function valueAt(tree: Tree, site: PartSite): string {
  if (site.part) return valueAt(tree, { node: site.node, attr: site.attr }).slice(...site.part);
  if (site.attr >= 0) return attributeValue(tree, site.attr);
  return site.attr === TAG ? nameOf(tree, site.node) : textOf(tree, site.node);
}

/** A piece of source text that holds a piece of a value. */
export interface Piece extends Run {
  readonly attribute: boolean;
}

/**
 * The source span of the units [from, to) of a site's decoded value, or null where they do not lie in one run (a value
 * that a comment or a CDATA border cuts in two). A tag has two places, so this is for text and attributes.
 */
export function pieceOf(tree: Tree, site: Site, from: number, to: number): Piece | null {
  if (site.attr >= 0) {
    const start = tree.valueStart[site.attr]!;
    const offsets = sourceOffsets(tree.text.slice(start, tree.valueEnd[site.attr]!), true);
    return { start: start + offsets(from), end: start + offsets(to), cdata: false, attribute: true };
  }
  let before = 0;
  for (const run of runsOf(tree, site.node)) {
    const raw = tree.text.slice(run.start, run.end);
    const length = (run.cdata ? raw.replace(/\r\n?/g, '\n') : decodeReferences(raw, false)).length;
    if (from >= before && to <= before + length && (from < before + length || length === 0)) {
      const offsets = sourceOffsets(raw, false, run.cdata);
      return {
        start: run.start + offsets(from - before),
        end: run.start + offsets(to - before),
        cdata: run.cdata,
        attribute: false,
      };
    }
    before += length;
  }
  return null;
}
