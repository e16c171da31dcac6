import { type FieldData, leafName } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';

/** True for 1, 2, 3 and so on from record to record. */
export function isSequence({ values, tag }: FieldData): boolean {
  return !tag && values.length >= 2 && values.every((value, at) => value === String(at + 1));
}

/** True for numbers that go up by one from place to place: an order or a weight. */
export function isOrder(values: readonly string[]): boolean {
  return values.every((value, at) => at === 0 || Number(value) === Number(values[at - 1]) + 1);
}

/** True for an order that begins where counts do: what has as many records in the same order fits it by chance. */
export const isOwnCount = (values: readonly string[]): boolean =>
  values.length > 1 && Number(values[0]) <= 1 && isOrder(values);

/** True for numbers of which each is as far from the last as the first from none: `10`, `20`, `30`. */
export const isInSteps = (values: readonly string[]): boolean =>
  values.length > 2 &&
  Number(values[0]) > 1 &&
  values.every((value, at) => Number(value) === Number(values[0]) * (at + 1));

/** Keys by which one count goes through several kinds of record: each goes up, no two share a number, none is far away. */
export function oneCount(keys: readonly KeyField[]): ReadonlySet<KeyField> {
  const rising = keys.filter(
    ({ kind, field: { values } }) =>
      kind === 'integer' && values.every((value, at) => at === 0 || Number(value) > Number(values[at - 1])),
  );
  const names = new Map<string, number>();
  for (const { field } of rising) names.set(leafName(field), (names.get(leafName(field)) ?? 0) + 1);
  rising.sort(
    ({ field: a }, { field: b }) =>
      names.get(leafName(b))! - names.get(leafName(a))! || b.values.length - a.values.length,
  );
  const taken = new Set<string>();
  let found: KeyField[] = [];
  for (const key of rising) {
    const { values } = key.field;
    if (values.some((value) => taken.has(value))) continue;
    for (const value of values) taken.add(value);
    found.push(key);
  }
  found.sort(({ field: a }, { field: b }) => Number(a.values[0]) - Number(b.values[0]));
  // The longest run of kinds that follow each other.
  let run: KeyField[] = [];
  let best: KeyField[] = [];
  let end = -Infinity;
  for (const key of found) {
    const { values } = key.field;
    if (Number(values[0]) > end + FAR) run = [];
    run.push(key);
    end = Math.max(end, Number(values[values.length - 1]));
    if (sizeOf(run) > sizeOf(best)) best = [...run];
  }
  found = best.length >= 3 && sizeOf(best) >= 12 ? best : [];
  return new Set(found);
}

/** Numbers of one count leave no larger gaps. */
const FAR = 40;

const sizeOf = (keys: readonly KeyField[]) => keys.reduce((sum, { field }) => sum + field.values.length, 0);
