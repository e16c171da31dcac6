import { fieldsByShape } from './by-shape.ts';
import { isTag } from './device-forms.ts';
import type { Devices } from './device-set.ts';
import { type FieldData, leafName } from './fields.ts';
import type { KeyField, KeyTable } from './key-table.ts';
import { kindOf } from './literals.ts';
import { letters } from './number-names.ts';
import type { Reader } from './tokens.ts';
import { isVlanWord } from './vlan-ids.ts';

/** Above it a number is hardly a count. */
const COUNTS = 64;
/** Records that define a VLAN hold little more. */
const MOST_FIELDS = 8;
/** Their number stands in few other kinds of record, once each. */
const MOST_COLUMNS = 3;
/** Files have few kinds of such records. */
const MOST_TABLES = 20;

/**
 * Fields that name the records of VLANs by their numbers: they are called as these records' own field is, perhaps with a word
 * before it, and have no other numbers. A network so says on which VLAN it is, and the VLAN on which port. By field the key, which is made where the
 * records have none.
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
    const found = tables.filter(
      ({ field: tags, name, known }) =>
        field.rowShape !== tags.rowShape && called.endsWith(name) && tokens.every((token) => known.has(token)),
    );
    if (found.length === 1) links.set(field.index, keyOf(found[0]!.field, keys).index);
  }
  return links;
}

const isColumn = ({ several, distinct, values, rowShape }: FieldData): boolean =>
  !several && rowShape !== -1 && distinct.length === values.length;

/** Whether a small record without an address goes by numbers that VLANs have rather than by a count. */
function isVlan(field: FieldData, listOf: () => readonly FieldData[]): boolean {
  if (!isVlanWord(leafName(field)) && !field.distinct.some((value) => Number(value) > COUNTS)) return false;
  const list = listOf();
  return list.length <= MOST_FIELDS && !list.some(({ values }) => kindOf(values[0]!) === 'address');
}

function keyOf(field: FieldData, keys: KeyTable): KeyField {
  const known = keys.keys.find((key) => key.field === field);
  if (known) return known;
  const key: KeyField = {
    index: keys.keys.length,
    field,
    shape: field.rowShape,
    strength: 0,
    best: false,
    bestOfKind: !keys.keys.some(({ shape, kind }) => shape === field.rowShape && kind === 'integer'),
    kind: 'integer',
    rows: field.rows.length,
    scope: -1,
    vlans: true,
  };
  keys.add(key, field.values, field.rows);
  return key;
}
