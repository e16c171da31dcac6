import type { Graft } from '../../carry/graft.ts';
import type { Need, Needs } from '../../carry/needs.ts';
import { withinAny } from '../../compile/compile.ts';
import type { Edits } from '../../compile/edits.ts';
import type { Ledger } from '../../compile/ledger.ts';
import type { Units } from '../../compile/units.ts';
import { nodeAt } from '../../xml/path.ts';
import type { Tree } from '../../xml/tree.ts';

/** What becomes of the donor's entries, and of the names in them. */
export interface Outcome {
  readonly carried: number;
  /** Entries, as nodes. */
  readonly changed: Iterable<number>;
  readonly leftOut: ReadonlyMap<number, unknown>;
  /** Whether a node stays behind. */
  readonly gone: (node: number) => boolean;
  /** Visits what goes over and needs something that is not there then. */
  readonly unmet: (needs: Needs, found: (need: Need) => void) => void;
}

/** Of the whole file or of a part: what stays behind is not there. */
export function outcomeOfPlan(tree: Tree, edits: Edits, ledger: Ledger): Outcome {
  const gone = withinAny(tree, [...edits.leftOut.keys()]);
  return {
    carried: ledger.carried,
    changed: ledger.changed.keys(),
    leftOut: ledger.leftOut,
    gone,
    unmet: (needs, found) =>
      needs.unmet(
        Uint8Array.from(needs.nodes, (node) => (gone(node) ? 0 : 1)),
        found,
      ),
  };
}

/**
 * Of a graft: what is needed comes along without a tick, what the receiver has as well is not missed, and of what both have
 * the receiver's own may stay.
 */
export function outcomeOfGraft(tree: Tree, units: Units, { account, loose }: Graft): Outcome {
  const { donor, goes } = account;
  const missed = new Set(loose.map(({ target }) => nodeAt(tree, target)));
  const gone = (node: number) => {
    const unit = units.of[node]!;
    // The outermost element is around everything, and always the receiver's own.
    const own = unit !== tree.root || node === tree.root;
    return !goes(node) || (own && unit !== -1 && donor.leftOut.has(unit));
  };
  return {
    carried: donor.carried,
    changed: donor.changed,
    leftOut: donor.leftOut,
    gone,
    unmet: (needs, found) => {
      const there = Uint8Array.from(needs.nodes, (node) => (missed.has(node) ? 0 : 1));
      needs.unmet(there, (need) => {
        if (need.kind === 'names' && !gone(need.from)) found(need);
      });
    },
  };
}
