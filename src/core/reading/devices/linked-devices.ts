import { kindFields } from '../fields/by-shape.ts';
import { type FieldData, isOneEach } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { patternOf } from '../names/literals.ts';
import type { Reader } from '../names/tokens.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import type { Target } from '../references/references.ts';
import { isAddresses } from '../roles/role-signs.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';
import { fromPlace } from './made-devices.ts';
import { fromKin, fromMade } from './named-as-ports.ts';
import { osAggregate } from './os-names.ts';
import { portNames } from './port-tables.ts';
import { CONSTANT } from './ports.ts';

/** A name that ends in a number, as devices have: `port 3`, `P1`, `0/4`, `1:2`, `jack07`, `p1-4`, `sfp+1`. */
const numbered =
  /^(?:\p{L}[\p{L}+.-]{0,14} ?\d{1,3}(?:[/.:-]\d{1,3})*|\p{L}[\p{L}-]*\d+(?:\p{L}+\d+)*|\d{1,2}(?:[/:]\d{1,3})+)$/u;

const capitals = /^\p{Lu}{2,5}$/u;

/**
 * Devices that no value gives away by itself, found from what the records name: the port that a tagged device names by
 * its key; the one field of a role that no other explains; the members of an aggregate. True where any was found.
 */
export function linkDevices(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  structure: Structure,
  devices: Devices,
  portFields: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
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
  const seated = fields.some(
    ({ index, rowShape, several, distinct }) =>
      portFields.has(index) &&
      !several &&
      rowShape !== -1 &&
      (byShape.get(rowShape)?.some(isAddresses) ||
        (!deriving.has(rowShape) && distinct.some((value) => devices.derived.has(value)))),
  );
  if (!seated && !devices.tabled) fromRoles(fields, readers, keys, structure, devices, byShape, targets);
  fromAggregates(readers, devices, byShape, portFields, targets);
  const known = devices.named.size;
  fromKin(fields, devices, byShape, targets);
  fromMade(fields, devices, byShape, targets);
  fromPlace(readers, devices, byShape, targets, structure);
  return devices.bases.size > before || devices.named.size > known;
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

/** @param forms how many forms the names may have. */
function isNumbered(field: FieldData, readers: readonly Reader[], forms = 2): boolean {
  let all = 0;
  let good = 0;
  let lone = 0;
  const patterns = new Set<string>();
  for (const token of readers[field.index]!.counts.tokens) {
    all++;
    if (!numbered.test(token)) {
      if (capitals.test(token)) lone++;
      continue;
    }
    good++;
    patterns.add(patternOf(token));
    if (all > 200) break;
  }
  // One of its kind has no number: `WAN` beside `LAN1`, `LAN2`.
  const named = lone <= 2 && good > lone * 2 ? good + lone : good;
  return all > 0 && named >= all * 0.8 && patterns.size <= Math.max(forms, all / 4);
}

/**
 * The records that are named most and have an address: their field of numbered names that names no other records and is
 * not what they are named by; else the numbered names of the records that such a field names, by name or by key.
 */
function fromRoles(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  structure: Structure,
  devices: Devices,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  targets: readonly (readonly Target[])[],
): void {
  const named = new Map<number, number>();
  const namedBy = new Set<FieldData>();
  for (const field of fields) {
    for (const { key, odds, tokens } of targets[field.index]!) {
      if (odds < 0) continue;
      named.set(key.shape, (named.get(key.shape) ?? 0) + tokens.size * Math.min(10, field.values.length));
      if (key.shape !== field.rowShape) namedBy.add(key.field);
    }
  }
  const isKey = new Set(keys.keys.map(({ field }) => field));
  const isOwn = (field: FieldData) => namedBy.has(field) || keys.keys.some((key) => key.field === field && key.best);
  const ranked = [...named]
    .sort((a, b) => b[1] - a[1])
    .map(([shape]) => ({ shape, nodes: structure.shapes[shape]!, list: byShape.get(shape) ?? [] }))
    .filter(
      ({ nodes, list }) =>
        (nodes.repeated || nodes.keyedByTag || nodes.nodes.length > 1) &&
        list.some((field) => isAddresses(field) && field.values.length * 2 >= nodes.nodes.length),
    )
    .map(({ shape, list }) => ({
      shape,
      list: list.filter((field) => !field.several && !field.tag && !isOwn(field)),
    }));
  const unexplained = (field: FieldData) =>
    field.values.length >= 2 &&
    !isConstant(field) &&
    isNumbered(field, readers) &&
    explainedIn(targets[field.index]!) * 2 <= readers[field.index]!.counts.size;
  const isNames = (field: FieldData, forms?: number) => isNumbered(field, readers, forms);
  const tableFrom = (shape: number) =>
    portNames(shape, { fields, readers, byShape, structure, devices, targets, isNumbered: isNames });
  // What is named most without an address may be zones of devices.
  const zone = [...named].reduce((a, b) => (b[1] > a[1] ? b : a), [-1, 0] as const)[0];
  const inZones = zone === -1 || zone === ranked[0]?.shape ? null : tableFrom(zone);
  if (inZones) {
    addAll(inZones, readers, devices);
    return;
  }
  for (const { shape, list } of ranked) {
    const found = list.filter(unexplained);
    if (found.length === 0) continue;
    // What tells the records apart is rather a name of theirs, above all where they lead to records that could be devices.
    const own = found.find((field) => !isKey.has(field));
    const device =
      (own && isOneEach(own) ? joinedWith(shape, byShape, targets, unexplained) : null) ??
      own ??
      tableFrom(shape) ??
      numberedBehind(list, readers, byShape, targets, devices) ??
      joinedWith(shape, byShape, targets, unexplained) ??
      found[0]!;
    addAll(device, readers, devices);
    return;
  }
  const [first] = ranked;
  const behind = first && (tableFrom(first.shape) ?? numberedBehind(first.list, readers, byShape, targets, devices));
  if (behind) addAll(behind, readers, devices);
}

const isConstant = ({ distinct, values }: FieldData) => distinct.length === 1 && values.length >= CONSTANT;

/** What records that name those of a shape once each have besides: the devices that they join these with. */
function joinedWith(
  shape: number,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  targets: readonly (readonly Target[])[],
  isDevice: (field: FieldData) => boolean,
): FieldData | null {
  for (const list of byShape.values()) {
    const joins = list.some(
      (field) => isOneEach(field) && targets[field.index]!.some(({ key, odds }) => odds >= 0 && key.shape === shape),
    );
    if (!joins || list.some(isAddresses)) continue;
    const device = list.find((field) => !field.several && !field.tag && !isOneEach(field) && isDevice(field));
    if (device) return device;
  }
  return null;
}

/** How many names of a field are names of records, of one kind or of several. */
function explainedIn(targets: readonly Target[]): number {
  const likely = targets.filter(({ odds }) => odds >= 0);
  return likely.length === 1 ? likely[0]!.tokens.size : new Set(likely.flatMap(({ tokens }) => tokens.list)).size;
}

function addAll({ index }: FieldData, readers: readonly Reader[], devices: Devices): void {
  for (const token of readers[index]!.counts.tokens) devices.addBase(token);
}

/**
 * Of the records that one of the fields names, those without an address that have numbered names; rather others than those
 * that they are named by, which only count them. Null also where a device among them is known already.
 */
function numberedBehind(
  list: readonly FieldData[],
  readers: readonly Reader[],
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  targets: readonly (readonly Target[])[],
  devices: Devices,
): FieldData | null {
  for (const field of list) {
    const named = targets[field.index]!.filter(({ key, odds }) => odds >= 0 && key.shape !== field.rowShape);
    const own = named
      .flatMap(({ key }) => {
        const other = byShape.get(key.shape) ?? [];
        return other.some(isAddresses) ? [] : other;
      })
      .filter((one) => isOneEach(one) && !targets[one.index]!.some(({ odds }) => odds >= 0));
    if (own.some((one) => holdsDevices(one, devices))) return null;
    const found = own.filter((one) => isNumbered(one, readers));
    const keyed = new Set(named.map(({ key }) => key.field));
    const device = found.find((own) => !keyed.has(own)) ?? found[0];
    if (device) return device;
  }
  return null;
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

/** Numbered names of one form, each once. */
const areNumbersOfOne = (tokens: readonly string[]): boolean =>
  new Set(tokens).size === tokens.length &&
  tokens.every((token) => numbered.test(token) && patternOf(token) === patternOf(tokens[0]!));
