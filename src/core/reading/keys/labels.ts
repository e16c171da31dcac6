import type { FieldData } from '../fields/fields.ts';
import { kindOf } from '../names/literals.ts';
import type { Secret } from '../reading.ts';
import type { KeyTable } from './key-table.ts';

/** Values looked at in one field. */
const SAMPLE = 200;

/**
 * For each shape of records the field that people read beside the key: words with blanks between them, in half of the
 * records or more, mostly other in each; where the key says nothing to people, often the same words will do, too, and beside
 * keys that only count, single words that are another in each. A field that
 * names other records for certain is none, and one that holds a secret is never one, since labels are
 * shown.
 */
export function labelFieldsOf(
  fields: readonly FieldData[],
  keys: KeyTable,
  secrets: readonly Secret[],
  namesOthers: (field: FieldData) => boolean,
): Map<number, FieldData> {
  const secret = new Set(secrets.map(({ site }) => `${site.node} ${site.attr}`));
  const bestKeys = keys.keys.filter(({ best }) => best);
  const keyed = new Set(bestKeys.map(({ field }) => field));
  const counting = new Set(bestKeys.filter(({ field }) => areCounted(field.distinct)).map(({ shape }) => shape));
  const telling = new Set(
    bestKeys.filter(({ kind }) => kind !== 'opaque' && kind !== 'integer').map(({ shape }) => shape),
  );
  const best = new Map<number, { field: FieldData; weight: number }>();
  const rows = new Map<number, number>();
  for (const { rowShape, values } of fields) rows.set(rowShape, Math.max(values.length, rows.get(rowShape) ?? 0));
  for (const field of fields) {
    if (field.rowShape === -1 || field.several || field.tag || keyed.has(field)) continue;
    if (field.values.length * 2 < rows.get(field.rowShape)!) continue;
    const prose = proseIn(field, telling.has(field.rowShape) ? 0.5 : 0.1);
    const weight = prose === 0 && counting.has(field.rowShape) ? wordsIn(field) : prose;
    if (weight <= (best.get(field.rowShape)?.weight ?? 0) || namesOthers(field)) continue;
    if (field.nodes.some((node, at) => secret.has(`${node} ${field.attrs[at]}`))) continue;
    best.set(field.rowShape, { field, weight });
  }
  return new Map([...best].map(([shape, { field }]) => [shape, field]));
}

/** How much of a field is prose, from 0 to 1; 0 where that, or the share of distinct values, is too little for a label. */
function proseIn(field: FieldData, leastVariety: number): number {
  const seen = field.distinct.slice(0, SAMPLE);
  const prose = seen.filter((value) => value.length <= 200 && /\p{L}{2}/u.test(value) && /\S\s+\S/.test(value)).length;
  const share = prose / seen.length;
  const variety = field.distinct.length / field.values.length;
  return share < 0.4 || variety < leastVariety ? 0 : share * variety;
}

/** True for keys that are one short word and a number: `o17`, `o18`. */
function areCounted(keys: readonly string[]): boolean {
  const stem = counted.exec(keys[0] ?? '')?.[1];
  return keys.length > 1 && stem !== undefined && keys.every((key) => counted.exec(key)?.[1] === stem);
}

const counted = /^(\p{L}{1,4}[-_]?)\d+$/u;

/** Less than any prose where the values of a field are words, another in each; else 0. */
function wordsIn({ distinct, values }: FieldData): number {
  const words = distinct.length === values.length && values.length > 1 && !areCounted(distinct);
  return words && distinct.slice(0, SAMPLE).every((value) => kindOf(value) === 'name' && /\p{L}{2}/u.test(value))
    ? 0.01
    : 0;
}
