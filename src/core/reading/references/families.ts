import type { KeyField } from '../keys/key-table.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Facts } from './facts.ts';

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
  for (const family of [...families.values(), ...codesAmong(keys, leaf)]) {
    if (family.length < 2 || !areApart(family)) continue;
    for (const { index } of family) of[index] = number;
    number++;
  }
  return of;
}

/** Keys by which records go by one word for their kind and a number, as `pt1` and `sw4`: those of one name, wherever they stand. */
function codesAmong(keys: readonly KeyField[], leaf: readonly string[]): Iterable<readonly KeyField[]> {
  const families = new Map<string, Map<string, KeyField>>();
  for (const key of keys) {
    const { field, kind } = key;
    const word = field.tag || kind !== 'name' ? null : wordOf(field.distinct);
    if (word === null) continue;
    const name = leaf[field.index]!;
    const family = families.get(name);
    if (!family) families.set(name, new Map([[word, key]]));
    else if (!family.has(word)) family.set(word, key);
  }
  return [...families.values()].map((family) => [...family.values()]);
}

/** The one word that stands before the numbers of all names; null for none. */
function wordOf(names: readonly string[]): string | null {
  const word = coded.exec(names[0]!)?.[1];
  return word !== undefined && names.every((name) => coded.exec(name)?.[1] === word) ? word : null;
}

const coded = /^(\p{L}{1,4})\d{1,4}$/u;

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

/** So much stronger a key is that names records rather than a family of others does. */
const BETTER = 0.5;

/** Tokens that other keys of a key's family hold; none where one better key, outside of it, holds them all by itself. */
export function kinOf(
  key: number,
  own: readonly number[],
  found: readonly (readonly [key: number, tokens: readonly number[]])[],
  facts: Facts,
  keys: readonly KeyField[],
): readonly number[] {
  const family = facts.family[key]!;
  if (family === -1) return [];
  const kin = found.flatMap(([index, tokens]) => (index !== key && facts.family[index] === family ? tokens : []));
  if (kin.length === 0) return kin;
  const all = new Set([...own, ...kin]);
  const isHeld = ([index, tokens]: (typeof found)[number]) =>
    facts.family[index] !== family &&
    tokens.length >= all.size &&
    keys[index]!.strength > keys[key]!.strength + BETTER &&
    facts.mayBeMeant(keys[index]!) &&
    tokens.filter((token) => all.has(token)).length === all.size;
  return found.some(isHeld) ? [] : kin;
}
