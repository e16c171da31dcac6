import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, isOneEach, leafName } from '../fields/fields.ts';
import { nameAt, type Reader } from '../names/tokens.ts';
import { isOwnCount } from '../numbers/number-counts.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import { commonColumns, isVlanWord } from '../numbers/vlan-ids.ts';
import type { Target } from '../references/references.ts';
import { isHardwareEach } from '../roles/role-signs.ts';
import type { Rows } from '../roles/roles.ts';
import { byRow, isTag } from './device-forms.ts';
import type { Devices } from './device-set.ts';

/** Records that join a port with a number and hold much more are something else. */
const MOST_FIELDS = 6;
/** What operating systems put between the port and the VLAN ID; systemd.netdev(5), FreeBSD vlan(4): `eth0.30`, `em0.30`. */
export const MARK = '.';

/**
 * Tagged devices that no value names: records that have a VLAN ID and a port, which they name by its name or by the key of its
 * record, or which they lie in. A record that has an address names them, or they name it. They get the name that the operating
 * system would give; where a record has no VLAN ID, it is the port itself.
 * @param tagFields fields that name VLANs by their numbers.
 */
export function composeUnnamed(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  devices: Devices,
  portFields: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
  tagFields: ReadonlyMap<number, number>,
  { above, shapeOf, addressed }: Rows,
): void {
  if (devices.derivations.length > 0 || devices.bases.size === 0) return;
  const byShape = fieldsByShape(fields);
  // By shape the fields that it is named by, or that name networks: these hold neither port nor VLAN ID.
  const joined = new Map<number, Set<FieldData>>();
  const join = (shape: number, field: FieldData) => joined.set(shape, (joined.get(shape) ?? new Set()).add(field));
  const likely = (field: FieldData) => targets[field.index]!.filter(({ odds }) => odds >= 0);
  // What names networks and ports may hold any number beside.
  const naming = new Set<number>();
  const joining = new Set<number>();
  for (const field of fields)
    if (!field.tag && likely(field).some(({ key }) => addressed.has(key.shape))) joining.add(field.rowShape);
  // What lies in a network says where this sits.
  const isOfNetwork = ({ rowShape, rows }: FieldData) => {
    const around = addressed.has(rowShape) || rowShape === -1 ? -1 : above(rows[0]!);
    return addressed.has(around === -1 ? rowShape : shapeOf[around]!);
  };
  // Where each network has the number of a VLAN, none sits on a port by itself: a switch has the VLANs, and they are no devices.
  const isEach = ({ rowShape, rows }: FieldData) =>
    byShape.get(rowShape)!.every((field) => field.several || field.rows.length <= rows.length);
  for (const field of fields)
    for (const { key } of likely(field)) {
      if (isOfNetwork(field) || (joining.has(field.rowShape) && !addressed.has(key.shape))) {
        // The number of a VLAN names it, and is its own all the same.
        if (!key.vlans && !tagFields.has(field.index)) join(key.shape, key.field);
        else if (!joined.has(key.shape) && !isEach(field)) joined.set(key.shape, new Set());
      } else if (addressed.has(key.shape) && isOneEach(field)) {
        join(field.rowShape, field);
        naming.add(field.rowShape);
      }
    }
  // Ports, and what else is called by a device's own name, have these at least.
  const isPorts = (shape: number) =>
    byShape.get(shape)!.some((field) => isHardwareEach(field) || (portFields.has(field.index) && isOwnName(field)));
  const isOwnName = (field: FieldData) =>
    isOneEach(field) && holdsDevices(field, devices) && likely(field).length === 0;
  /** Whether ports name networks as records of a kind do. */
  const arePortsNaming = (shape: number) => [...naming].some((other) => other !== shape && isPorts(other));
  /** Whether ports name networks as records of a kind do, and these are over such ports, or lie in a device. */
  const isOverPort = (shape: number, { field, deviceOf }: Seat) => {
    const over = new Set(deviceOf.values());
    const isPort = (one: FieldData) => portFields.has(one.index) && one.distinct.some((name) => over.has(name));
    return [...naming].some(
      (other) => other !== shape && isPorts(other) && (field === null || byShape.get(other)!.some(isPort)),
    );
  };
  let portAt: ReadonlyMap<number, string> | null = null;
  const portAround = (row: number) => {
    portAt ??= portsByRow(fields, readers, portFields);
    return portAt.get(above(row));
  };
  let isCommon: ReturnType<typeof commonColumns> | null = null;
  for (const [shape, taken] of joined) {
    const list = byShape.get(shape) ?? [];
    if (shape === -1 || list.length > MOST_FIELDS || addressed.has(shape)) continue;
    const open = list.filter((field) => !taken.has(field));
    // What names ports in two ways has members: those with and those without its number.
    const links = linksOf(open, byShape, readers, devices, targets);
    const seat = links.length > 0 ? links[0] : portOf(open, portFields, readers, portAround);
    // What names both a network and a port joins these, where no port names its network: a number beside makes no device.
    if (!seat || links.length > 1 || (seat.field !== null && naming.has(shape) && !arePortsNaming(shape))) continue;
    isCommon ??= commonColumns(fields);
    const own = open.filter((field) => isVlanWord(leafName(field)) || !isCommon!(field));
    const numbers = own.filter((field) => field !== seat.field && isTags(field, seat.deviceOf));
    // What counts the records is none, unless there is no other number and networks lead to the port over it.
    const leads = seat.linked || seat.field === null;
    const counted = numbers.filter(({ values }) => !isOwnCount(values));
    const tags = counted.length > 0 || !leads ? counted : numbers;
    const tag = tags.length === 1 ? tags[0] : tags.find((field) => isVlanWord(leafName(field)));
    // Beside ports that name networks, too, a record over one of them is a device as they are.
    const isSeated = naming.has(shape) ? isOverPort(shape, seat) : leads;
    if (!tag || !(isSeated || isVlanWord(leafName(tag)) || isShared(tag, seat.deviceOf))) continue;
    const tagOf = new Map(tag.rows.map((row, place) => [row, tag.values[place]!]));
    // What the file names as it names ports is a device by its own name.
    const called = list.find((field) => field !== seat.field && isOneEach(field) && holdsDevices(field, devices));
    if (called) {
      for (const [place, row] of called.rows.entries())
        devices.named.set(called.values[place]!, {
          parent: seat.deviceOf.get(row) ?? null,
          tag: Number(tagOf.get(row) ?? Number.NaN) || null,
        });
      devices.derivations.push({ shape, name: called.index, parent: seat.field?.index ?? null, tag: tag.index });
      continue;
    }
    const names = new Map<string, number>();
    for (const [row, port] of seat.deviceOf) {
      const number = tagOf.get(row);
      const name = number === undefined ? port : `${port}${MARK}${number}`;
      if (number !== undefined) devices.derived.set(name, { base: port, tag: Number(number) });
      names.set(name, row);
    }
    devices.composed.set(shape, names);
    devices.derivations.push({ shape, name: null, parent: null, tag: tag.index });
  }
}

/** Where records have their port, and the port of each. */
interface Seat {
  /** Null where the records lie in that of the port. */
  readonly field: FieldData | null;
  readonly deviceOf: ReadonlyMap<number, string>;
  /** They name it by the key of its record. */
  readonly linked: boolean;
}

/** The fields by which records name others that are ports; in their own table where that is asked for. */
export function linksOf(
  list: readonly FieldData[],
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  readers: readonly Reader[],
  devices: Devices,
  targets: readonly (readonly Target[])[],
  inTable = false,
): Seat[] {
  return list.flatMap((field) => {
    if (!isOne(field, readers)) return [];
    const deviceOf = new Map<number, string>();
    for (const { key, odds } of targets[field.index]!) {
      const name =
        odds < 0 ? undefined : byShape.get(key.shape)?.find((other) => holdsDevices({ ...other, tag: false }, devices));
      if (!name || (key.shape === field.rowShape) !== inTable) continue;
      const deviceAt = new Map(name.rows.map((row, place) => [row, name.values[place]!]));
      const rowAt = new Map(key.field.rows.map((row, place) => [key.field.values[place]!, row]));
      for (const [place, row] of field.rows.entries()) {
        const { text } = nameAt(field, readers[field.index]!, place);
        const device = deviceAt.get(rowAt.get(text) ?? -1) ?? (devices.has(text) ? text : undefined);
        if (device !== undefined) deviceOf.set(row, device);
      }
    }
    return deviceOf.size > 0 ? [{ field, deviceOf, linked: true }] : [];
  });
}

/** The one field of port names, or the port whose record the records lie in. */
function portOf(
  list: readonly FieldData[],
  portFields: ReadonlySet<number>,
  readers: readonly Reader[],
  portAround: (row: number) => string | undefined,
): Seat | null {
  const ports = list.filter(({ index }) => portFields.has(index));
  const [field] = ports;
  if (ports.length > 1 || list.length === 0) return null;
  if (field) return isOne(field, readers) ? { field, deviceOf: byRow(field), linked: false } : null;
  const deviceOf = new Map<number, string>();
  for (const row of list[0]!.rows) {
    const port = portAround(row);
    if (port !== undefined) deviceOf.set(row, port);
  }
  return deviceOf.size > 0 ? { field: null, deviceOf, linked: false } : null;
}

/** What each row is called that is a port or is made of ports: the field that tells such records apart, one each. */
function portsByRow(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  portFields: ReadonlySet<number>,
): ReadonlyMap<number, string> {
  const ports = new Map<number, string>();
  const listing = new Set(
    fields.flatMap((one) => (portFields.has(one.index) && !isOne(one, readers) ? [one.rowShape] : [])),
  );
  for (const field of fields) {
    if (field.rowShape === -1 || !isOne(field, readers) || !isOneEach(field)) continue;
    if (!portFields.has(field.index) && !listing.has(field.rowShape)) continue;
    for (const [place, row] of field.rows.entries()) if (!ports.has(row)) ports.set(row, field.values[place]!);
  }
  return ports;
}

const isOne = ({ several, tag, index }: FieldData, readers: readonly Reader[]) =>
  !several && !tag && readers[index]!.separator === null;

/** Numbers as IEEE 802.1Q has them, none twice on one port; some records may be the port itself. */
export function isTags(field: FieldData, deviceOf: ReadonlyMap<number, string>): boolean {
  const { values, rows, several, tag } = field;
  if (several || tag || values.length * 2 < deviceOf.size || !values.every(isTag)) return false;
  return new Set(rows.map((row, place) => `${deviceOf.get(row)} ${values[place]!}`)).size === rows.length;
}

/** Whether some port has several of the numbers, as none but a VLAN ID tells apart what sits on it. */
function isShared({ rows }: FieldData, deviceOf: ReadonlyMap<number, string>): boolean {
  const ports = rows.flatMap((row) => deviceOf.get(row) ?? []);
  return new Set(ports).size < ports.length;
}
