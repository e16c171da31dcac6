import { type Compiled, compile, withinAny } from '../../compile/compile.ts';
import { sectionPath } from '../../compile/leave-out.ts';
import { type Ledger, ledgerOf } from '../../compile/ledger.ts';
import { portClashes } from '../../compile/rename-ports.ts';
import { DeviceIndex, type RoleSeat, seatsOf } from '../../compile/seats.ts';
import { type Units, unitsOf } from '../../compile/units.ts';
import { hiddenSpans, redacted, redactedPatch } from '../../handover/redact.ts';
import { type Plan, renamesOf } from '../../plan/plan.ts';
import { recordLists } from '../../reading/keys/record-lists.ts';
import { recordName } from '../../reading/keys/record-name.ts';
import { sectionIndex } from '../../reading/keys/sections.ts';
import type { Reading } from '../../reading/reading.ts';
import type { ChangeView, LedgerEntry, LedgerView, PlanView, PortState, RoleState, SectionState } from '../../views.ts';
import { pathOf } from '../../xml/path.ts';
import { nameOf, type Tree } from '../../xml/tree.ts';
import { type Backup, nodePlace, placeOf } from '../backup/open.ts';
import { type Circumstances, findingsOf } from './findings.ts';

/** Longest text that a row of the change list shows, in units. */
const ROW = 240;

export type { Circumstances };

/** Everything that follows from one plan for one backup. */
export function planView(backup: Backup, reading: Reading, plan: Plan, circumstances: Circumstances = {}): PlanView {
  const { tree } = backup;
  const compiled = compile(tree, reading, plan, backup.fits);
  const units = unitsOf(tree, reading);
  const ledger = ledgerOf(tree, units, compiled.edits);
  const names = recordNames(tree, reading);
  const sectionOf = sectionIndex(tree, reading.sections);
  const sectionName = (node: number) => reading.sections[sectionOf(node)]?.name ?? '';
  const seats = seatsOf(tree, reading, plan);
  return {
    troubles: compiled.troubles,
    sections: sectionStates(tree, reading, units, ledger, compiled),
    ports: portStates(reading, plan),
    roles: roleStates(tree, reading, plan, seats, compiled),
    ledger: ledgerView(backup, ledger, names, sectionName, compiled),
    ...findingsOf(backup, reading, plan, compiled, names, circumstances),
    clock: circumstances.now ?? null,
    changes: changeViews(backup, reading, compiled, sectionName),
  };
}

type Names = (node: number) => string;

/** Names of records by node; anything else is called by its tag. */
function recordNames(tree: Tree, reading: Reading): Names {
  const lists = recordLists(reading);
  return (node) => {
    const collection = lists.of(node);
    return collection ? recordName(tree, collection, node) : nameOf(tree, node);
  };
}

function sectionStates(
  tree: Tree,
  reading: Reading,
  units: Units,
  ledger: Ledger,
  { edits }: Compiled,
): SectionState[] {
  const sectionOf = sectionIndex(tree, reading.sections);
  const sums = reading.sections.map(() => ({ carried: 0, changed: 0, leftOut: 0 }));
  for (const node of units.nodes) {
    const sum = sums[sectionOf(node)];
    if (sum) sum[ledger.leftOut.has(node) ? 'leftOut' : ledger.changed.has(node) ? 'changed' : 'carried']++;
  }
  return reading.sections.map((section, at) => ({
    path: sectionPath(tree, section),
    ...sums[at]!,
    ticked: section.nodes.some((node) => !edits.leftOut.has(node)),
  }));
}

function portStates(reading: Reading, plan: Plan): PortState[] {
  const renames = renamesOf(plan);
  const ports = new Set(reading.mentions.map(({ port }) => port));
  const clashes = new Map(portClashes(ports, renames).map(({ to, from }) => [to, from]));
  return [...ports].map((from) => {
    const to = renames.get(from) ?? from;
    return { from, to, clashes: (clashes.get(to) ?? []).filter((other) => other !== from) };
  });
}

function roleStates(
  tree: Tree,
  reading: Reading,
  plan: Plan,
  seats: readonly RoleSeat[],
  { edits }: Compiled,
): RoleState[] {
  const devices = new DeviceIndex(reading, renamesOf(plan));
  const addedBy = new Map(
    edits.added.flatMap(({ device, owners }) =>
      device === null ? [] : owners.map((owner) => [owner, device] as const),
    ),
  );
  // A role that is the record of a tagged device takes its device along.
  const taggingOf = new Map(
    reading.tagging.flatMap((tagging) => tagging.records.map(({ node }) => [node, tagging] as const)),
  );
  const gone = withinAny(tree, [...edits.leftOut.keys()]);
  return seats.map(({ role, seat, owner }) => {
    const own = taggingOf.get(role.node);
    const adds = (owner !== null && addedBy.get(owner)) || null;
    const known = seat.on === 'tag' ? devices.tagged(seat.port, seat.tag) : seat.on === 'port' ? seat.port : null;
    return {
      path: pathOf(tree, role.node),
      seat,
      device:
        known !== null
          ? devices.renamed(known)
          : own && seat.on === 'tag'
            ? devices.composed(own, seat.port, seat.tag)
            : adds,
      moved: owner !== null,
      goes: !gone(role.node),
      adds,
    };
  });
}

function ledgerView(backup: Backup, ledger: Ledger, names: Names, sectionName: Names, { edits }: Compiled): LedgerView {
  const places = new Map<number, number>();
  const units = [...ledger.changed.keys()];
  const count = (node: number) => places.set(node, (places.get(node) ?? 0) + 1);
  const unitOf = unitFinder(backup.tree, units);
  for (const { site } of edits.values.values()) count(unitOf(site.node));
  for (const node of edits.tags.keys()) count(unitOf(node));
  for (const node of edits.attributes?.keys() ?? []) count(unitOf(node));
  for (const { device, after } of edits.added) if (device === null) count(unitOf(backup.tree.parent[after]!));
  const entry = (node: number, state: LedgerEntry['state'], decisions: readonly string[]): LedgerEntry => ({
    path: pathOf(backup.tree, node),
    line: backup.lines.at(backup.tree.start[node]!).line,
    name: names(node),
    section: sectionName(node),
    state,
    decisions,
    places: places.get(node) ?? 0,
  });
  const entries = [
    ...units.map((node) => [node, entry(node, 'changed', ledger.changed.get(node)!)] as const),
    ...[...ledger.leftOut].map(([node, owner]) => [node, entry(node, 'left-out', [owner])] as const),
  ];
  entries.sort((a, b) => a[0] - b[0]);
  return {
    records: ledger.units,
    carried: ledger.carried,
    changed: ledger.changed.size,
    leftOut: ledger.leftOut.size,
    added: ledger.added,
    balances: ledger.balances,
    entries: entries.map(([, made]) => made),
  };
}

/** A function from a node to the nearest of the given nodes around it, itself included; -1 for none. */
function unitFinder(tree: Tree, units: readonly number[]): (node: number) => number {
  const known = new Set(units);
  return (node) => {
    let at = node;
    while (at !== -1 && !known.has(at)) at = tree.parent[at]!;
    return at;
  };
}

function changeViews(backup: Backup, reading: Reading, compiled: Compiled, sectionName: Names): ChangeView[] {
  const { tree } = backup;
  if (compiled.patches.patches.length === 0) return [];
  const spans = hiddenSpans(tree, reading);
  const text = (start: number, end: number) => {
    const shown = redacted(tree.text, spans, start, Math.min(end, start + ROW));
    return end - start > ROW ? `${shown}…` : shown;
  };
  const changes: ChangeView[] = [];
  for (const [node, decision] of compiled.edits.leftOut) {
    changes.push({
      kind: 'left-out',
      place: nodePlace(backup, node),
      before: text(tree.start[node]!, tree.end[node]!),
      after: null,
      decision,
      section: sectionName(node),
    });
  }
  const sites = [
    ...[...compiled.edits.values.values()].map(({ site, owners }) => ({ site, owners })),
    ...[...compiled.edits.tags].map(([node, { owner }]) => ({ site: { node, attr: -1 }, owners: [owner] })),
  ];
  for (const { site, owners } of sites) {
    const { node, attr } = site;
    const tag = attr === -1 && compiled.edits.tags.has(node);
    const start = attr >= 0 ? tree.attrStart[attr]! : tree.start[node]!;
    const end = attr >= 0 ? tree.valueEnd[attr]! + 1 : tag ? tree.openEnd[node]! : tree.end[node]!;
    changes.push({
      kind: owners.some((owner) => owner.startsWith('move-role')) ? 'move' : 'rename',
      place: placeOf(backup, site),
      before: text(start, end),
      after: patched(backup, compiled, spans, start, end),
      decision: owners.join(' + '),
      section: sectionName(node),
    });
  }
  const added = new Map(compiled.edits.added.map(({ after, device }) => [after, device === null]));
  const insertions = [
    ...[...added].map(([node, isField]) => ({ node, at: tree.end[node]!, kind: isField ? 'move' : 'added' }) as const),
    ...[...(compiled.edits.attributes?.keys() ?? [])].map((node) => ({ node, at: -1, kind: 'move' }) as const),
  ];
  for (const { node, at, kind } of insertions) {
    const [from, to] = at === -1 ? [tree.start[node]!, tree.openEnd[node]!] : [at, at];
    const patch = compiled.patches.within(from, to).find(({ start, end }) => start === end);
    if (!patch) continue;
    const made = patch.text.trim();
    changes.push({
      kind,
      place: nodePlace(backup, node),
      before: '',
      after: made.length > ROW ? `${made.slice(0, ROW)}…` : made,
      decision: patch.owner,
      section: sectionName(node),
    });
  }
  return changes.sort((a, b) => a.place.start - b.place.start);
}

/** The units [start, end) of the original as they come out. */
function patched({ tree }: Backup, { patches }: Compiled, spans: Int32Array, start: number, end: number): string {
  let out = '';
  let at = start;
  for (const patch of patches.within(start, end)) {
    out += redacted(tree.text, spans, at, patch.start) + redactedPatch(spans, patch);
    at = patch.end;
  }
  return (out + redacted(tree.text, spans, at, end)).slice(0, ROW);
}
