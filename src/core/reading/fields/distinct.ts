import type { FieldData } from './fields.ts';
import { mapLong } from './long-lists.ts';

/** Each of some values once, in the order of their first places; how often it stands there; by place its index among them. */
export function distinctOf(values: readonly string[]): Pick<FieldData, 'distinct' | 'times' | 'which'> {
  const index = new Map<string, number>();
  const times: number[] = [];
  const which = mapLong(values, (value) => {
    let at = index.get(value);
    if (at === undefined) {
      at = index.size;
      index.set(value, at);
      times.push(0);
    }
    times[at]!++;
    return at;
  });
  return { distinct: [...index.keys()], times, which };
}
