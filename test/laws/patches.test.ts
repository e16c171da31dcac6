import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Patch, PatchError, PatchSet } from '../../src/core/patch/patch-set.ts';
import { runs } from './seed.ts';

/** A text and changes to it that do not overlap. */
const changed = fc.string({ maxLength: 60 }).chain((text) =>
  fc
    .uniqueArray(fc.nat(text.length), { maxLength: 12 })
    .map((cuts) => cuts.sort((a, b) => a - b))
    .chain((cuts) =>
      fc.array(fc.string({ maxLength: 5 }), { minLength: cuts.length, maxLength: cuts.length }).map((texts) => {
        const patches: Patch[] = [];
        for (let at = 0; at + 1 < cuts.length; at += 2) {
          patches.push({ start: cuts[at]!, end: cuts[at + 1]!, text: texts[at]!, owner: `d${at}` });
        }
        return { text, patches };
      }),
    ),
);

describe('laws of patch sets', () => {
  test('an empty set gives the same text', () => {
    fc.assert(
      fc.property(fc.string(), (text) => PatchSet.of(text, []).apply() === text),
      runs(200),
    );
  });

  test('apply, then invert, is the identity', () => {
    fc.assert(
      fc.property(changed, ({ text, patches }) => {
        const set = PatchSet.of(text, patches);
        expect(set.invert().apply(set.apply())).toBe(text);
      }),
      runs(2000),
    );
  });

  test('the order in which patches are given does not matter', () => {
    fc.assert(
      fc.property(changed, fc.infiniteStream(fc.nat()), ({ text, patches }, dice) => {
        const shuffled = patches.map((patch) => ({ patch, key: dice.next().value })).sort((a, b) => a.key - b.key);
        expect(
          PatchSet.of(
            text,
            shuffled.map(({ patch }) => patch),
          ).apply(),
        ).toBe(PatchSet.of(text, patches).apply());
      }),
      runs(500),
    );
  });

  test('units outside patches stay, and map tells where they are', () => {
    fc.assert(
      fc.property(changed, ({ text, patches }) => {
        const set = PatchSet.of(text, patches);
        const result = set.apply();
        for (let at = 0; at < text.length; at++) {
          if (patches.some(({ start, end }) => at >= start && at < end)) continue;
          expect(result[set.map(at, true)]).toBe(text[at]);
        }
        expect(set.map(text.length, true)).toBe(result.length);
      }),
      runs(1000),
    );
  });

  test('an overlap is refused and both owners are named', () => {
    const make = () =>
      PatchSet.of('abcdef', [
        { start: 0, end: 3, text: '', owner: 'leave-out /a' },
        { start: 2, end: 4, text: '', owner: 'rename-port b' },
      ]);
    expect(make).toThrow(PatchError);
    expect(make).toThrow(/leave-out \/a.*rename-port b/);
  });

  test.each([
    [-1, 2],
    [2, 1],
    [0, 7],
    [0.5, 1],
  ])('[%d, %d) is no span of six units', (start, end) => {
    expect(() => PatchSet.of('abcdef', [{ start, end, text: '', owner: 'x' }])).toThrow(PatchError);
  });

  test('a set refuses another text', () => {
    expect(() => PatchSet.of('abc', []).apply('abcd')).toThrow(/another text/);
    expect(() => PatchSet.of('abc', []).apply('abd')).toThrow(/another text/);
  });
});
