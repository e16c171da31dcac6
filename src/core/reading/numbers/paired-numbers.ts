import { type FieldData, leafName } from '../fields/fields.ts';
import { isHardwareEach } from '../roles/role-signs.ts';

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
 * but not each by itself: so the others name these. Where no two are called alike, two that stand side by side in both kinds, if
 * nothing but such records is named by them. Null where there are none, or several.
 */
export function pairOf(list: readonly FieldData[], others: readonly FieldData[]): Pair | null {
  const own = list.filter(isSmall);
  const named = new Map(others.filter(isSmall).map((field) => [leafName(field), field]));
  // What tells the records of both apart by itself counts them.
  const isCount = (field: FieldData) => isUnique(field) && isUnique(named.get(leafName(field))!);
  const shared = own.filter((field) => named.has(leafName(field)) && !isCount(field));
  if (own.length < 2) return null;
  const [first, second] = shared;
  if (shared.length > 2) return null;
  if (first && second) {
    const rows = toldApart(named.get(leafName(first))!, named.get(leafName(second))!);
    return rows && { fields: [first, second], rows };
  }
  const ways = besides(others).flatMap(([one, other]) => toldApart(one, other) ?? []);
  const [rows] = ways;
  if (!rows || ways.length > 1) return null;
  const pairs = besides(list).filter((fields) => nameAll(fields, rows));
  return pairs.length === 1 ? { fields: pairs[0]!, rows } : null;
}

/** Fields of numbers that name ports by two together, each by itself none: ports have a hardware address each. */
export function pairedFields(byShape: ReadonlyMap<number, readonly FieldData[]>): ReadonlySet<number> {
  const found = new Set<number>();
  for (const [ports, others] of byShape) {
    if (ports === -1 || !others.some(isHardwareEach) || others.filter(isSmall).length < 2) continue;
    for (const [shape, list] of byShape) {
      const pair = shape === ports || shape === -1 ? null : pairOf(list, others);
      for (const { index } of pair?.fields ?? []) found.add(index);
    }
  }
  return found;
}

/** By both numbers the rows that only these tell apart together; null where they do not, or one of them does. */
function toldApart(one: FieldData, other: FieldData): ReadonlyMap<string, number> | null {
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
  return rows;
}

/** Small numbers that stand side by side. */
const besides = (list: readonly FieldData[]): (readonly [FieldData, FieldData])[] =>
  list.flatMap((field, at) => {
    const next = list[at + 1];
    return next && isSmall(field) && isSmall(next) ? [[field, next] as const] : [];
  });

/** Whether both numbers stand in the same records, and each time name one. */
function nameAll([one, other]: readonly [FieldData, FieldData], rows: ReadonlyMap<string, number>): boolean {
  if (one.rows.length !== other.rows.length || other.distinct.length < 2) return false;
  return one.rows.every((row, at) => other.rows[at] === row && rows.has(pairKey(one.values[at]!, other.values[at]!)));
}

const isUnique = ({ distinct, values }: FieldData): boolean => distinct.length === values.length;

const isSmall = ({ several, tag, values, distinct }: FieldData): boolean =>
  !several && !tag && values.length > 1 && distinct.every((value) => /^\d{1,2}$/.test(value));
