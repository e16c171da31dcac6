import { largestOf } from '../lists.ts';
import { kindOf } from '../reading/names/literals.ts';
import { hashOf } from '../text/hash.ts';
import { isUuid } from '../values/ids.ts';

/**
 * A key of the shape of the others that none of them is: the next number, an identifier of the same digits, or a word.
 * The same question gets the same answer; there is no chance in it.
 * @param pattern the key that is copied.
 * @param used keys that are taken; `isUsed` asks for all others.
 * @param word what to call it where keys are words.
 */
export function freshKey(
  pattern: string,
  used: ReadonlySet<string>,
  isUsed: (key: string) => boolean,
  seed: string,
  word: string,
): string {
  const taken = (key: string) => used.has(key) || isUsed(key);
  if (/^\d+$/.test(pattern)) {
    const numbers = [...used].filter((key) => /^\d+$/.test(key)).map(Number);
    let next = largestOf([Number(pattern), ...numbers]) + 1;
    const written = () => String(next).padStart(pattern.startsWith('0') ? pattern.length : 1, '0');
    while (taken(written())) next++;
    return written();
  }
  if (kindOf(pattern) === 'opaque') {
    for (let round = 0; ; round++) {
      const key = identifier(pattern, `${seed} ${round}`);
      if (kindOf(key) === 'opaque' && !taken(key)) return key;
    }
  }
  let key = word;
  for (let round = 2; taken(key); round++) key = `${word}-${round}`;
  return key;
}

/** Hexadecimal digits anew, marks and letter case kept; of a UUID also its version and variant (RFC 9562, 4). */
function identifier(pattern: string, seed: string): string {
  const upper = /[A-F]/.test(pattern);
  const start = pattern.startsWith('0x') || pattern.startsWith('{') ? (pattern.startsWith('{') ? 1 : 2) : 0;
  const kept = isUuid(pattern) ? [start + 14, start + 19] : [];
  let digits = '';
  for (let part = 0; digits.length < pattern.length; part++) digits += hashOf(`${seed} ${part}`);
  if (upper) digits = digits.toUpperCase();
  let key = pattern.slice(0, start);
  for (let at = start; at < pattern.length; at++)
    key += kept.includes(at) || !/[0-9a-fA-F]/.test(pattern[at]!) ? pattern[at]! : digits[at]!;
  return key;
}
