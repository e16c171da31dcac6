import { fieldsByShape } from './by-shape.ts';
import { isTag } from './device-forms.ts';
import type { Devices } from './device-set.ts';
import { type FieldData, isOneEach, leafName } from './fields.ts';
import { type KeyTable, keyOn } from './key-table.ts';
import { holderOf } from './list-names.ts';
import { kindOf } from './literals.ts';
import { isOrder } from './number-counts.ts';
import { letters } from './number-names.ts';
import type { Structure } from './structure.ts';
import type { Reader } from './tokens.ts';

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

/** Above it a number is hardly a count. */
const COUNTS = 64;
/** Records that define a VLAN hold little more. */
const MOST_FIELDS = 8;
/** Their number stands in few other kinds of record, once each. */
const MOST_COLUMNS = 3;
/** Files have few kinds of such records. */
const MOST_TABLES = 20;

/** So many numbers that are no counts are in two places by no chance, whatever these are called. */
const NO_CHANCE = 3;

/**
 * Fields that name the records of VLANs by their numbers: they have no other numbers, and are called as these records' own field
 * is, perhaps with a word before it, or have many of them, each once beside an address. A network so says on which VLAN it is, and the VLAN on
 * which port. By field the key, which is made where the records have none.
 */
export function tagLinks(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
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
  // What many kinds of record go by counts them.
  const columns = new Map<string, number>();
  for (const field of numbers)
    if (isColumn(field)) columns.set(leafName(field), (columns.get(leafName(field)) ?? 0) + 1);
  const own = numbers.filter(
    (field) =>
      isColumn(field) &&
      columns.get(leafName(field))! <= MOST_COLUMNS &&
      (field.values.length > 1 || isVlanWord(leafName(field))) &&
      (tagFields.has(field.index) || isVlan(field, () => listOf(field.rowShape))),
  );
  if (own.length === 0 || own.length > MOST_TABLES) return links;
  const tables = own.map((field) => ({ field, name: letters(leafName(field)), known: new Set(field.distinct) }));
  const goBy = new Set(keys.keys.flatMap(({ field, best }) => (best ? [field] : [])));
  for (const field of numbers) {
    if (goBy.has(field)) continue;
    const called = letters(leafName(field));
    const { tokens } = readers[field.index]!.counts;
    const all = tables.filter(
      ({ field: tags, known }) => field.rowShape !== tags.rowShape && tokens.every((token) => known.has(token)),
    );
    const named = all.filter(({ name }) => called.endsWith(name));
    const isChance = !isColumn(field) || !areNoCounts(tokens) || !listOf(field.rowShape).some(isAddresses);
    const found = named.length > 0 || isChance ? named : all;
    if (found.length === 1) links.set(field.index, keyOn(found[0]!.field, keys, { vlans: true }).index);
  }
  return links;
}

const isAddresses = ({ values }: FieldData): boolean => kindOf(values[0]!) === 'address';

const areNoCounts = (tokens: readonly string[]): boolean =>
  tokens.filter((token) => Number(token) > COUNTS).length >= NO_CHANCE;

const isColumn = (field: FieldData): boolean => field.rowShape !== -1 && isOneEach(field);

/** Whether a small record without an address goes by numbers that VLANs have rather than by a count. */
function isVlan(field: FieldData, listOf: () => readonly FieldData[]): boolean {
  if (!isVlanWord(leafName(field)) && !field.distinct.some((value) => Number(value) > COUNTS)) return false;
  const list = listOf();
  return list.length <= MOST_FIELDS && !list.some(isAddresses);
}
