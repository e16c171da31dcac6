import {
  accountRows,
  type BuildView,
  boxBoundList,
  builtGraft,
  CarryView,
  carryDetail,
  carryWindow,
  certificateList,
  compareGraft,
  effective,
  fit,
  fitView,
  formAt,
  graftChanges,
  graftLedger,
  graftOf,
  graftState,
  type LedgerView,
  lackingList,
  newPart,
  type OpenBackup,
  openBackup,
  type Plan,
  type Planned,
  planTrouble,
  readMeaning,
  receiverFromBackup,
  receiverLedgerOf,
  receiverMark,
  resultOf,
  sealed,
  tickRows,
  valueHint,
} from '../core/index.ts';
import type { CarryDesk } from './carry-protocol.ts';

type BuiltPart = Pick<BuildView, 'verdict' | 'ledger' | 'receiver'> & {
  readonly bytes: Uint8Array<ArrayBuffer> | null;
};

/** The carry sheet's side of the worker. Views are made once for a plan, however many rows are asked for. */
export function newCarryDesk(donorOf: (plan: Plan) => OpenBackup) {
  let receiver: OpenBackup | null = null;
  let seen: { readonly key: string; readonly donor: OpenBackup['reading']; readonly view: CarryView } | null = null;
  let grafted: { readonly made: Planned; readonly view: CarryView } | null = null;
  let planned: { readonly key: string; readonly view: CarryView; readonly made: Planned } | null = null;

  const viewOf = (plan: Plan): CarryView => {
    const donor = donorOf(plan);
    const said = effective(donor.backup.tree, donor.reading, plan);
    const key = JSON.stringify(said.decisions);
    if (seen?.key !== key || seen.donor !== donor.reading)
      seen = { key, donor: donor.reading, view: new CarryView(donor.backup, donor.reading, said) };
    return seen.view;
  };
  const plannedOf = (plan: Plan, into: OpenBackup): Planned => {
    const view = viewOf(plan);
    const key = JSON.stringify(plan.part ?? newPart);
    if (planned?.key !== key || planned.view !== view)
      planned = { key, view, made: graftOf(donorOf(plan), plan, into) };
    return planned.made;
  };
  /** As the graft would make it, where one is asked for and can be made. */
  const outcomeOf = (plan: Plan): CarryView => {
    const into = asked(plan);
    const view = viewOf(plan);
    const made = into && plannedOf(plan, into);
    if (!made?.ok) return view;
    if (grafted?.made !== made)
      grafted = { made, view: new CarryView(view.backup, view.reading, view.plan, made.value) };
    return grafted.view;
  };
  const asked = (plan: Plan): OpenBackup | null => (resultOf(plan) === 'graft' ? receiver : null);

  const calls: CarryDesk = {
    async carryWindow(plan, query) {
      return carryWindow(outcomeOf(plan), query);
    },
    async carryLists(plan, box) {
      const view = outcomeOf(plan);
      const into = asked(plan);
      const ports = into ? into.reading.ports.map(({ name }) => name) : (box?.ports ?? []).map(({ name }) => name);
      const roles = into ? into.reading.roles.map(({ name }) => name) : null;
      return {
        summary: view.summary,
        boxBound: boxBoundList(view),
        certificates: certificateList(viewOf(plan)),
        lacking: ports.length === 0 ? null : lackingList(view, { ports, roles }),
        has: { ports, roles: roles ?? [] },
      };
    },
    async carryDetail(plan, id) {
      return carryDetail(outcomeOf(plan), id);
    },
    async tick(plan, ids, carried, withNeeds) {
      const { backup, reading } = donorOf(plan);
      const along =
        carried && withNeeds
          ? ids.flatMap((id) =>
              viewOf(plan)
                .missing(id)
                .map(({ path }) => path),
            )
          : [];
      return tickRows(backup.tree, reading, plan, [...ids, ...along], carried);
    },
    async tryValue(plan, path, value) {
      const { backup, reading } = donorOf(plan);
      return {
        hint: valueHint(backup, reading, path, value),
        form: formAt(backup, path, value),
        trouble: planTrouble(backup, reading, { kind: 'set-value', path, value }),
      };
    },
    async receive(bytes, name, progress) {
      planned = null;
      grafted = null;
      if (bytes === null) {
        receiver = null;
        return { ok: true, value: null };
      }
      const read = openBackup(new Uint8Array(bytes), name, (done, total) => progress('reading', done, total));
      if (!read.ok) return read;
      const { tree } = read.value;
      const reading = readMeaning(tree, { progress: (done, total) => progress('meaning', done, total) });
      receiver = { backup: read.value, reading };
      const box = receiverFromBackup(tree, reading, name);
      const mark = receiverMark(donorOf({ file: null, decisions: [] }), receiver);
      return { ok: true, value: { mark, box: box.ok ? box.value : null } };
    },
    async graft(plan) {
      if (!receiver) return { state: 'no-receiver' };
      return graftState(viewOf(plan), plan, receiver, plannedOf(plan, receiver));
    },
    async account(plan) {
      if (resultOf(plan) !== 'graft') return accountRows(viewOf(plan), null);
      const made = receiver && plannedOf(plan, receiver);
      return made?.ok ? accountRows(viewOf(plan), { made: made.value, receiver: receiver! }) : null;
    },
    async graftChanges(plan) {
      const into = asked(plan);
      const made = into && plannedOf(plan, into);
      return made?.ok ? graftChanges(donorOf(plan), into!, made.value) : null;
    },
    async compareGraft(plan, section, limit) {
      const into = asked(plan);
      const made = into && plannedOf(plan, into);
      return made?.ok ? compareGraft(donorOf(plan), into!, made.value, section, limit) : null;
    },
    async fit(plan) {
      const { backup, reading } = donorOf(plan);
      const met = fit(plan, backup, reading);
      return fitView(viewOf({ ...met.plan, file: null }), met);
    },
    async seal(plan) {
      const { backup, reading } = donorOf(plan);
      return sealed(plan, backup, reading);
    },
  };

  return {
    calls,
    /** The donor's account under the graft that a plan asks for; null where it asks for none, or it cannot be made. */
    ledgerOf(plan: Plan): LedgerView | null {
      const into = asked(plan);
      return into && graftLedger(viewOf(plan), plannedOf(plan, into));
    },
    /** Paths of the references that a graft leaves without a target; null where a plan asks for no graft. */
    looseOf(plan: Plan): ReadonlySet<string> | null {
      const into = asked(plan);
      const made = into && plannedOf(plan, into);
      return made?.ok ? new Set(made.value.loose.map(({ path }) => path)) : null;
    },
    /** The graft as a result; null where a plan asks for none. Without a receiver it cannot be made. */
    buildOf(plan: Plan, ledger: LedgerView): BuiltPart | null {
      if (resultOf(plan) !== 'graft') return null;
      const refused = (trouble: Extract<Planned, { ok: false }>['trouble']): BuiltPart => ({
        bytes: null,
        verdict: { agrees: false, trouble },
        ledger,
        receiver: null,
      });
      if (!receiver) return refused({ code: 'graft-no-receiver' });
      const built = builtGraft(donorOf(plan), plan, receiver);
      if (!built.ok) return refused(built.trouble);
      const { bytes, elements, graft } = built.value;
      return {
        bytes,
        verdict: { agrees: true, elements },
        ledger: graftLedger(viewOf(plan), { ok: true, value: graft }) ?? ledger,
        receiver: receiverLedgerOf({ ok: true, value: graft }),
      };
    },
    receiverName: () => receiver?.backup.name ?? null,
    said: (plan: Plan): Plan => viewOf(plan).plan,
  };
}
