import type { Patch } from '../patch/patch-set.ts';
import type { Reading } from '../reading/reading.ts';
import { emptySecrets } from '../reading/secrets/empty-secrets.ts';
import { hiddenIn } from '../reading/secrets/secrets-in-text.ts';
import { runsOf, type Site } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';

/** Spans of the source text that hold secrets, as pairs [start, end) in ascending order. */
export function secretSpans(tree: Tree, secrets: readonly { readonly site: Site }[]): Int32Array {
  const spans: [number, number][] = [];
  for (const { site } of secrets) {
    if (site.attr >= 0) spans.push([tree.valueStart[site.attr]!, tree.valueEnd[site.attr]!]);
    else for (const run of runsOf(tree, site.node)) spans.push([run.start, run.end]);
  }
  spans.sort((a, b) => a[0] - b[0]);
  // A text of several settings may hold two secrets.
  return Int32Array.from(spans.filter(([start], at) => at === 0 || spans[at - 1]![0] !== start).flat());
}

/** As `secretSpans`, with a span of no length for each place where a secret would stand. */
export function hiddenSpans(tree: Tree, reading: Reading): Int32Array {
  const held = secretSpans(tree, hiddenIn(tree, reading));
  const empty = emptySecrets(tree, reading);
  if (empty.length === 0) return held;
  const pairs: [number, number][] = [];
  for (let at = 0; at < held.length; at += 2) pairs.push([held[at]!, held[at + 1]!]);
  for (const { node, attr } of empty) {
    const offset = attr >= 0 ? tree.valueStart[attr]! : tree.openEnd[node]!;
    pairs.push([offset, offset]);
  }
  return Int32Array.from(pairs.sort((a, b) => a[0] - b[0]).flat());
}

/** A bar for a secret: its length tells a class, not the length. */
export function bar(length: number): string {
  return '█'.repeat(length <= 16 ? 8 : length <= 64 ? 16 : 24);
}

/** The units [start, end) of the text with every secret blacked out, line by line so that line numbers hold. */
export function redacted(text: string, spans: Int32Array, start: number, end: number): string {
  let out = '';
  let at = start;
  for (let k = firstEndingAfter(spans, start); k < spans.length && spans[k]! < end; k += 2) {
    const from = Math.max(spans[k]!, start);
    const to = Math.min(spans[k + 1]!, end);
    out += text.slice(at, from);
    out += text.slice(from, to).replace(/[^\r\n]*[^\s][^\r\n]*/g, (part) => bar(part.trim().length));
    at = to;
  }
  return out + text.slice(at, end);
}

/** What a patch puts in, blacked out where it changes a secret. */
export function redactedPatch(spans: Int32Array, { start, end, text }: Pick<Patch, 'start' | 'end' | 'text'>): string {
  const at = firstEndingAfter(spans, start - 1);
  const secret = at < spans.length && spans[at]! <= end && spans[at + 1]! >= start;
  return secret && text.trim() !== '' ? bar(text.length) : text;
}

function firstEndingAfter(spans: Int32Array, offset: number): number {
  let low = 0;
  let high = spans.length / 2;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (spans[2 * middle + 1]! <= offset) low = middle + 1;
    else high = middle;
  }
  return 2 * low;
}
