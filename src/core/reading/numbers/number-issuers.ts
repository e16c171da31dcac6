import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, isOneEach } from '../fields/fields.ts';
import { kindOf } from '../names/literals.ts';
import type { Given } from '../references/facts.ts';
import type { Group } from './number-groups.ts';
import type { Table } from './number-tables.ts';

/** By kind of record that holds certificates, what their issuers are called there. */
export function issuersOf({ fields, keys, proofs }: Given): ReadonlyMap<number, ReadonlySet<string>> {
  const issuers = new Map<number, Set<string>>();
  for (const [field, byKey] of proofs)
    for (const [key, proof] of byKey) {
      if (proof !== 'issuer') continue;
      const { rowShape } = fields[field]!;
      const names = issuers.get(rowShape) ?? new Set();
      issuers.set(rowShape, names);
      for (const name of keys.keys[key]!.field.distinct) names.add(name);
    }
  return issuers;
}

/**
 * Whether numbers stand beside the name of what issued the certificates of a table: records that all name an authority, and
 * by a number each something else, show a certificate of that authority.
 */
export function issuedBeside(given: Given): (group: Group, table: Table) => boolean {
  const { fields, leaf } = given;
  const issuers = issuersOf(given);
  if (issuers.size === 0) return () => false;
  const byShape = fieldsByShape(fields);
  const times = new Map<string, number>();
  for (const name of leaf) times.set(name, (times.get(name) ?? 0) + 1);
  // A number that is the same in all records may be anything, but where no other field is called so.
  const names = ({ index, values, distinct, tag }: FieldData, count: number, authorities: ReadonlySet<string>) =>
    !tag &&
    values.length === count &&
    distinct.every((value) => authorities.has(value)) &&
    (kindOf(distinct[0]!) !== 'integer' || (distinct.length === 1 && times.get(leaf[index]!) === 1));
  const isBeside = (index: number, shape: number, authorities: ReadonlySet<string>): boolean => {
    const field = fields[index]!;
    if (field.rowShape === shape || field.values.length < 2 || !isOneEach(field)) return false;
    return byShape
      .get(field.rowShape)!
      .some((other) => other !== field && names(other, field.values.length, authorities));
  };
  return (group, { key }) => {
    const authorities = issuers.get(key.shape);
    if (!authorities || group.suffixed) return false;
    const many = group.fields.filter((index) => fields[index]!.values.length > 1);
    return many.length > 0 && many.every((index) => isBeside(index, key.shape, authorities));
  };
}
