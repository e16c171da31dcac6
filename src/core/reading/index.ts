import type { Tree } from '../xml/tree.ts';
import { Makers } from './box-bound/makers.ts';
import { holdingsOf, issuerFields } from './certificates/issuers.ts';
import { Corrections } from './corrections.ts';
import { readDetails } from './details.ts';
import type { Devices } from './devices/device-set.ts';
import { devicesOf } from './devices/devices.ts';
import { linkDevices } from './devices/linked-devices.ts';
import { mentionsOf } from './devices/mentions.ts';
import { numberedSockets } from './devices/numbered-sockets.ts';
import { portsOf } from './devices/port-kinds.ts';
import { portFieldsOf } from './devices/ports.ts';
import { switchesAmong } from './devices/switches.ts';
import { taggingOf } from './devices/tagging.ts';
import { composeRows } from './devices/unnamed-rows.ts';
import { composeUnnamed } from './devices/unnamed-tags.ts';
import { type FieldData, fieldsOf, valueTableOf } from './fields/fields.ts';
import { inventoriesAmong } from './fields/inventories.ts';
import { leafNamesOf } from './fields/leaf-names.ts';
import { profileOf } from './fields/profiles.ts';
import { SiteSet } from './fields/site-set.ts';
import { collectionsOf, withLabels } from './keys/collections.ts';
import { Contexts } from './keys/contexts.ts';
import type { KeyField, KeyTable } from './keys/key-table.ts';
import { keysOf } from './keys/keys.ts';
import { labelFieldsOf } from './keys/labels.ts';
import { sectionsOf } from './keys/sections.ts';
import { overlay, readKnown } from './known/index.ts';
import { HeldNames } from './names/held-names.ts';
import { Kinds, kindMarks } from './names/kind-marks.ts';
import { kindsBeside } from './names/kinds-beside.ts';
import { locationPaths } from './names/location-paths.ts';
import { learnOperators } from './names/operators.ts';
import { besideReader, markedReader, readerOf, separatorOf } from './names/tokens.ts';
import { loneNumbers } from './numbers/lone-numbers.ts';
import { objectNumbers } from './numbers/object-numbers.ts';
import { seatLinks } from './numbers/seat-numbers.ts';
import { tagLinks } from './numbers/vlan-ids.ts';
import { inOneShape } from './one-shape.ts';
import { type Outline, outlineOf } from './outline/outline.ts';
import type { Correction, Reading, Role } from './reading.ts';
import { linksOf } from './references/links.ts';
import { proofsOf } from './references/proofs.ts';
import { resolve } from './references/references.ts';
import { remarksOf } from './references/remarks.ts';
import { tierOf } from './references/score.ts';
import { addressedShapes } from './roles/addressed.ts';
import { type RoleKind, rolesOf } from './roles/roles.ts';
import { recordShapes, rowShapes } from './shapes/record-shapes.ts';
import { type Structure, structureOf } from './shapes/structure.ts';

export interface ReadingOptions {
  readonly corrections?: readonly Correction[];
  readonly progress?: (done: number, total: number) => void;
}

const STEPS = 8;

/**
 * What a document means: exactly for the part that is in a known format, and worked out from the document alone for the
 * rest. Corrections outweigh whatever is inferred.
 */
export function readMeaning(tree: Tree, options: ReadingOptions = {}): Reading {
  const known = readKnown(tree);
  const inferred = infer(tree, options, known?.ports.map(({ name }) => name) ?? []);
  const reading = known ? overlay(inferred, known) : inferred;
  const count = recordCounter(
    tree,
    reading.collections.map(({ records }) => records),
  );
  const sections = sectionsOf(tree, count, reading.collections, reading.captions, new SiteSet(reading.secrets));
  return inOneShape({ ...reading, sections });
}

/** @param knownPorts names of ports that are known already; free remarks are searched for them too. */
function infer(tree: Tree, options: ReadingOptions, knownPorts: readonly string[]): Reading {
  let done = 0;
  const step = () => options.progress?.(++done, STEPS);
  const outline = outlineOf(tree);
  step();
  const structure = structureOf(outline);
  const records = recordShapes(structure, outline);
  const rows = rowShapes(structure, records);
  const fields = fieldsOf(outline, structure, rows);
  step();
  const makers = new Makers(outline.values);
  const profiles = fields.map((field) => profileOf(field, makers));
  const leaf = leafNamesOf(fields, profiles);
  const corrections = new Corrections(options.corrections ?? [], structure, records);
  const above = (row: number) => rowAbove(outline, structure, records, row);
  const devices = devicesOf(fields, structure, above);
  corrections.applyToDevices(devices);
  const contexts = new Contexts(outline, structure);
  const keys = keysOf(fields, structure, records, profiles, devices, leaf, contexts, (shape) =>
    corrections.keyOf(shape),
  );
  addComposed(keys, devices, fields);
  const called = new Kinds(fields, structure, keys);
  const kinds = new Map([...kindMarks(fields, called), ...locationPaths(fields, structure, keys)]);
  const objects = objectNumbers(fields, outline, structure, keys);
  const beside = new Map([...objects.told, ...kindsBeside(fields, outline, structure, called, kinds)]);
  step();
  const isPort = (token: string) => devices.has(token) || devices.matchesPattern(token);
  const isTold = ({ index }: FieldData) => kinds.has(index) || beside.has(index);
  const held = new HeldNames(fields, keys, structure.shapeOf, above);
  const read = () => {
    const separators = fields.map((field) => (isTold(field) ? null : separatorOf(field, keys, isPort)));
    const operators = learnOperators(fields, separators, keys, isPort, kinds, held);
    return fields.map((field) => {
      const [marks, words] = [kinds.get(field.index), beside.get(field.index)];
      if (marks) return markedReader(field, marks);
      return words
        ? besideReader(field, words)
        : readerOf(field, separators[field.index]!, operators[field.index]!, keys);
    });
  };
  let readers = read();
  const switches = switchesAmong(fields, devices);
  step();
  let portFields = portFieldsOf(fields, readers, keys, structure, devices, switches);
  step();
  const holdings = holdingsOf(fields);
  const numbered = tagLinks(fields, readers, keys, structure, devices);
  loneNumbers(fields, readers, keys, structure);
  const seats = seatLinks(fields, readers, keys, structure, devices, numbered);
  const tags = new Map([...numbered, ...seats.vlans]);
  const proofs = proofsOf(issuerFields(holdings, fields, keys), tags, seats, kinds, beside);
  const nameless = new Set([...inventoriesAmong(fields, outline), ...objects.plain]);
  for (const { words } of beside.values()) nameless.add(words);
  const given = { fields, keys, structure, devices, leaf: leaf.names, proofs, switches, nameless };
  let targets = resolve({ ...given, readers });
  if (linkDevices(fields, readers, keys, structure, devices, portFields, targets, tags)) {
    readers = read();
    portFields = portFieldsOf(fields, readers, keys, structure, devices, switches);
    targets = resolve({ ...given, readers });
  }
  targets = corrections.applyToTargets(targets, fields, readers, keys);
  const placed = { above, shapeOf: structure.shapeOf, addressed: addressedShapes(fields, readers, structure, records) };
  composeRows(fields, readers, devices, portFields, targets);
  composeUnnamed(fields, readers, devices, portFields, targets, tags, placed);
  step();
  const roles = rolesOf(fields, readers, keys, devices, portFields, targets, placed);
  const named = new Set<number>();
  for (const list of targets) for (const { key, odds } of list) if (odds >= 0) named.add(key.shape);
  const isNamed = (shape: number) => named.has(shape);
  const collections = collectionsOf(outline, structure, records, keys, isNamed, (shape) => corrections.keyOf(shape));
  const links = linksOf({ tree, outline, structure, fields, readers, keys, devices, portFields, targets, collections });
  const sockets = numberedSockets(fields, readers, targets, portFields);
  const mentions = mentionsOf(tree, fields, readers, devices, portFields, sockets, targets);
  step();
  const sure = { references: links.references.filter(({ tier }) => tier !== 'possible'), dangling: links.dangling };
  const details = readDetails(outline, fields, { ...sure, mentions }, makers, holdings);
  step();
  const secrets = corrections.applyToSecrets(details.secrets, fields);
  const labels = labelFieldsOf(fields, keys, secrets, (field) => {
    const [top] = targets[field.index]!;
    return top !== undefined && tierOf(top.odds) === 'certain';
  });
  const labelOf = ({ shape }: RoleKind) => labels.get(shape) ?? null;
  const roleLabels = roles.kinds.flatMap((kind) => labelOf(kind) ?? []);
  const placing = { tree, outline, structure, fields, readers, keys, devices, portFields, targets, roles, roleLabels };
  const tagging = taggingOf(placing);
  const ports = portsOf({ mentions, ...tagging, devices, keys, outline, structure });
  return {
    sections: [],
    collections: withLabels(collections, labels, structure),
    roles: roles.kinds.flatMap((kind) => namedRoles(kind, labelOf(kind), outline)),
    ports,
    mentions,
    remarks: remarksOf(tree, fields, new Set([...knownPorts, ...ports.map(({ name }) => name)]), portFields),
    ...tagging,
    ...links,
    ...details,
    secrets,
    boxBound: corrections.applyToBoxBound(tree, details.boxBound, fields),
    captions: outline.captions,
    values: valueTableOf(outline, structure, records, fields, new Set(collections.ofShape.keys())),
    standard: null,
  };
}

/** The record around a node, -1 for none. */
function rowAbove({ parent }: Outline, { shapeOf }: Structure, records: readonly boolean[], node: number): number {
  let at = parent[node]!;
  while (at !== -1 && !records[shapeOf[at]!]) at = parent[at]!;
  return at;
}

/** A function that counts records between two nodes, from one pass over all of them. */
function recordCounter(tree: Tree, groups: readonly (readonly number[])[]): (from: number, to: number) => number {
  const before = new Int32Array(tree.size + 1);
  for (const group of groups) for (const node of group) before[node + 1]!++;
  for (let node = 0; node < tree.size; node++) before[node + 1]! += before[node]!;
  return (from, to) => before[to]! - before[from]!;
}

/** Names that others call a record by, made of its parts: one more key of its shape. */
function addComposed(keys: KeyTable, devices: Devices, fields: readonly FieldData[]): void {
  for (const { shape, name, tag } of devices.derivations) {
    const names = devices.composed.get(shape);
    if (name !== null || !names) continue;
    const key: KeyField = {
      index: keys.keys.length,
      field: fields[tag]!,
      shape,
      strength: 2.5,
      best: true,
      bestOfKind: true,
      kind: 'name',
      rows: names.size,
      scope: -1,
      vlans: false,
    };
    keys.add(key, [...names.keys()], [...names.values()]);
  }
}

/** The roles by their names, with what people read beside them. */
function namedRoles({ name }: RoleKind, label: FieldData | null, outline: Outline): Role[] {
  if (!name) return [];
  const labelOf = new Map(label && label !== name ? label.rows.map((row, at) => [row, label.values[at]!]) : []);
  return name.rows.map((row, at) => ({
    name: name.values[at]!,
    label: labelOf.get(row) ?? null,
    node: outline.element[row]!,
  }));
}
