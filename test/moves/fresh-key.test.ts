import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { freshKey } from '../../src/core/compile/fresh-key.ts';
import { isUuid } from '../../src/core/values/ids.ts';
import { runs } from '../laws/seed.ts';

const key = (pattern: string, used: string[] = [pattern], taken: string[] = []) =>
  freshKey(pattern, new Set(used), (one) => taken.includes(one), 'seed', 'cards');

describe('keys of new records', () => {
  test('numbers go on, as wide as they are', () => {
    expect(key('3', ['1', '2', '3'])).toBe('4');
    expect(key('1', ['1', '7'])).toBe('8');
    expect(key('007', ['007', '003'])).toBe('008');
    expect(key('3', ['3'], ['4', '5'])).toBe('6');
  });

  test('words are told by what they are for', () => {
    expect(key('office', ['office', 'guest'])).toBe('cards');
    expect(key('office', ['office', 'cards'])).toBe('cards-2');
  });

  // RFC 9562, 4: the version is the 13th digit, the variant the first of the 17th.
  test('a UUID keeps its version and variant, its case and its braces', () => {
    fc.assert(
      fc.property(fc.uuid({ version: [1, 4, 7] }), fc.boolean(), fc.boolean(), (uuid, upper, braces) => {
        const cased = upper ? uuid.toUpperCase() : uuid;
        const pattern = braces ? `{${cased}}` : cased;
        const fresh = key(pattern);
        const plain = fresh.replace(/[{}]/g, '');
        expect(isUuid(fresh)).toBe(true);
        expect(fresh).not.toBe(pattern);
        expect(plain[14]).toBe(cased[14]);
        expect(plain[19]).toBe(cased[19]);
        expect(fresh.startsWith('{')).toBe(braces);
        if (/[A-F]/.test(cased)) expect(fresh).toBe(fresh.toUpperCase());
      }),
      runs(300),
    );
  });

  test('hexadecimal keys keep their length; the same question has the same answer; taken ones are passed over', () => {
    const first = key('2870c44478274');
    expect(first).toMatch(/^[0-9a-f]{13}$/);
    expect(key('2870c44478274')).toBe(first);
    expect(key('2870c44478274', ['2870c44478274'], [first])).not.toBe(first);
  });
});
