import type { KeyField } from './key-table.ts';
import type { Structure } from './structure.ts';

/**
 * Records of several kinds that stand side by side and go by fields of one name: hosts, networks and groups in one book. What
 * names some of them may name the others. By key the number of its family; -1 for a key without kin.
 */
export function familiesOf(keys: readonly KeyField[], leaf: readonly string[], { shapes }: Structure): Int32Array {
  const families = new Map<string, KeyField[]>();
  for (const key of keys) {
    const { above, step } = shapes[key.shape]!;
    if (!key.best || key.field.tag || key.kind === 'integer' || above === -1 || step === '*') continue;
    const id = `${above} ${leaf[key.field.index]!}`;
    const family = families.get(id);
    if (family) family.push(key);
    else families.set(id, [key]);
  }
  const of = new Int32Array(keys.length).fill(-1);
  let number = 0;
  for (const family of families.values()) {
    if (family.length < 2 || !areApart(family)) continue;
    for (const { index } of family) of[index] = number;
    number++;
  }
  return of;
}

/** True for keys of one family. */
export const areKin = (family: Int32Array, one: KeyField, other: KeyField): boolean =>
  family[one.index] !== -1 && family[one.index] === family[other.index];

/** Whether no two of the keys share a name: one list of names goes through all of them. */
function areApart(family: readonly KeyField[]): boolean {
  const seen = new Set<string>();
  for (const { field } of family)
    for (const value of field.distinct) {
      if (seen.has(value)) return false;
      seen.add(value);
    }
  return true;
}
