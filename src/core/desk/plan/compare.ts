import { compile } from '../../compile/compile.ts';
import { placeFinder } from '../../compile/leave-out.ts';
import { hiddenSpans, redacted, redactedPatch } from '../../handover/redact.ts';
import type { Patch, PatchSet } from '../../patch/patch-set.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Reading } from '../../reading/reading.ts';
import { Lines } from '../../text/lines.ts';
import type { Backup } from '../backup/open.ts';

export interface Comparison {
  readonly before: string;
  readonly after: string;
  /** Line number of the first line, in the original and in the result. */
  readonly beforeLine: number;
  readonly afterLine: number;
  /** True where the end was cut off. */
  readonly cut: boolean;
}

/**
 * One element, or all records of a collection, before and after a plan, whole lines, secrets blacked out on both sides,
 * each cut to `limit` units. Null where the path names nothing.
 */
export function compare(backup: Backup, reading: Reading, plan: Plan, path: string, limit: number): Comparison | null {
  const { patches } = compile(backup.tree, reading, plan, backup.fits);
  const spans = hiddenSpans(backup.tree, reading);
  return besides(backup, reading, { patches, path, limit, spans, shown: (patch) => redactedPatch(spans, patch) });
}

/** As {@link compare}, for any patches. @param shown what a patch puts in, secrets blacked out. */
export function besides(
  { tree, lines }: Backup,
  reading: Reading,
  {
    patches,
    path,
    limit,
    spans,
    shown,
  }: { patches: PatchSet; path: string; limit: number; spans: Int32Array; shown: (patch: Patch) => string },
): Comparison | null {
  const nodes = placeFinder(tree, reading)(path);
  if (nodes.length === 0) return null;
  const first = lines.at(tree.start[nodes.reduce((a, b) => Math.min(a, b))]!).line;
  const start = lines.span(first)[0];
  const end = lines.span(lines.at(tree.end[nodes.reduce((a, b) => Math.max(a, b))]!).line)[1];
  let after = '';
  let at = start;
  // An element that is left out takes its indentation and the comment above it along, so its patch begins before it.
  for (const patch of patches.touching(start, end)) {
    if (patch.start > at) after += redacted(tree.text, spans, at, patch.start);
    if (patch.start >= start) after += shown(patch);
    at = Math.min(patch.end, end);
  }
  after += redacted(tree.text, spans, at, end);
  const before = redacted(tree.text, spans, start, end);
  return {
    before: before.slice(0, limit),
    after: after.slice(0, limit),
    beforeLine: first,
    afterLine: new Lines(patches.apply()).at(patches.map(start)).line,
    cut: before.length > limit || after.length > limit,
  };
}

/** Longest line that is shown whole, in units; some files are one line. */
const WIDEST = 4000;

/** The lines [from, to] of the original text, from 1, secrets blacked out; a very long one ends in `…`. */
export function linesOf(backup: Backup, reading: Reading, from: number, to: number): string[] {
  const { tree, lines } = backup;
  const spans = hiddenSpans(tree, reading);
  const shown: string[] = [];
  for (let line = Math.max(1, from); line <= Math.min(to, lines.count); line++) {
    const [start, end] = lines.span(line);
    const cut = end - start > WIDEST;
    shown.push(redacted(tree.text, spans, start, cut ? start + WIDEST : end) + (cut ? '…' : ''));
  }
  return shown;
}

/** A place with the text around it, for lines that are too long to show. */
export interface Around {
  readonly before: string;
  readonly hit: string;
  readonly after: string;
}

/** The units [start, end) of the original with up to `units` on either side, each part so long at most; secrets blacked out. */
export function aroundOf(backup: Backup, reading: Reading, start: number, end: number, units: number): Around {
  const { text } = backup.tree;
  const spans = hiddenSpans(backup.tree, reading);
  const from = Math.max(0, Math.min(start, text.length));
  const to = Math.max(from, Math.min(end, text.length));
  const shown = (first: number, last: number) => redacted(text, spans, first, last);
  return {
    before: shown(Math.max(0, from - units), from),
    hit: shown(from, Math.min(to, from + units)),
    after: to - from > units ? '…' : shown(to, Math.min(text.length, to + units)),
  };
}
