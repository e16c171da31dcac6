import { type FieldData, isOneEach } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import type { Reader } from '../names/tokens.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import type { Target } from '../references/references.ts';
import { isAddresses } from '../roles/role-signs.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';
import { isNumbered, namesIn } from './numbered-names.ts';
import { portNames, recordAbove } from './port-tables.ts';
import { CONSTANT } from './ports.ts';

/**
 * The records that are named most and have an address: their field of numbered names that names no other records and is
 * not what they are named by; else the numbered names of the records that such a field names, by name or by key.
 */
export function fromRoles(
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
    .map(({ shape, nodes, list }) => ({
      shape,
      // A few remarks may look alike.
      isUsual: ({ values }: FieldData) => values.length * 4 >= nodes.nodes.length,
      list: list.filter((field) => !field.several && !field.tag && !isOwn(field)),
    }));
  const unexplained = (field: FieldData) =>
    field.values.length >= 2 &&
    !isConstant(field) &&
    isNumbered(field, readers, 2, (name) => devices.has(name)) &&
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
  for (const { shape, list, isUsual } of ranked) {
    const found = list.filter((field) => isUsual(field) && unexplained(field));
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
  const behind =
    first &&
    (tableFrom(first.shape) ??
      numberedBehind(first.list, readers, byShape, targets, devices) ??
      joinedWith(first.shape, byShape, targets, unexplained) ??
      heldBy(first.shape, structure, byShape, unexplained));
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

/** What records of a shape hold a record for: the devices that this names and nothing else does. */
function heldBy(
  shape: number,
  structure: Structure,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  isDevice: (field: FieldData) => boolean,
): FieldData | null {
  for (const [inner, list] of byShape) {
    if (inner === shape || inner === -1 || list.some(isAddresses) || recordAbove(inner, structure, byShape) !== shape)
      continue;
    const found = list.filter((field) => !field.several && !field.tag && isDevice(field));
    if (found.length === 1) return found[0]!;
  }
  return null;
}

/** How many names of a field are names of records, of one kind or of several. */
export function explainedIn(targets: readonly Target[]): number {
  const likely = targets.filter(({ odds }) => odds >= 0);
  return likely.length === 1 ? likely[0]!.tokens.size : new Set(likely.flatMap(({ tokens }) => tokens.list)).size;
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

export function addAll(field: FieldData, readers: readonly Reader[], devices: Devices): void {
  for (const name of namesIn(field, readers)) if (!devices.has(name)) devices.addBase(name);
}
