import type { Reading } from '../../reading/reading.ts';

/**
 * Facts are gathered once for a reading; a plan only filters them. Values that the plan sets make another reading, which
 * shares with the first one what they do not touch: `by` names the part that a fact is made of, if not the whole.
 */
export function once<T>(
  make: (reading: Reading) => T,
  by: (reading: Reading) => object = (reading) => reading,
): (reading: Reading) => T {
  const made = new WeakMap<object, { readonly value: T }>();
  return (reading) => {
    const key = by(reading);
    const known = made.get(key);
    if (known) return known.value;
    const value = make(reading);
    made.set(key, { value });
    return value;
  };
}

/** Where values stand, which no plan changes. */
export const byStructure = (reading: Reading): object => reading.values.above;
/** What names what. */
export const byReferences = (reading: Reading): object => reading.references;
