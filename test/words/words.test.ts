import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Finding, FindingCode, TroubleCode } from '../../src/core/index.ts';
import { findingCodes, findingWords } from '../../src/words/findings.ts';
import { count, list, ranges, size } from '../../src/words/numbers.ts';
import { plain, say, value } from '../../src/words/said.ts';
import { placeWords, troubleCodes, troubleWords } from '../../src/words/trouble.ts';
import { weightOf } from '../../src/words/weights.ts';

/** The codes of a union type, as they stand in the source. */
function unionOf(file: string, type: string): string[] {
  const text = readFileSync(fileURLToPath(new URL(`../../src/core/${file}`, import.meta.url)), 'utf8');
  const union = new RegExp(`type ${type} =([^;]+);`).exec(text)?.[1] ?? '';
  return [...union.matchAll(/'([^']+)'/g)].map((match) => match[1]!);
}

const finding = (code: FindingCode, severity: Finding['severity'], params = {}): Finding => ({
  code,
  severity,
  place: null,
  params,
  byPlan: false,
});

/** What the house says of its texts: short, present, no blame, no exclamation marks. */
function expectPlain(text: string): void {
  expect(text).not.toMatch(/!|undefined|null|NaN|\[object|invalid|illegal|fatal|oops|sorry|please/i);
  expect(text.trim()).toBe(text);
  expect(text.length).toBeGreaterThan(3);
}

describe('words for trouble', () => {
  const codes = unionOf('trouble.ts', 'TroubleCode') as TroubleCode[];

  it('covers every code', () => {
    expect(codes.length).toBeGreaterThan(20);
    expect([...troubleCodes].sort()).toEqual([...codes].sort());
  });

  it.each(codes)('%s: a title, a sentence that ends, and advice', (code) => {
    const { title, sentence, advice } = troubleWords({
      code,
      params: {
        look: 'gzip',
        reason: 'a reason',
        open: 'a',
        limit: 10,
        size: 20,
        char: 'x',
        port: 'p',
        from: 'q',
        path: '/a[1]',
        element: 'a',
      },
    });
    expectPlain(title);
    expectPlain(plain(sentence));
    expectPlain(advice);
    expect(title).not.toMatch(/[.]$/);
    expect(plain(sentence)).toMatch(/[.]$/);
    expect(advice).toMatch(/[.]$/);
  });

  it('names every look that a refused file can have', () => {
    const looks = unionOf('text/sniff.ts', 'Look');
    expect(looks.length).toBeGreaterThan(10);
    const sentences = looks.map((look) => plain(troubleWords({ code: 'other-format', params: { look } }).sentence));
    expect(new Set(sentences).size).toBeGreaterThan(looks.length - 2);
  });

  it('says the place', () => {
    expect(placeWords({ code: 'truncated', line: 1162, column: 24 })).toBe('line 1,162, column 24');
    expect(placeWords({ code: 'byte-nul', offset: 9 })).toBe('byte 10');
    expect(placeWords({ code: 'empty-file' })).toBe('');
  });
});

describe('words for findings', () => {
  const codes = unionOf('views/findings.ts', 'FindingCode') as FindingCode[];

  it('covers every code', () => {
    expect(codes.length).toBeGreaterThan(10);
    expect([...findingCodes].sort()).toEqual([...codes].sort());
  });

  it.each(codes)('%s: what is wrong, and why it matters', (code) => {
    const { what, why } = findingWords(
      finding(code, 'warning', {
        trouble: 'plan-port-missing',
        value: 'v',
        field: 'f',
        target: 't',
        nearest: 'n',
        port: 'p',
        to: 'q',
        from: 'r',
        reason: 'console',
        label: 'l',
        found: 'utf-8',
        key: 'k',
        subject: 's',
        notAfter: '2026-01-01T00:00:00Z',
        prefix: 'x',
      }),
    );
    expectPlain(plain(what));
    expectPlain(why);
    expect(plain(what)).toMatch(/[.]$/);
    expect(why).toMatch(/[.]$/);
  });

  it('weighs: what keeps the file from loading above what breaks one thing', () => {
    expect(weightOf(finding('port-doubled', 'error'))).toBe('stop');
    expect(weightOf(finding('reference-left-out', 'error'))).toBe('break');
    expect(weightOf(finding('reference-dangling', 'warning'))).toBe('check');
    expect(weightOf(finding('port-in-remark', 'note'))).toBe('note');
    expect(weightOf(finding('plan-entry', 'error', { trouble: 'plan-port-missing' }))).toBe('check');
    expect(weightOf(finding('plan-entry', 'error', { trouble: 'plan-path-missing' }))).toBe('stop');
  });
});

describe('numbers and sentences', () => {
  it('counts with the noun', () => {
    expect([0, 1, 2, 1834].map((amount) => count(amount, 'record'))).toEqual([
      'no records',
      '1 record',
      '2 records',
      '1,834 records',
    ]);
    expect(count(2, 'entry', 'entries')).toBe('2 entries');
  });

  // Decimal prefixes: IEC 80000-13, from memory.
  it('writes sizes with decimal prefixes', () => {
    expect([0, 1, 999, 1000, 31_547, 999_949, 999_950, 10_200_000, 209_715_200].map(size)).toEqual([
      'no bytes',
      '1 byte',
      '999 bytes',
      '1.0 kB',
      '31.5 kB',
      '1,000 kB',
      '1.0 MB',
      '10.2 MB',
      '210 MB',
    ]);
  });

  it('ranges', () => {
    expect(ranges([])).toBe('');
    expect(ranges([7])).toBe('7');
    expect(ranges([3, 1, 2, 9, 10, 7, 2])).toBe('1–3, 7, 9–10');
    expect(ranges([1, 3, 5, 7], 2)).toBe('1, 3 …');
  });

  it('lists', () => {
    expect(list([])).toBe('');
    expect(list(['a'])).toBe('a');
    expect(list(['a', 'b'])).toBe('a and b');
    expect(list(['a', 'b', 'c', 'd'])).toBe('a, b, c and d');
    expect(list(['a', 'b', 'c', 'd', 'e'])).toBe('a, b, c and 2 more');
  });

  it('keeps values apart from words', () => {
    const inner = say` There is ${value('b')}.`;
    const said = say`Field ${value('a')} is ${3} long.${inner}`;
    expect(said).toEqual(['Field ', { value: 'a' }, ' is 3 long. There is ', { value: 'b' }, '.']);
    expect(plain(said)).toBe('Field “a” is 3 long. There is “b”.');
  });
});
