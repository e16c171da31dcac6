import { spreadRecords } from '../compile/spread.ts';
import { unitsOf } from '../compile/units.ts';
import { flatListsOf } from '../reading/outline/flat-lists.ts';
import { lowerBound } from '../text/lower-bound.ts';
import type { Trouble } from '../trouble.ts';
import { pathOf } from '../xml/path.ts';
import { nameOf } from '../xml/tree.ts';
import { topsOf } from './chosen.ts';
import type { Pick, Side } from './graft.ts';

export interface PlacedPick extends Pick {
  readonly nodes: readonly number[];
}

/** Whether two documents are of other forms, so that only whole sections can go over; see `kinship`. */
export const takesSectionsOnly = (kin: number): boolean => kin < KIN;

/** Below this the two documents are of other forms, and only whole sections make sense. */
const KIN = 0.5;

/** What stands in the way of a graft as a whole; null for nothing. */
export function obstacle(donor: Side, receiver: Side, picks: readonly PlacedPick[], kin: number): Trouble | null {
  if (picks.length === 0) return { code: 'graft-nothing-picked' };
  const roots = { donor: nameOf(donor.tree, donor.tree.root), receiver: nameOf(receiver.tree, receiver.tree.root) };
  if (kin === 0) return { code: 'graft-other-root', params: roots };
  const tops = new Set(topsOf(donor.tree, donor.reading));
  if (takesSectionsOnly(kin)) {
    const part = picks.find(({ nodes }) => nodes.some((node) => !tops.has(node)));
    if (part) return { code: 'graft-other-form', params: { path: part.id, percent: Math.floor(kin * 100) } };
  }
  // Nothing around its lines is its own, so what only the receiver's has cannot be told from the lines of others.
  const spread = new Set([...spreadRecords(donor.tree, donor.reading)].flatMap(([top, fellows]) => [top, ...fellows]));
  const lone = picks.find(({ mode, nodes }) => mode === 'replace' && nodes.some((node) => spread.has(node)));
  if (lone) return { code: 'graft-spread-record', params: { path: pathOf(donor.tree, lone.nodes[0]!) } };
  // What each line is, only the others tell: lines that come one by one would stand beside those they are meant for.
  const members = Int32Array.from(flatListsOf(donor.tree)?.members ?? []).sort();
  const among = (node: number, last: number) => {
    const at = lowerBound(members, node);
    return at < members.length && members[at]! < last;
  };
  const loose = picks.find(({ mode, nodes }) =>
    nodes.some((node) => among(node, mode === 'replace' ? node + 1 : donor.tree.after[node]!)),
  );
  if (loose) return { code: 'graft-flat-list', params: { path: pathOf(donor.tree, loose.nodes[0]!) } };
  return null;
}

/** What of a receiver stays as it is, since it fits its box only. */
export function protection({ tree, reading }: Side) {
  const units = unitsOf(tree, reading);
  const whole = new Set(reading.boxBound.filter(({ attr }) => attr < 0).map(({ node }) => node));
  const sorted = Int32Array.from(whole).sort();
  const fixtures = sorted.filter((node) => units.of[node] === node);
  const attributes = new Set(reading.boxBound.filter(({ attr }) => attr >= 0).map(({ attr }) => attr));
  const holds = (list: Int32Array, node: number) => {
    const at = lowerBound(list, node);
    return at < list.length && list[at]! < tree.after[node]!;
  };
  return {
    isProtected: (node: number) => whole.has(node),
    holdsProtected: (node: number) => holds(sorted, node),
    holdsFixture: (node: number) => holds(fixtures, node),
    isProtectedAttribute: (attr: number) => attributes.has(attr),
  };
}
