import { fieldsByShape } from './by-shape.ts';
import type { Devices } from './device-set.ts';
import type { FieldData } from './fields.ts';
import { kindOf } from './literals.ts';
import { holdsDevices } from './number-tables.ts';
import type { Target } from './references.ts';
import { nameAt, type Reader } from './tokens.ts';

/** Records that join a port with a number and hold much more are something else. */
const MOST_FIELDS = 6;
/** What operating systems put between the port and the VLAN ID; systemd.netdev(5), FreeBSD vlan(4): `eth0.30`, `em0.30`. */
const MARK = '.';

/**
 * Tagged devices that no value names: records that name a port by the key of its record, beside a VLAN ID, and are themselves
 * named by records that have an address. They get the name that the operating system would give.
 */
export function composeUnnamed(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  devices: Devices,
  targets: readonly (readonly Target[])[],
): void {
  if (devices.derivations.length > 0 || devices.bases.size === 0) return;
  const byShape = fieldsByShape(fields);
  const isAddressed = (shape: number) => (byShape.get(shape) ?? []).some(isAddresses);
  const named = new Map<number, Set<FieldData>>();
  for (const field of fields)
    for (const { key, odds } of targets[field.index]!)
      if (odds >= 0 && isAddressed(field.rowShape))
        named.set(key.shape, (named.get(key.shape) ?? new Set()).add(key.field));
  for (const [shape, keyed] of named) {
    const list = byShape.get(shape) ?? [];
    if (list.length > MOST_FIELDS || list.some(isAddresses)) continue;
    // What others call a record by names neither its port nor its VLAN.
    const open = list.filter((field) => !keyed.has(field));
    const link = linkOf(open, byShape, readers, devices, targets);
    if (!link) continue;
    const tags = open.filter((field) => field !== link.field && isTags(field, link.deviceOf));
    if (tags.length !== 1) continue;
    const tag = tags[0]!;
    const names = new Map<string, number>();
    for (const [place, row] of tag.rows.entries()) {
      const port = link.deviceOf.get(row);
      if (port === undefined) continue;
      const name = `${port}${MARK}${tag.values[place]!}`;
      names.set(name, row);
      devices.derived.set(name, { base: port, tag: Number(tag.values[place]!) });
    }
    devices.composed.set(shape, names);
    devices.derivations.push({ shape, name: null, parent: null, tag: tag.index });
  }
}

/** The field by which records name others that are ports, and the port of each. */
function linkOf(
  list: readonly FieldData[],
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  readers: readonly Reader[],
  devices: Devices,
  targets: readonly (readonly Target[])[],
): { field: FieldData; deviceOf: ReadonlyMap<number, string> } | null {
  for (const field of list) {
    if (field.several || field.tag) continue;
    for (const { key, odds } of targets[field.index]!) {
      const own =
        odds < 0 ? undefined : byShape.get(key.shape)?.find((other) => holdsDevices({ ...other, tag: false }, devices));
      if (!own || key.shape === field.rowShape) continue;
      const deviceAt = new Map(own.rows.map((row, place) => [row, own.values[place]!]));
      const rowAt = new Map(key.field.rows.map((row, place) => [key.field.values[place]!, row]));
      const deviceOf = new Map<number, string>();
      for (const [place, row] of field.rows.entries()) {
        const device = deviceAt.get(rowAt.get(nameAt(field, readers[field.index]!, place).text) ?? -1);
        if (device !== undefined) deviceOf.set(row, device);
      }
      if (deviceOf.size > 0) return { field, deviceOf };
    }
  }
  return null;
}

/** Numbers as IEEE 802.1Q has them, none twice on one port. */
function isTags({ values, rows, several, tag }: FieldData, deviceOf: ReadonlyMap<number, string>): boolean {
  if (several || tag || values.length < deviceOf.size) return false;
  if (!values.every((value) => /^[1-9]\d{0,3}$/.test(value) && Number(value) <= 4094)) return false;
  return new Set(rows.map((row, place) => `${deviceOf.get(row)} ${values[place]!}`)).size === rows.length;
}

function isAddresses({ values }: FieldData): boolean {
  const sample = values.slice(0, 20);
  return sample.filter((value) => kindOf(value) === 'address').length >= sample.length * 0.7;
}
