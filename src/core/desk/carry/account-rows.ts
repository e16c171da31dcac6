import type { Graft } from '../../carry/graft.ts';
import { compile } from '../../compile/compile.ts';
import { ledgerOf } from '../../compile/ledger.ts';
import { unitsOf } from '../../compile/units.ts';
import type { AccountRow } from '../../views.ts';
import type { OpenBackup } from '../backup/open.ts';
import { receiverView, standingOf } from '../graft/standing-views.ts';
import type { CarryView } from './carry-view.ts';

/**
 * What becomes of every entry of the donor and, for a graft, of every entry of the receiver: a row each, in the order of
 * the files, with the subjects of the decisions that did it.
 */
export function accountRows(
  view: CarryView,
  graft: { readonly made: Graft; readonly receiver: OpenBackup } | null,
): AccountRow[] {
  const { backup, reading } = view;
  const units = unitsOf(backup.tree, reading);
  const ledger = ledgerOf(backup.tree, units, compile(backup.tree, reading, view.plan, backup.fits).edits);
  const row = (
    of: CarryView,
    node: number,
    state: AccountRow['state'],
    by: readonly string[],
    standing: AccountRow['standing'] = null,
  ): AccountRow => ({
    file: of.backup.name,
    ...of.mark(node),
    state,
    by,
    standing,
  });
  if (!graft)
    return Array.from(units.nodes, (node) => {
      const owner = ledger.leftOut.get(node);
      if (owner !== undefined) return row(view, node, 'left-out', [owner]);
      const changed = ledger.changed.get(node);
      return changed ? row(view, node, 'changed', changed) : row(view, node, 'carried', []);
    });
  const { made, receiver } = graft;
  const { donor, receiver: books } = made.account;
  const own = receiverView(receiver);
  const standings = new Map(made.placed.map((one) => [one.from, standingOf(receiver, one)]));
  return [
    ...Array.from(units.nodes, (node) => {
      const stays = donor.leftOut.get(node);
      if (stays !== undefined) return row(view, node, stays, []);
      return donor.changed.has(node)
        ? row(view, node, 'changed', ledger.changed.get(node) ?? [], standings.get(node))
        : row(view, node, 'carried', [], standings.get(node));
    }),
    ...Array.from(unitsOf(receiver.backup.tree, receiver.reading).nodes, (node) =>
      row(own, node, books.removed.has(node) ? 'removed' : books.replaced.has(node) ? 'replaced' : 'kept', []),
    ),
  ];
}
