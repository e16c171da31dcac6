import { largestOf } from '../../lists.ts';
import type { Outline } from '../outline/outline.ts';
import { type FieldData, leafName } from './fields.ts';

/** Fewer counts may be right by chance. */
const FEWEST = 3;
/** Share of the counts that have to be right: some things may have been left out of a list by hand. */
const RIGHT = 0.9;

/** Fields that say how many elements stand beside them, as `rows="44"` does: they name nothing. */
export function inventoriesAmong(fields: readonly FieldData[], outline: Outline): ReadonlySet<FieldData> {
  const byName = new Map<string, FieldData[]>();
  for (const field of fields) {
    if (field.tag || field.virtual || field.several || !field.distinct.every(isCount)) continue;
    // Attributes of what is called by another are called as they are written.
    const step = field.steps.at(-1) ?? '';
    const name = step.startsWith('@') ? step : leafName(field);
    const alike = byName.get(name);
    if (alike) alike.push(field);
    else byName.set(name, [field]);
  }
  const found = new Set<FieldData>();
  for (const alike of byName.values()) if (areRight(alike, outline)) for (const field of alike) found.add(field);
  return found;
}

const isCount = (value: string) => value.length <= 6 && /^\d+$/.test(value);

/** Whether nearly all counts of one name are right, and some count several things. */
function areRight(alike: readonly FieldData[], outline: Outline): boolean {
  let right = 0;
  let wrong = 0;
  const counts = new Set<number>();
  for (const { at, values } of alike)
    for (const [place, node] of at.entries()) {
      const count = Number(values[place]);
      if (amountsIn(outline, outline.parent[node]!).includes(count)) {
        right++;
        counts.add(count);
      } else if (++wrong > FEWEST && wrong > right) return false;
    }
  return right >= FEWEST && right >= (right + wrong) * RIGHT && largestOf(counts) >= FEWEST && counts.size > 1;
}

/** How many elements an element holds: of the name that most have, and in all. */
function amountsIn(outline: Outline, holder: number): readonly [most: number, all: number] {
  const times = new Map<number, number>();
  let most = 0;
  let all = 0;
  for (let at = holder + 1; at < outline.after[holder]!; at = outline.after[at]!) {
    if (outline.attr[at]! < 0) all++;
    const count = (times.get(outline.label[at]!) ?? 0) + 1;
    times.set(outline.label[at]!, count);
    if (count > most) most = count;
  }
  return [most, all];
}
