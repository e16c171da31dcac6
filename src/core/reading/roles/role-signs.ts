import { maybeMac } from '../../values/mac.ts';
import { type FieldData, isNearlyOneEach } from '../fields/fields.ts';
import type { KeyField, KeyTable } from '../keys/key-table.ts';
import { kindOf } from '../names/literals.ts';
import type { Reader } from '../names/tokens.ts';

/** The key of role records that a field of a joining record pairs with one to one, where no reference was found. */
export function pairedKey(field: FieldData, keys: KeyTable, isRole: (shape: number) => boolean): KeyField | null {
  if (field.distinct.length < 2 || field.distinct.length < field.values.length) return null;
  const hits = new Map<number, number>();
  for (const value of field.distinct) {
    keys.each(value, (index) => {
      if (keys.keys[index]!.field !== field) hits.set(index, (hits.get(index) ?? 0) + 1);
    });
  }
  const full = [...hits].filter(([, count]) => count === field.distinct.length).map(([index]) => keys.keys[index]!);
  const roles = full.filter((key) => isRole(key.shape) && key.rows <= field.distinct.length * 1.5);
  return roles.length === 1 ? roles[0]! : null;
}

export function isAddressField(field: FieldData, readers: readonly Reader[]): boolean {
  const { kinds } = readers[field.index]!.counts;
  const sample = kinds.slice(0, 20);
  return sample.length > 0 && sample.filter((kind) => kind === 'address').length >= sample.length * 0.7;
}

/** The same of values as they stand, before names are told in them. */
export function isAddresses({ values }: FieldData): boolean {
  const sample = values.slice(0, 20);
  return sample.filter((value) => kindOf(value) === 'address').length >= sample.length * 0.7;
}

/** Of leases and neighbours the hardware address may tell them apart; no network is called so. */
export const isHardware = ({ distinct }: FieldData): boolean =>
  distinct.every((value) => kindOf(value) === 'mac') || areBare(distinct);

/** Without marks they are no identifiers where the makers of the cards, the first half of the digits, are few. */
const areBare = (values: readonly string[]): boolean =>
  values.every(maybeMac) && new Set(values.map((value) => value.slice(0, 6))).size * 2 <= values.length;

/** A hardware address for each record, as ports have it; some may have that of another that they are a part of. */
export const isHardwareEach = (field: FieldData): boolean =>
  isNearlyOneEach(field) && (kindOf(field.values[0]!) === 'mac' || areBare(field.distinct));

export function isBestKey(field: FieldData, keys: KeyTable): boolean {
  return keys.keys.some((key) => key.field === field && key.best);
}

export function fieldIsKeyless(field: FieldData, keys: KeyTable): boolean {
  return !keys.keys.some((key) => key.field === field);
}
