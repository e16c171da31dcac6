import { sectionPath } from '../../compile/leave-out.ts';
import { seatsOf } from '../../compile/seats.ts';
import { type Units, unitsOf } from '../../compile/units.ts';
import { emptyPlan, type Seat } from '../../plan/plan.ts';
import { listOf } from '../../reading/keys/collections.ts';
import { recordLists } from '../../reading/keys/record-lists.ts';
import { recordName } from '../../reading/keys/record-name.ts';
import { sectionIndex } from '../../reading/keys/sections.ts';
import type { Reading } from '../../reading/reading.ts';
import type { BackupView, CollectionView, FieldView, RoleView, SectionView } from '../../views.ts';
import { nameOf } from '../../xml/tree.ts';
import { followViews } from './dependents.ts';
import { type Backup, nodePlace } from './open.ts';
import { addressIn } from './record-address.ts';

const SAMPLES = 3;

/** What the page shows of a backup before anything is decided. */
export function backupView(backup: Backup, reading: Reading): BackupView {
  const { tree, decoded } = backup;
  const sectionOf = sectionIndex(tree, reading.sections);
  const units = unitsOf(tree, reading);
  return {
    name: backup.name,
    bytes: backup.size,
    lines: backup.lines.count,
    encoding: decoded.encoding,
    bom: decoded.bom,
    root: nameOf(tree, tree.root),
    hash: backup.hash,
    about: reading.about,
    standard: reading.standard,
    roles: roleViews(backup, reading, units, sectionOf),
    ports: portViews(reading),
    sections: sectionViews(backup, reading, units, sectionOf),
    collections: collectionViews(backup, reading, sectionOf),
    fields: fieldViews(backup, reading),
    records: units.nodes.length,
    references: reading.references.length,
  };
}

type SectionOf = (node: number) => number;

function sectionViews(backup: Backup, reading: Reading, units: Units, sectionOf: SectionOf): SectionView[] {
  const count = (nodes: Iterable<number>) => {
    const counts = new Int32Array(reading.sections.length);
    for (const node of nodes) if (sectionOf(node) >= 0) counts[sectionOf(node)]!++;
    return counts;
  };
  const secrets = count(reading.secrets.map(({ site }) => site.node));
  const boxBound = count(reading.boxBound.map(({ node }) => node));
  const records = count(units.nodes);
  return reading.sections.map((section, at) => ({
    path: sectionPath(backup.tree, section),
    name: section.name,
    records: records[at]!,
    size: section.size,
    secrets: secrets[at]!,
    boxBound: boxBound[at]!,
    place: nodePlace(backup, section.node),
  }));
}

function roleViews(backup: Backup, reading: Reading, units: Units, sectionOf: SectionOf): RoleView[] {
  const { tree } = backup;
  const portOf = new Map<number, string>();
  for (const { node, port } of reading.bindings) if (!portOf.has(node)) portOf.set(node, port);
  const lists = recordLists(reading);
  const followers = new Map<number, number[]>();
  const namedBy = new Map<number, Map<string, number>>();
  const roleNodes = new Set(reading.roles.map((role) => role.node));
  for (const { to, site, tier } of reading.references) {
    if (!roleNodes.has(to)) continue;
    const section = reading.sections[sectionOf(site.node)]?.name ?? '';
    const counts = namedBy.get(to) ?? new Map<string, number>();
    counts.set(section, (counts.get(section) ?? 0) + 1);
    namedBy.set(to, counts);
    const unit = units.of[site.node]!;
    const follower = unit === -1 ? site.node : unit;
    if (tier === 'possible' || (follower >= to && follower < tree.after[to]!)) continue;
    const known = followers.get(to);
    if (known) known.push(follower);
    else followers.set(to, [follower]);
  }
  const seats = seatsOf(tree, reading, emptyPlan);
  return reading.roles.map((role, at) => ({
    name: role.name,
    label: role.label,
    port: portOf.get(role.node) ?? null,
    tag: tagBeside(seats[at]!.seat, portOf.get(role.node)),
    address: addressIn(tree, role.node),
    namedBy: [...(namedBy.get(role.node) ?? [])].map(([section, count]) => ({ section, count })),
    follows: followViews(backup, lists, followers.get(role.node) ?? []),
    place: nodePlace(backup, role.node),
  }));
}

/** The VLAN ID of a seat that is told by it and the port. */
const tagBeside = (seat: Seat, port: string | undefined): number | null =>
  seat.on === 'tag' && seat.port === port ? seat.tag : null;

function portViews(reading: Reading): BackupView['ports'] {
  const mentions = new Map<string, number>();
  const add = (name: string) => mentions.set(name, (mentions.get(name) ?? 0) + 1);
  for (const mention of reading.mentions) {
    add(mention.value);
    if (mention.value !== mention.port) add(mention.port);
  }
  const roles = new Map<string, string[]>();
  for (const { role, port } of reading.bindings) roles.set(port, [...(roles.get(port) ?? []), role]);
  const aggregateOf = new Map(
    reading.aggregates.flatMap(({ device, members }) => members.map(({ port }) => [port, device] as const)),
  );
  return reading.ports.map(({ name, kind, parent, tag }) => ({
    name,
    kind,
    parent,
    tag,
    roles: roles.get(name) ?? [],
    mentions: mentions.get(name) ?? 0,
    partOf: aggregateOf.get(name) ?? null,
  }));
}

function collectionViews(backup: Backup, reading: Reading, sectionOf: SectionOf): CollectionView[] {
  const { tree } = backup;
  return reading.collections.map((collection) => ({
    list: listOf(tree, collection),
    inLines: collection.parts !== undefined,
    key: collection.key,
    count: collection.records.length,
    sample: collection.records.slice(0, SAMPLES).map((node) => recordName(tree, collection, node)),
    section: reading.sections[sectionOf(collection.records[0] ?? collection.parent)]?.name ?? '',
  }));
}

function fieldViews(backup: Backup, reading: Reading): FieldView[] {
  return reading.fields.map(({ template, name, tier, hits, total, evidence, targets }) => ({
    template,
    name,
    tier,
    hits,
    total,
    evidence,
    targets: [...new Set(targets.map((at) => listOf(backup.tree, reading.collections[at]!)))],
  }));
}
