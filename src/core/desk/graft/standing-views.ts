import type { Placed } from '../../carry/graft.ts';
import { ruleOrderOf } from '../../checks/rules/rule-order.ts';
import { unitsOf } from '../../compile/units.ts';
import { emptyPlan } from '../../plan/plan.ts';
import type { Standing, StandingList, StandingViews } from '../../views.ts';
import { pathOf } from '../../xml/path.ts';
import { elementsOf, nameOf } from '../../xml/tree.ts';
import type { OpenBackup } from '../backup/open.ts';
import { CarryView } from '../carry/carry-view.ts';

/** How many records, and how many places in one list, are told one by one. */
const LISTED = 500;
const PLACES = 400;

const views = new WeakMap<OpenBackup['reading'], CarryView>();

/** The receiver by itself, for the names of its records. */
export function receiverView({ backup, reading }: OpenBackup): CarryView {
  let view = views.get(reading);
  if (!view) {
    view = new CarryView(backup, reading, emptyPlan);
    views.set(reading, view);
  }
  return view;
}

/** Why a record stands where it comes to stand. */
export function standingOf(receiver: OpenBackup, { reason, beside }: Placed): Standing {
  return { reason, beside: beside === -1 ? '' : receiverView(receiver).mark(beside).name };
}

/** Where the records that are put in come to stand among the receiver's, those first whose place decides what applies. */
export function standingViews(view: CarryView, receiver: OpenBackup, placed: readonly Placed[]): StandingViews {
  const { tree } = receiver.backup;
  const own = receiverView(receiver);
  const units = unitsOf(view.backup.tree, view.reading);
  const ours = ruleOrderOf(view.reading).rules;
  const theirs = ruleOrderOf(receiver.reading).rules;
  const records = placed.filter(({ from }) => units.of[from] === from);
  const matters = ({ from, beside }: Placed) => ours.has(from) || theirs.has(beside);
  const shown = [...records.filter(matters), ...records.filter((one) => !matters(one))].slice(0, LISTED);
  const lists: StandingList[] = [];
  const listOf = new Map<string, number>();
  return {
    total: records.length,
    standings: shown.map((one) => {
      const name = one.beside === -1 ? '' : nameOf(tree, one.beside);
      const key = `${one.inside} ${name}`;
      let list = listOf.get(key);
      if (list === undefined) {
        list = lists.length;
        listOf.set(key, list);
        const kin = [...elementsOf(tree, one.inside)];
        const alike = kin.filter((node) => nameOf(tree, node) === name);
        const places = alike.length > 1 ? alike : kin;
        lists.push({
          start: pathOf(tree, one.inside),
          places: places.slice(0, PLACES).map((node) => ({ path: pathOf(tree, node), name: own.mark(node).name })),
          total: places.length,
        });
      }
      return {
        record: view.mark(one.from),
        ...standingOf(receiver, one),
        behind: one.behind === -1 ? pathOf(tree, one.inside) : pathOf(tree, one.behind),
        behindName: one.behind === -1 ? '' : own.mark(one.behind).name,
        matters: matters(one),
        list,
      };
    }),
    lists,
  };
}
