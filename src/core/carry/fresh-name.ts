import { freshKey } from '../compile/fresh-key.ts';
import { kindOf } from '../reading/names/literals.ts';

/**
 * The n-th other name for a record whose key is taken: `office` is `office-2`, then `office-3`; numbers and identifiers
 * stay what they are. The same question gets the same answer.
 * @param taken keys that it must not be.
 * @param turn from 1.
 */
export function freshName(key: string, taken: ReadonlySet<string>, turn: number): string {
  const used = new Set(taken);
  used.add(key);
  const word = /^\d+$/.test(key) || kindOf(key) === 'opaque' ? key : key.replace(/-\d+$/, '');
  let name = key;
  for (let at = 0; at < turn; at++) {
    name = freshKey(key, used, () => false, key, word);
    used.add(name);
  }
  return name;
}
