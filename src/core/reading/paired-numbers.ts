import { type FieldData, leafName } from './fields.ts';

/** Numbers of two fields that together name a record: slot and socket. */
export interface Pair {
  /** The two fields of the records that name others. */
  readonly fields: readonly [FieldData, FieldData];
  /** By both numbers the row that they name. */
  readonly rows: ReadonlyMap<string, number>;
}

export const pairKey = (first: string, second: string): string => `${first} ${second}`;

/**
 * Two fields of small numbers that two kinds of record share by name, and that tell the records of one of them apart together,
 * but not each by itself: so the others name these. Null where there are none, or several.
 */
export function pairOf(list: readonly FieldData[], others: readonly FieldData[]): Pair | null {
  const own = list.filter(isSmall);
  if (own.length < 2) return null;
  const named = new Map(others.filter(isSmall).map((field) => [leafName(field), field]));
  const shared = own.filter((field) => named.has(leafName(field)));
  if (shared.length !== 2) return null;
  const [first, second] = shared as [FieldData, FieldData];
  const [one, other] = [named.get(leafName(first))!, named.get(leafName(second))!];
  if (isUnique(one) && isUnique(other)) return null;
  const numbers = new Map(other.rows.map((row, at) => [row, other.values[at]!]));
  const rows = new Map<string, number>();
  for (const [at, row] of one.rows.entries()) {
    const number = numbers.get(row);
    if (number === undefined) continue;
    const key = pairKey(one.values[at]!, number);
    if (rows.has(key)) return null;
    rows.set(key, row);
  }
  return { fields: [first, second], rows };
}

const isUnique = ({ distinct, values }: FieldData): boolean => distinct.length === values.length;

const isSmall = ({ several, tag, values, distinct }: FieldData): boolean =>
  !several && !tag && values.length > 1 && distinct.every((value) => /^\d{1,2}$/.test(value));
