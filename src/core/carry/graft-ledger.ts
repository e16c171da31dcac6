import type { Edits } from '../compile/edits.ts';
import { ledgerOf } from '../compile/ledger.ts';
import { unitsOf } from '../compile/units.ts';
import type { Reading } from '../reading/reading.ts';
import { lowerBound } from '../text/lower-bound.ts';
import type { Tree } from '../xml/tree.ts';
import type { Merge } from './merge.ts';
import type { Origins } from './origins.ts';

interface Document {
  readonly tree: Tree;
  readonly reading: Reading;
}

/** Why an entry of the donor stays behind: it was not asked for, or the receiver's own stays. */
export type Stays = 'not-chosen' | 'receiver-keeps';

/** Every entry of the donor: carried as it was (or there already, alike), carried with changes, or left out. */
export interface DonorAccount {
  readonly entries: number;
  readonly carried: number;
  readonly changed: ReadonlySet<number>;
  readonly leftOut: ReadonlyMap<number, Stays>;
  readonly balances: boolean;
}

/** Every entry of the receiver: kept as it was, replaced in whole or in part, or removed; and those that come to them. */
export interface ReceiverAccount {
  readonly entries: number;
  readonly kept: number;
  readonly replaced: ReadonlySet<number>;
  readonly removed: ReadonlySet<number>;
  readonly added: number;
  readonly balances: boolean;
}

export interface GraftAccount {
  readonly donor: DonorAccount;
  readonly receiver: ReceiverAccount;
  /** Whether a node of the donor goes over. */
  readonly goes: (node: number) => boolean;
  /** Entries of the donor that come to the receiver's. */
  readonly added: ReadonlySet<number>;
}

/**
 * The books of both documents.
 * @param plan what the donor's plan made of the donor.
 * @param edits what the graft makes of the receiver.
 */
export function graftAccounts(
  donor: Document,
  receiver: Document,
  plan: Edits,
  edits: Edits,
  merge: Merge,
  origins: Origins,
): GraftAccount {
  const { added, count } = addedEntries(donor, merge, origins);
  return {
    ...donorAccount(donor, plan, merge, origins),
    receiver: receiverAccount(receiver, edits, merge, count),
    added,
  };
}

function donorAccount(
  { tree, reading }: Document,
  plan: Edits,
  merge: Merge,
  origins: Origins,
): Pick<GraftAccount, 'donor' | 'goes'> {
  const units = unitsOf(tree, reading);
  const base = ledgerOf(tree, units, plan);
  const leftOut = new Map<number, Stays>();
  for (const node of base.leftOut.keys()) leftOut.set(node, 'not-chosen');
  const changed = new Set(base.changed.keys());
  const stay = (unit: number) => {
    if (!leftOut.has(unit)) leftOut.set(unit, 'receiver-keeps');
    changed.delete(unit);
  };
  const tops: number[] = [];
  for (const kept of merge.kept) {
    const node = origins.of[kept]!;
    if (origins.added[kept]) continue;
    tops.push(node);
    const end = lowerBound(units.nodes, tree.after[node]!);
    for (let at = lowerBound(units.nodes, node); at < end; at++) stay(units.nodes[at]!);
    const around = units.of[node]!;
    // A field that stays behind changes the record that it is in.
    if (around !== -1 && around !== node && !leftOut.has(around)) changed.add(around);
  }
  for (const holder of merge.holders) if (!origins.added[holder]) stay(origins.of[holder]!);
  let carried = 0;
  for (const unit of units.nodes) if (!changed.has(unit) && !leftOut.has(unit)) carried++;
  const entries = units.nodes.length;
  const out = Int32Array.from(new Set([...tops, ...plan.leftOut.keys()])).sort();
  return {
    donor: {
      entries,
      carried,
      changed,
      leftOut,
      balances: carried + changed.size + leftOut.size === entries,
    },
    goes: (node) => {
      for (let at = node; at !== -1; at = tree.parent[at]!) if (out[lowerBound(out, at)] === at) return false;
      return true;
    },
  };
}

function receiverAccount({ tree, reading }: Document, edits: Edits, merge: Merge, added: number): ReceiverAccount {
  const units = unitsOf(tree, reading);
  const base = ledgerOf(tree, units, edits);
  const replaced = new Set(base.changed.keys());
  const removed = new Set(base.leftOut.keys());
  for (const { to } of merge.orders.swaps) {
    const end = lowerBound(units.nodes, tree.after[to]!);
    for (let at = lowerBound(units.nodes, to); at < end; at++) {
      removed.delete(units.nodes[at]!);
      replaced.add(units.nodes[at]!);
    }
  }
  for (const node of merge.touched) {
    const unit = units.of[node]!;
    if (unit !== -1 && !removed.has(unit)) replaced.add(unit);
  }
  let kept = 0;
  for (const unit of units.nodes) if (!replaced.has(unit) && !removed.has(unit)) kept++;
  const entries = units.nodes.length;
  return {
    entries,
    kept,
    replaced,
    removed,
    added,
    balances: kept + replaced.size + removed.size === entries,
  };
}

/** Entries of the donor inside of what is put in, and how many these are; one that the plan copies counts again. */
function addedEntries(
  { tree, reading }: Document,
  merge: Merge,
  origins: Origins,
): { added: Set<number>; count: number } {
  const units = unitsOf(tree, reading);
  const { from } = merge.trees;
  const added = new Set<number>();
  let count = 0;
  for (const { nodes } of merge.orders.inserts)
    for (const top of nodes)
      for (let node = top; node < from.after[top]!; node++) {
        const origin = origins.of[node]!;
        if (origin === -1 || units.of[origin] !== origin) continue;
        added.add(origin);
        count++;
      }
  return { added, count };
}
