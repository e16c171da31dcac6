import { lowerBound } from '../text/lower-bound.ts';
import type { Tree } from '../xml/tree.ts';
import type { Edits } from './edits.ts';
import type { Units } from './units.ts';

/** What became of each unit. Sums are counted apart from each other, so that a sum that is wrong shows. */
export interface Ledger {
  readonly units: number;
  readonly carried: number;
  readonly changed: ReadonlyMap<number, readonly string[]>;
  readonly leftOut: ReadonlyMap<number, string>;
  /** Records that the donor does not have; they are no units of it. */
  readonly added: number;
  readonly balances: boolean;
}

/** The account of every unit of the donor: carried as it was, carried with changes, or left out. */
export function ledgerOf(tree: Tree, units: Units, edits: Edits): Ledger {
  const changed = new Map<number, string[]>();
  const touch = (node: number, owners: readonly string[]) => {
    const unit = units.of[node]!;
    if (unit === -1) return;
    const known = changed.get(unit);
    if (!known) changed.set(unit, [...owners]);
    else for (const owner of owners) if (!known.includes(owner)) known.push(owner);
  };
  for (const { site, owners } of edits.values.values()) touch(site.node, owners);
  for (const [node, { owner }] of edits.tags) touch(node, [owner]);
  for (const [node, { owners }] of edits.attributes ?? []) touch(node, owners);
  for (const { device, after, owners } of edits.added) if (device === null) touch(tree.parent[after]!, owners);
  // A part of a unit that goes changes the unit; a unit inside a unit is an entry of its own, and a section of entries is
  // no part of the outermost element, which may be a unit for its attributes.
  const isSection = (top: number) => {
    const first = units.nodes[lowerBound(units.nodes, top)];
    return units.of[top] === tree.root && first !== undefined && first < tree.after[top]!;
  };
  for (const [top, owner] of edits.leftOut) if (units.of[top] !== top && !isSection(top)) touch(top, [owner]);
  const leftOut = new Map<number, string>();
  let carried = 0;
  const tops = [...edits.leftOut];
  let next = 0;
  let end = -1;
  let owner = '';
  for (const unit of units.nodes) {
    while (next < tops.length && tops[next]![0] <= unit) {
      [, owner] = tops[next]!;
      end = tree.after[tops[next++]![0]]!;
    }
    if (unit < end) leftOut.set(unit, owner);
    else if (!changed.has(unit)) carried++;
  }
  const total = units.nodes.length;
  const balances = carried >= 0 && carried + changed.size + leftOut.size === total;
  return {
    units: total,
    carried,
    changed,
    leftOut,
    added: edits.added.filter(({ device }) => device !== null).length,
    balances,
  };
}
