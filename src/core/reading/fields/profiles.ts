import type { Makers } from '../box-bound/makers.ts';
import { type Kind, kindOf } from '../names/literals.ts';
import type { FieldData } from './fields.ts';

/** What the values of a field are. */
export interface FieldProfile {
  /** Distinct values. */
  readonly distinct: number;
  readonly kind: Kind;
  /** Share of values of that kind. */
  readonly share: number;
}

/** No more distinct values are looked at. */
const LIMIT = 2000;

export function profileOf(field: FieldData, makers: Makers): FieldProfile {
  if (makers.areMacs(field.distinct)) return { distinct: field.distinct.length, kind: 'mac', share: 1 };
  const kinds = new Map<Kind, number>();
  let seen = 0;
  for (const value of field.distinct) {
    const kind = kindOf(value);
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    if (++seen >= LIMIT) break;
  }
  let kind: Kind = 'name';
  let count = 0;
  for (const [one, times] of kinds) if (times > count) [kind, count] = [one, times];
  return { distinct: field.distinct.length, kind, share: count / Math.max(1, seen) };
}
