import { kindFields } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import type { Reader } from '../names/tokens.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import type { Target } from '../references/references.ts';
import { isAddresses } from '../roles/role-signs.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';
import { fromPlace } from './made-devices.ts';
import { fromKin, fromMade } from './named-as-ports.ts';
import { areNumbersOfOne, isNumbered } from './numbered-names.ts';
import { osAggregate } from './os-names.ts';
import { addAll, explainedIn, fromRoles } from './role-devices.ts';

/**
 * Devices that no value gives away by itself, found from what the records name: the port that a tagged device names by
 * its key; the one field of a role that no other explains; the members of an aggregate. True where any was found.
 * @param tags fields that name VLANs by their numbers.
 */
export function linkDevices(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  structure: Structure,
  devices: Devices,
  portFields: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
  tags: ReadonlyMap<number, number>,
): boolean {
  const before = devices.bases.size;
  const byShape = new Map<number, FieldData[]>();
  const kinds = kindFields(fields);
  for (const field of fields) {
    if (kinds.has(field)) continue;
    const list = byShape.get(field.rowShape);
    if (list) list.push(field);
    else byShape.set(field.rowShape, [field]);
  }
  for (const { shape, parent } of devices.derivations) {
    if (parent !== null || devices.tabled) continue;
    for (const field of byShape.get(shape) ?? []) {
      for (const { key, odds } of targets[field.index]!) {
        if (odds < 0 || key.shape === shape) continue;
        const own = nameOfDevices(byShape.get(key.shape) ?? [], key.field, readers, devices);
        if (own) for (const token of readers[own.index]!.counts.tokens) devices.addBase(token);
      }
    }
  }
  // Where no record with an address, nor one that joins it with a tagged device, has a device yet, what is known of
  // devices are aggregates or taken for some by their look.
  const deriving = new Set(devices.derivations.map(({ shape }) => shape));
  const isTagged = (value: string) => devices.derived.has(value) || Boolean(devices.named.get(value)?.parent);
  const seated = fields.some(
    ({ index, rowShape, several, distinct }) =>
      portFields.has(index) &&
      !several &&
      rowShape !== -1 &&
      (byShape.get(rowShape)?.some(isAddresses) || (!deriving.has(rowShape) && distinct.some(isTagged))),
  );
  if (!devices.tabled) fromVlans(fields, readers, devices, byShape, targets, tags);
  if (!seated && !devices.tabled) fromRoles(fields, readers, keys, structure, devices, byShape, targets);
  fromAggregates(readers, devices, byShape, portFields, targets);
  const known = devices.named.size;
  fromKin(fields, devices, byShape, targets);
  fromMade(fields, devices, byShape, targets);
  fromPlace(readers, devices, byShape, targets, structure);
  return devices.bases.size > before || devices.named.size > known;
}

/** What records that others name by VLAN IDs have beside these: the port, by a numbered name that is no record's. */
function fromVlans(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  devices: Devices,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  targets: readonly (readonly Target[])[],
  tags: ReadonlyMap<number, number>,
): void {
  const vlans = new Map<number, FieldData>();
  for (const { index } of fields)
    for (const { key, odds } of targets[index]!)
      if (odds >= 0 && (key.vlans || tags.has(index))) vlans.set(key.shape, key.field);
  for (const [shape, id] of vlans) {
    const isPort = (field: FieldData) =>
      field !== id &&
      !field.several &&
      !field.tag &&
      isNumbered(field, readers, 2, (name) => devices.has(name)) &&
      explainedIn(targets[field.index]!) === 0;
    const found = (byShape.get(shape) ?? []).filter(isPort);
    if (found.length === 1) addAll(found[0]!, readers, devices);
  }
}

/**
 * The numbered names of records that others name by a key: rather known devices, and what they are not named by, than the key,
 * which may only count.
 */
function nameOfDevices(
  list: readonly FieldData[],
  key: FieldData,
  readers: readonly Reader[],
  devices: Devices,
): FieldData | undefined {
  const found = list.filter((other) => !other.several && isNumbered(other, readers));
  return found.find((own) => holdsDevices(own, devices)) ?? found.find((own) => own !== key) ?? found[0];
}

/**
 * Lists of numbered names in records that are called by a numbered name themselves and name nothing else. A name that
 * operating systems give aggregates is known as a device by itself.
 */
function fromAggregates(
  readers: readonly Reader[],
  devices: Devices,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  portFields: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
): void {
  if (devices.bases.size === 0) return;
  for (const [shape, list] of byShape) {
    if (shape === -1 || list.some(isAddresses)) continue;
    const called = list.filter(
      (field) =>
        !field.several &&
        field.distinct.every((value) => /^\p{L}+\d{1,2}$/u.test(value)) &&
        field.distinct.length === field.values.length &&
        (field.tag || !portFields.has(field.index) || field.distinct.every(osAggregate)),
    );
    if (called.length === 0) continue;
    if (list.some((field) => portFields.has(field.index) && !field.tag && !called.includes(field))) continue;
    const open = list.filter(
      (field) => !field.tag && !called.includes(field) && !targets[field.index]!.some(({ odds }) => odds >= 0),
    );
    const members = open.flatMap((field) => membersIn(field, readers) ?? []);
    if (members.length === 1) for (const token of members[0]!) devices.addBase(token);
  }
}

/** The numbered names that the values of a field list, also where nothing has told yet that they are lists. */
function membersIn(field: FieldData, readers: readonly Reader[]): [readonly string[]] | null {
  const { separator, counts } = readers[field.index]!;
  if (field.several || separator !== null)
    return counts.size >= 2 && isNumbered(field, readers) ? [counts.tokens] : null;
  const lists = field.distinct.map((value) => value.split(/[\s,;|]+/));
  return lists.every((list) => list.length > 1) && areNumbersOfOne(lists.flat()) ? [lists.flat()] : null;
}
