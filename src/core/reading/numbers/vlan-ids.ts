import { largestOf } from '../../lists.ts';
import { isTag } from '../devices/device-forms.ts';
import type { Devices } from '../devices/device-set.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, isOneEach, leafName } from '../fields/fields.ts';
import { type KeyTable, keyOn } from '../keys/key-table.ts';
import { kindOf } from '../names/literals.ts';
import type { Reader } from '../names/tokens.ts';
import { isHardwareEach, pairedKey } from '../roles/role-signs.ts';
import { holderOf } from '../shapes/list-names.ts';
import type { Structure } from '../shapes/structure.ts';
import { isOrder } from './number-counts.ts';
import { letters } from './number-names.ts';

/** What the trade calls a VLAN and its number: weak evidence. */
const vlanWord = /v(?:irtual[ _-]?)?lan|vid|tag/i;

/** True for what may be called so. */
export const isVlanWord = (name: string): boolean => vlanWord.test(name);

/**
 * True for VLAN IDs by which records may be told apart: those that tagged devices are derived from, or that the file calls so.
 * Numbers in a row are counted.
 */
export function areVlanIds(field: FieldData, structure: Structure, { derivations }: Devices): boolean {
  const { values, distinct, several, tag } = field;
  if (several || tag || distinct.length < values.length || !values.every(isTag) || isOrder(values)) return false;
  if (derivations.some((one) => one.tag === field.index)) return true;
  const { shapes } = structure;
  const holder = holderOf(structure, field.rowShape);
  return [leafName(field), shapes[field.rowShape]!.step, holder === -1 ? '' : shapes[holder]!.step].some(isVlanWord);
}

/** Above it a number is hardly a count, whatever is counted. */
const COUNTS = 64;
/** Nor is one that is not round, longer than a prefix of IPv4, and so many times the number of the records. */
const BEYOND = 2;
const ROUND = 5;
const PREFIX = 32;
/** Records that define a VLAN hold little more. */
const MOST_FIELDS = 8;
/** Their number stands in few other kinds of record, once each. */
const MOST_COLUMNS = 3;
/** Files have few kinds of such records. */
const MOST_TABLES = 20;

/** So many numbers that are no counts are in two places by no chance, whatever these are called. */
const NO_CHANCE = 3;
/** Some VLAN may be spare. */
const NEARLY_ALL = 0.8;

/**
 * Fields that name the records of VLANs by their numbers: they have no other numbers, and are called as these records' own field
 * is, perhaps with a word before it, or have many of them, each once beside an address. A network so says on which VLAN it is, and the VLAN on
 * which port. By field the key, which is made where the records have none.
 */
export function tagLinks(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  structure: Structure,
  devices: Devices,
): ReadonlyMap<number, number> {
  const links = new Map<number, number>();
  const numbers = fields.filter((field) => {
    const { tokens } = readers[field.index]!.counts;
    return !field.tag && !field.aside && tokens.length > 0 && tokens.every(isTag);
  });
  if (numbers.length < 2) return links;
  const tagFields = new Set(devices.derivations.map(({ tag }) => tag));
  let byShape: Map<number, FieldData[]> | null = null;
  const listOf = (shape: number) => {
    byShape ??= fieldsByShape(fields);
    return byShape.get(shape)!;
  };
  const isCommon = commonColumns(numbers);
  const counts = new Set(numbers.flatMap((field) => (isColumn(field) && isCommon(field) ? field.distinct : [])));
  const own = numbers.filter(
    (field) =>
      isColumn(field) &&
      !isCommon(field) &&
      (field.values.length > 1 || isVlanWord(leafName(field))) &&
      (tagFields.has(field.index) || isVlan(field, counts, () => listOf(field.rowShape))),
  );
  if (own.length === 0 || own.length > MOST_TABLES) return links;
  const isNetwork = (shape: number) => listOf(shape)?.some(isAddresses) === true;
  const joins = new Set(
    own.filter(({ rowShape }) => listOf(rowShape).some((one) => pairedKey(one, keys, isNetwork) !== null)),
  );
  const all = own.map((field) => ({ field, name: letters(leafName(field)), known: new Set(field.distinct) }));
  // What joins networks with VLANs has the numbers of these, too.
  const tables = all.filter(
    ({ field }) =>
      !joins.has(field) ||
      !all.some((one) => !joins.has(one.field) && field.distinct.every((value) => one.known.has(value))),
  );
  for (const { field } of tables) joins.delete(field);
  const goBy = new Set(keys.keys.flatMap(({ field, best }) => (best ? [field] : [])));
  /** By what records call them. */
  const kin = new Map<string, FieldData[]>();
  for (const field of numbers) {
    const name = nameInRecord(field, structure);
    const list = kin.get(name);
    if (list) list.push(field);
    else kin.set(name, [field]);
  }
  const certain = new Map([...kin].filter(([, list]) => areNoChance(list, readers, listOf)));
  const isAlone = (field: FieldData) => areNoChance([field], readers, listOf, joins.has(field));
  for (const field of numbers) {
    if (goBy.has(field) && !joins.has(field)) continue;
    const called = letters(leafName(field));
    const like = certain.get(nameInRecord(field, structure));
    const isIn = (known: ReadonlySet<string>, one: FieldData) =>
      readers[one.index]!.counts.tokens.every((token) => known.has(token));
    const likely = tables.filter(({ field: tags, known }) => field.rowShape !== tags.rowShape && isIn(known, field));
    const named = likely.filter(({ name }) => called.endsWith(name));
    const told = likely.filter(({ known }) => like?.every((one) => isIn(known, one)));
    const proven = likely.filter(({ field: tags }) => tagFields.has(tags.index));
    const instead = proven.length > 0 && standsInstead(field, listOf(field.rowShape)) ? proven : told;
    const same = likely.filter(({ field: tags }) => areSame(field, tags, listOf));
    const shared = instead.length > 0 ? instead : same;
    const found = named.length > 0 ? named : told.length > 0 || !isAlone(field) ? shared : likely;
    if (found.length === 1) links.set(field.index, keyOn(found[0]!.field, keys, { vlans: true }).index);
  }
  return links;
}

/** What records of any kind call a value that they hold. */
function nameInRecord({ steps, shape, rowShape }: FieldData, { shapes }: Structure): string {
  const depth = rowShape === -1 ? steps.length : shapes[shape]!.depth - shapes[rowShape]!.depth;
  return steps.slice(steps.length - depth).join('/');
}

/**
 * Whether numbers of one name are rather VLAN IDs: too many that count nothing, each once beside an address, or listed by ports.
 * @param joined they stand beside the names of networks.
 */
function areNoChance(
  list: readonly FieldData[],
  readers: readonly Reader[],
  listOf: (shape: number) => readonly FieldData[],
  joined = false,
): boolean {
  const tokens = list.flatMap(({ index }) => readers[index]!.counts.tokens);
  const distinct = [...new Set(tokens)];
  if (distinct.filter((token) => isNoCount(token, tokens.length)).length < NO_CHANCE) return false;
  const beside = (test: (one: FieldData, field: FieldData) => boolean) =>
    list.some((field) => field.rowShape !== -1 && listOf(field.rowShape).some((one) => test(one, field)));
  if (distinct.length === tokens.length && list.every(isColumn) && (joined || beside(isAddresses))) return true;
  return beside((one, { rows }) => {
    if (!isHardwareEach(one)) return false;
    const ports = new Set(one.rows);
    return rows.every((row) => ports.has(row));
  });
}

/** Whether records with an address have nearly all of the other's numbers, one each, and these go up in no even steps, as counts do. */
function areSame(field: FieldData, tags: FieldData, listOf: (shape: number) => readonly FieldData[]): boolean {
  const numbers = field.distinct.map(Number).sort((a, b) => a - b);
  return (
    isColumn(field) &&
    numbers.length >= NO_CHANCE &&
    numbers.length >= tags.distinct.length * NEARLY_ALL &&
    listOf(field.rowShape).some(isAddresses) &&
    new Set(numbers.slice(1).map((number, at) => number - numbers[at]!)).size > 1
  );
}

/** Whether each record with an address has the number or what else stands in one other field: the seats of all. */
function standsInstead({ rows, distinct, rowShape }: FieldData, list: readonly FieldData[]): boolean {
  if (rowShape === -1 || rows.length < 2 || distinct.length < rows.length || !list.some(isAddresses)) return false;
  const own = new Set(rows);
  const all = largestOf(list.map((one) => (one.several ? 0 : one.rows.length)));
  return list.some(
    (one) =>
      !one.several &&
      one.rows.length + rows.length === all &&
      one.rows.every((row) => !own.has(row)) &&
      !one.distinct.every((value) => /^\d+$/.test(value)),
  );
}

/** Whether as many kinds of record have a number called so that it counts records. */
export function commonColumns(fields: readonly FieldData[]): (field: FieldData) => boolean {
  const columns = new Map<string, number>();
  for (const field of fields)
    if (isColumn(field) && isTag(field.values[0]!))
      columns.set(leafName(field), (columns.get(leafName(field)) ?? 0) + 1);
  return (field) => (columns.get(leafName(field)) ?? 0) > MOST_COLUMNS;
}

const isAddresses = ({ values }: FieldData): boolean => kindOf(values[0]!) === 'address';

const isNoCount = (token: string, records: number): boolean =>
  Number(token) > COUNTS || (Number(token) > Math.max(PREFIX, records * BEYOND) && Number(token) % ROUND !== 0);

const isColumn = (field: FieldData): boolean => field.rowShape !== -1 && isOneEach(field);

/**
 * Whether a small record without an address, which is no port either, goes by numbers that VLANs have rather than by a count.
 * @param counts what records of many kinds are counted by.
 */
function isVlan(field: FieldData, counts: ReadonlySet<string>, listOf: () => readonly FieldData[]): boolean {
  const isFree = (value: string) => !counts.has(value) && isNoCount(value, field.values.length);
  if (!isVlanWord(leafName(field)) && !field.distinct.some(isFree)) return false;
  // Ports, and other kinds that lie in one table with VLANs, have other fields.
  const rows = new Set(field.rows);
  const list = listOf().filter((one) => one.rows.some((row) => rows.has(row)));
  return list.length <= MOST_FIELDS && !list.some((one) => isAddresses(one) || isHardwareEach(one));
}
