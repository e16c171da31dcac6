import type { FieldData } from './fields.ts';
import { type Kind, kindOf } from './literals.ts';

/** What the values of a field are. */
export interface FieldProfile {
  /** Distinct values. */
  readonly distinct: number;
  readonly kind: Kind;
  /** Share of values of that kind. */
  readonly share: number;
}

export function profileOf(field: FieldData, limit = 2000): FieldProfile {
  const kinds = new Map<Kind, number>();
  let seen = 0;
  for (const value of field.distinct) {
    const kind = kindOf(value);
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    if (++seen >= limit) break;
  }
  let kind: Kind = 'name';
  let count = 0;
  for (const [one, times] of kinds) if (times > count) [kind, count] = [one, times];
  return { distinct: field.distinct.length, kind, share: count / Math.max(1, seen) };
}
