import { secretSpans } from '../../handover/redact.ts';
import type { Reading } from '../../reading/reading.ts';
import { hiddenIn } from '../../reading/secrets/secrets-in-text.ts';
import { lowerBound } from '../../text/lower-bound.ts';
import { attributesOf, isElement, Kind, nameOf, nextElement, type Tree } from '../../xml/tree.ts';
import { type CarryTree, Row } from './carry-tree.ts';

/** Rows of sections, records and settings that hold the words, or are called so by a tag, in the order of the file. */
export function rowsWith(tree: Tree, rows: CarryTree, reading: Reading, words: string): number[] {
  const wanted = words.trim().toLowerCase();
  if (wanted === '') return [];
  const found = new Set<number>();
  for (const node of elementsWith(tree, words, secretSpans(tree, hiddenIn(tree, reading)))) {
    const unit = rows.units.of[node]!;
    if (unit !== -1 && rows.rowOf[unit] !== -1) found.add(rows.rowOf[unit]!);
  }
  // Names that stand in tags, where values are not looked for.
  for (let row = 0; row < rows.size; row++) {
    if (rows.kind[row] === Row.collection) continue;
    const isTagged = reading.collections[rows.collection[row]!]?.key.by === 'tag' || rows.kind[row] !== Row.record;
    if (isTagged && nameOf(tree, rows.node[row]!).toLowerCase().includes(wanted)) found.add(row);
  }
  return [...found].sort((a, b) => rows.node[a]! - rows.node[b]!);
}

const plainNames: Record<string, string> = { '&': 'amp', '<': 'lt', '>': 'gt', '"': 'quot', "'": 'apos' };

/** A pattern for words as they may be written in XML: any letter as itself or by number, blanks as any white space. */
function writtenPattern(words: string): RegExp {
  let source = '';
  for (const char of words.trim().replace(/\s+/g, ' ')) {
    if (char === ' ') {
      source += '\\s+';
      continue;
    }
    const code = char.codePointAt(0)!;
    const name = plainNames[char];
    const forms = [char.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&')];
    if (name) forms.push(`&${name};`);
    if (name || code > 0x7e) forms.push(`&#(?:x0*${code.toString(16)}|0*${code});`);
    source += forms.length === 1 ? forms[0] : `(?:${forms.join('|')})`;
  }
  return new RegExp(source, 'giu');
}

/**
 * Elements whose text, attributes or comments hold the words, ascending, each once; a comment counts for the element
 * right below it, else for the one that it stands in. Tags do not count, and secrets are never looked into.
 * @param secrets spans as of `secretSpans`.
 */
function elementsWith(tree: Tree, words: string, secrets: Int32Array): number[] {
  const found = new Set<number>();
  if (words.trim() === '') return [];
  const { text } = tree;
  for (const match of text.matchAll(writtenPattern(words))) {
    const start = match.index;
    const end = start + match[0].length;
    const node = innermost(tree, start);
    if (node === -1 || isSecret(secrets, start, end)) continue;
    const at = valueHolder(tree, node, start, end);
    if (at !== -1) found.add(at);
  }
  return [...found].sort((a, b) => a - b);
}

/** The innermost node whose span holds an offset, -1 outside the root. */
function innermost(tree: Tree, offset: number): number {
  let node = lowerBound(tree.start, offset + 1) - 1;
  while (node !== -1 && tree.end[node]! <= offset) node = tree.parent[node]!;
  return node;
}

function valueHolder(tree: Tree, node: number, start: number, end: number): number {
  switch (tree.kind[node]) {
    case Kind.cdata:
      return start >= tree.start[node]! + 9 && end <= tree.end[node]! - 3 ? tree.parent[node]! : -1;
    case Kind.comment: {
      const below = nextElement(tree, node);
      const touches = below !== -1 && /^\s*$/.test(tree.text.slice(tree.end[node]!, tree.start[below]!));
      return touches ? below : tree.parent[node]!;
    }
    case Kind.instruction:
      return -1;
    default:
  }
  if (!isElement(tree, node)) return -1;
  if (start >= tree.openEnd[node]!) return end <= tree.closeStart[node]! ? node : -1;
  const [first, last] = attributesOf(tree, node);
  for (let attr = first; attr < last; attr++) {
    if (start >= tree.valueStart[attr]! && end <= tree.valueEnd[attr]!) return node;
  }
  return -1;
}

function isSecret(spans: Int32Array, start: number, end: number): boolean {
  let low = 0;
  let high = spans.length / 2;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (spans[2 * middle + 1]! <= start) low = middle + 1;
    else high = middle;
  }
  return 2 * low < spans.length && spans[2 * low]! < end;
}
