import { takesSectionsOnly } from '../../carry/graft-limits.ts';
import { kinship } from '../../carry/names.ts';
import { effective, requestOf } from '../../carry/part.ts';
import { indicesOf } from '../../carry/sorted.ts';
import { RECORD } from '../../compile/spread.ts';
import { newPart, type Plan } from '../../plan/plan.ts';
import type { Reading } from '../../reading/reading.ts';
import { hiddenSites } from '../../reading/secrets/hidden-sites.ts';
import { bad, type Result } from '../../trouble.ts';
import type {
  ClashView,
  GraftState,
  LedgerEntry,
  LedgerView,
  LooseView,
  PickView,
  ReceiverLedger,
  ReceiverMark,
} from '../../views.ts';
import { nodeAt, siteAt } from '../../xml/path.ts';
import { TEXT, valueAt } from '../../xml/site.ts';
import { nameOf } from '../../xml/tree.ts';
import { nodePlace, type OpenBackup, placeOf } from '../backup/open.ts';
import type { CarryTree } from '../carry/carry-tree.ts';
import { carryTree } from '../carry/carry-tree.ts';
import type { CarryView } from '../carry/carry-view.ts';
import { leavesOf } from '../carry/record-values.ts';
import { type BuiltGraft, buildGraft, planGraft } from './build-graft.ts';
import { standingViews } from './standing-views.ts';

/** How many differences of a clash, clashes and loose ends are told one by one. */
const DIFFERENCES = 12;
const LISTED = 500;

/** What the graft that a plan asks for would do. */
export type Planned = ReturnType<typeof planGraft>;

/** Plans the graft of a plan; the view's own plan may be another, see `effective`. */
export function graftOf(donor: OpenBackup, plan: Plan, receiver: OpenBackup): Planned {
  const request = requestOf(plan.part ?? newPart);
  if (request.picks.length === 0) return bad({ code: 'graft-nothing-picked' });
  return planGraft(donor, effective(donor.backup.tree, donor.reading, plan), receiver, request);
}

export function builtGraft(donor: OpenBackup, plan: Plan, receiver: OpenBackup): Result<BuiltGraft> {
  const request = requestOf(plan.part ?? newPart);
  if (request.picks.length === 0) return bad({ code: 'graft-nothing-picked' });
  return buildGraft(donor, effective(donor.backup.tree, donor.reading, plan), receiver, request);
}

export function receiverMark(donor: OpenBackup, { backup, reading }: OpenBackup): ReceiverMark {
  const kin = kinship(donor.backup.tree, backup.tree);
  return {
    name: backup.name,
    host: reading.about.host,
    root: nameOf(backup.tree, backup.tree.root),
    entries: carryTree(backup.tree, reading).units.nodes.length,
    kin,
    sectionsOnly: takesSectionsOnly(kin),
    same: backup.hash === donor.backup.hash,
  };
}

/** A planned graft for the page: questions, loose ends, what comes along, and the receiver's account. */
export function graftState(view: CarryView, plan: Plan, receiver: OpenBackup, planned: Planned): GraftState {
  const donor = { backup: view.backup, reading: view.reading };
  const mark = receiverMark(donor, receiver);
  if (!planned.ok) return { state: 'refused', receiver: mark, trouble: planned.trouble };
  const { clashes, loose, placed, account } = planned.value;
  const part = plan.part ?? newPart;
  const { tree } = view.backup;
  const namers = namersOf(view.reading);
  return {
    state: 'ready',
    receiver: mark,
    picks: requestOf(part)
      .picks.slice(0, LISTED)
      .flatMap(({ id, mode }): PickView[] => {
        const row = view.row(id);
        const section = row?.section === row?.name ? '' : row!.section;
        return row ? [{ path: id, name: row.name, section, mode, spread: id.endsWith(RECORD) }] : [];
      }),
    picksTotal: requestOf(part).picks.length,
    clashes: clashes.slice(0, LISTED).map((clash): ClashView => {
      const node = nodeAt(tree, clash.from);
      const differs = differences(view, receiver, node, nodeAt(receiver.backup.tree, clash.to));
      return {
        path: clash.from,
        mark: { ...view.mark(node), path: clash.from },
        key: clash.key,
        answer: clash.answer,
        asked: part.answers[clash.from] === undefined,
        newKey: clash.newKey,
        choices: clash.choices,
        namedBy: namers.get(node) ?? 0,
        differs: differs.slice(0, DIFFERENCES),
        differsTotal: differs.length,
      };
    }),
    loose: loose.slice(0, LISTED).map((one): LooseView => {
      const site = siteAt(tree, one.path)!;
      const target = nodeAt(tree, one.target);
      return {
        record: view.mark(site.node),
        value: one.value,
        target: view.mark(target).name,
        place: placeOf(view.backup, site),
      };
    }),
    standings: standingViews(view, receiver, placed),
    along:
      part.withNeeds && !mark.sectionsOnly
        ? alongOf(
            view,
            requestOf(part).picks.map(({ id }) => id),
            account.added,
          )
        : [],
    ledger: receiverLedger(account),
    stays: receiver.reading.boxBound.length,
  };
}

type Account = (Planned & { ok: true })['value']['account'];

const receiverLedger = ({ receiver }: Account): ReceiverLedger => ({
  records: receiver.entries,
  kept: receiver.kept,
  replaced: receiver.replaced.size,
  removed: receiver.removed.size,
  added: receiver.added,
  balances: receiver.balances,
});

export const receiverLedgerOf = (planned: Planned): ReceiverLedger | null =>
  planned.ok ? receiverLedger(planned.value.account) : null;

/** The donor's account under a graft, told like that of the whole file. */
export function graftLedger(view: CarryView, planned: Planned): LedgerView | null {
  if (!planned.ok) return null;
  const { donor } = planned.value.account;
  const entry = (node: number, state: LedgerEntry['state'], decisions: readonly string[]): LedgerEntry => ({
    path: nodePlace(view.backup, node).path,
    line: nodePlace(view.backup, node).line,
    name: view.mark(node).name,
    section: view.mark(node).section,
    state,
    decisions,
    places: state === 'changed' ? 1 : 0,
  });
  const entries = [
    ...[...donor.changed].map((node) => [node, entry(node, 'changed', [])] as const),
    ...[...donor.leftOut].map(([node, why]) => [node, entry(node, 'left-out', [why])] as const),
  ];
  return {
    records: donor.entries,
    carried: donor.carried,
    changed: donor.changed.size,
    leftOut: donor.leftOut.size,
    added: 0,
    balances: donor.balances && planned.value.account.receiver.balances,
    entries: entries.sort((a, b) => a[0] - b[0]).map(([, made]) => made),
  };
}

/** Records that come along since something that is ticked needs them and the receiver lacks them. */
function alongOf(view: CarryView, ids: readonly string[], added: ReadonlySet<number>) {
  const { needs } = view;
  const own = new Uint8Array(needs.nodes.length);
  for (const id of ids) {
    const flags = view.entriesOf(id);
    for (const entry of indicesOf(flags)) own[entry] = 1;
  }
  return needs
    .toTakeAlong(own)
    .filter((node) => needs.entriesAt(node).some((entry) => added.has(needs.nodes[entry]!)))
    .slice(0, LISTED)
    .map((node) => view.mark(node));
}

function namersOf(reading: Reading): Map<number, number> {
  const counts = new Map<number, number>();
  for (const { to, tier } of reading.references) if (tier !== 'possible') counts.set(to, (counts.get(to) ?? 0) + 1);
  return counts;
}

/** Values that two records do not have alike, by their names. */
function differences(view: CarryView, receiver: OpenBackup, from: number, to: number): ClashView['differs'] {
  const theirs = valuesOf(receiver, carryTree(receiver.backup.tree, receiver.reading), to);
  const ours = valuesOf(view, view.tree, from);
  const names = new Set([...ours.keys(), ...theirs.keys()]);
  const list: ClashView['differs'][number][] = [];
  for (const name of names) {
    const [one, other] = [ours.get(name), theirs.get(name)];
    if (one?.value === other?.value) continue;
    const secret = Boolean(one?.secret || other?.secret);
    const told = (side: typeof one) => (side ? (secret ? '' : side.value.slice(0, 120)) : null);
    list.push({ name, from: told(one), to: told(other), secret });
  }
  return list;
}

/** Values of a record by their names; a name that comes again gets its number. */
function valuesOf(side: OpenBackup, rows: CarryTree, node: number): Map<string, { value: string; secret: boolean }> {
  const { tree } = side.backup;
  const secrets = hiddenSites(tree, side.reading);
  const values = new Map<string, { value: string; secret: boolean }>();
  const seen = new Map<string, number>();
  const leaves =
    rows.units.of[node] === node
      ? leavesOf(tree, rows, node, false, true)
      : [{ site: { node, attr: TEXT }, name: nameOf(tree, node) }];
  for (const { site, name } of leaves) {
    const label = name || nameOf(tree, node);
    const times = (seen.get(label) ?? 0) + 1;
    seen.set(label, times);
    values.set(times > 1 ? `${label} ${times}` : label, {
      value: valueAt(tree, site).trim(),
      secret: secrets.has(site.node, site.attr),
    });
  }
  return values;
}
