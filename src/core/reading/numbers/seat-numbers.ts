import { largestOf } from '../../lists.ts';
import type { Devices } from '../devices/device-set.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, isOneEach, leafName } from '../fields/fields.ts';
import { type KeyTable, keyOn } from '../keys/key-table.ts';
import type { Reader } from '../names/tokens.ts';
import { isAddresses } from '../roles/role-signs.ts';
import type { Structure } from '../shapes/structure.ts';
import { holdsDevices } from './number-tables.ts';
import { isVlanWord } from './vlan-ids.ts';

/** Networks, and records that say where one sits, hold no more fields. */
const MOST_FIELDS = 24;
/** Boxes have no more networks. */
const MOST_NETWORKS = 4000;
/** Share of the names of a field that are those of ports, where it names these. */
const MOST = 0.5;

/** By field the key that it names what networks sit on by. */
export interface SeatLinks {
  readonly ports: ReadonlyMap<number, number>;
  /** VLANs on ports, by a key of theirs or by their numbers. */
  readonly parts: ReadonlyMap<number, number>;
  readonly vlans: ReadonlyMap<number, number>;
}

/**
 * What networks sit on, where each has one of two fields, or is joined with it by one of two: one names VLANs or ports, so the
 * other names ports, or VLANs that lie in ports or name these, by whatever numbers these have.
 * @param tags fields that name VLANs by their numbers.
 */
export function seatLinks(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  structure: Structure,
  devices: Devices,
  tags: ReadonlyMap<number, number>,
): SeatLinks {
  const ports = new Map<number, number>();
  const parts = new Map<number, number>();
  const vlans = new Map<number, number>();
  if (!devices.tabled) return { ports, parts, vlans };
  const byShape = fieldsByShape(fields);
  const tokensOf = ({ index }: FieldData) => readers[index]!.counts.tokens;
  const areDevices = (field: FieldData) => tokensOf(field).every((token) => devices.has(token));
  const names = new Map<FieldData, ReadonlySet<string>>();
  const has = (key: FieldData, name: string) => {
    const known = names.get(key) ?? new Set(key.distinct);
    names.set(key, known);
    return known.has(name);
  };
  const columnsOf = (list: readonly FieldData[]) => list.filter((field) => isOneEach(field) && !field.tag);
  const networks = new Map<number, readonly FieldData[]>();
  const tables = new Map<number, readonly FieldData[]>();
  for (const [shape, list] of byShape)
    if (shape !== -1 && list.some((field) => isAddresses(field) && isOneEach(field)))
      networks.set(shape, columnsOf(list));
    else if (shape !== -1 && columnsOf(list).some((field) => holdsDevices(field, devices)))
      tables.set(shape, columnsOf(list));
  const portKeys = [...tables.values()].flat();
  const namesPorts = (field: FieldData) => {
    const tokens = tokensOf(field);
    const known = tokens.filter((token) => devices.has(token) || portKeys.some((key) => has(key, token)));
    return isNumbers(field) ? known.length === tokens.length : known.length >= tokens.length * MOST;
  };
  const isOnPorts = (shape: number, list: readonly FieldData[]) => {
    let { above } = structure.shapes[shape]!;
    while (above !== -1 && !byShape.has(above)) above = structure.shapes[above]!.above;
    return tables.has(above) || list.some((field) => !field.several && !field.tag && namesPorts(field));
  };
  const numbersOf = ([shape, list]: readonly [number, readonly FieldData[]]) => {
    if (shape === -1 || tables.has(shape) || networks.has(shape) || list.length > MOST_FIELDS) return [];
    const numbers = columnsOf(list).filter(isNumbers);
    return numbers.length > 0 && isOnPorts(shape, list) ? [numbers] : [];
  };
  const isJoin = (list: readonly FieldData[]) =>
    columnsOf(list).some((field) =>
      [...networks.values()].flat().some((key) => tokensOf(field).every((token) => has(key, token))),
    );
  const keyOf = (field: FieldData, among: readonly FieldData[]) => {
    const found = among.filter(
      (key) => key.rowShape !== field.rowShape && tokensOf(field).every((token) => has(key, token)),
    );
    return found.length === 1 ? found[0]! : null;
  };
  let partKeys: readonly (readonly FieldData[])[] | null = null;
  for (const [shape, list] of byShape) {
    if (shape === -1 || tables.has(shape) || list.length > MOST_FIELDS) continue;
    for (const [one, other] of insteadIn(list)) {
      if (!networks.has(shape) && !isJoin(list)) break;
      const [vlan, port] = tags.has(one.index) ? [one, other] : [other, one];
      if (tags.has(vlan.index)) {
        const key = areDevices(port) || tags.has(port.index) ? null : keyOf(port, portKeys);
        if (key) ports.set(port.index, keyOn(key, keys).index);
        continue;
      }
      partKeys ??= [...byShape].flatMap(numbersOf);
      const ways = [
        { field: one, beside: other },
        { field: other, beside: one },
      ].flatMap(({ field, beside }) => {
        const key = isNumbers(field) && namesPorts(beside) ? keyOf(field, partKeys!.flat()) : null;
        return key ? [{ field, beside, key }] : [];
      });
      const way = ways.length > 1 ? ways.find(({ field }) => isVlanWord(leafName(field))) : ways[0];
      if (!way) continue;
      const { field, beside, key } = way;
      // The only number of VLANs is what they have on the wire.
      const alone = partKeys.some((own) => own.length === 1 && own[0] === key);
      (alone ? vlans : parts).set(field.index, keyOn(key, keys, { vlans: alone }).index);
      const below = areDevices(beside) ? null : keyOf(beside, portKeys);
      if (below) ports.set(beside.index, keyOn(below, keys).index);
    }
  }
  return { ports, parts, vlans };
}

const isNumbers = ({ values, several, tag }: FieldData): boolean =>
  !several && !tag && values.every((value) => /^\d{1,4}$/.test(value));

/** Pairs of fields of which each record has one. */
function insteadIn(list: readonly FieldData[]): readonly (readonly [FieldData, FieldData])[] {
  const single = list.filter((field) => !field.several && !field.tag);
  const all = largestOf([0, ...single.map(({ rows }) => rows.length)]);
  if (all > MOST_NETWORKS) return [];
  const areInstead = (one: FieldData, other: FieldData) => {
    if (one.rows.length + other.rows.length !== all) return false;
    const rows = new Set(one.rows);
    return !other.rows.some((row) => rows.has(row));
  };
  return single.flatMap((one, at) =>
    single.slice(at + 1).flatMap((other) => (areInstead(one, other) ? [[one, other] as const] : [])),
  );
}
