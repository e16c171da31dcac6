import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { recordPath } from '../../src/core/compile/spread.ts';
import { build, type Decision, planOf } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { chance } from '../checks/chance.ts';
import { fixtures, opened } from '../checks/support.ts';

// Each line of the file has its number in `n` and, in `up`, the number of the line that it lies in; 0 for none.
const file = opened(readFileSync(`${fixtures}layouts/almanac.xml`));
const { tree } = file.backup;

const left = (decisions: readonly Decision[]): string => {
  const built = build(file.backup, file.reading, planOf(decisions));
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return new TextDecoder().decode(built.value.bytes);
};
const numbers = (text: string) => [...text.matchAll(/ n="(\d+)" up="(\d+)"/g)].map(([, n, up]) => [n!, up!] as const);
const orphans = (text: string): string[] => {
  const own = new Set(['0', ...numbers(text).map(([n]) => n)]);
  return numbers(text).flatMap(([n, up]) => (own.has(up) ? [] : [n]));
};
const leave = (path: string): Decision => ({ kind: 'leave-out', path });
const keep = (path: string): Decision => ({ kind: 'keep', path });

describe('lines that name the one that they lie in by its number', () => {
  const zone = file.reading.roles[0]!.node;
  const whole = recordPath(tree, file.reading, zone);

  test('what lies in a line goes with it: alone it is as good as the record', () => {
    expect(whole).toBe(`${pathOf(tree, zone)}/record()`);
    const result = left([leave(pathOf(tree, zone))]);
    expect(result).toBe(left([leave(whole)]));
    expect(numbers(result).length).toBeLessThan(numbers(left([])).length - 1);
  });

  test('what is kept keeps the lines around it', () => {
    const result = left([leave('/almanac[1]/section(zones)'), keep(whole)]);
    expect(orphans(result)).toEqual([]);
    // Read by eye: the list of the zones, and the five lines of the one that is kept.
    expect(numbers(result)).toHaveLength(numbers(left([leave('/almanac[1]/section(zones)')])).length + 6);
  });

  test('a value that is kept in a record that is left out keeps its record', () => {
    const value = pathOf(tree, zone).replace(/\d+(?=\]$)/, (at) => String(Number(at) + 1));
    const result = left([leave(pathOf(tree, zone)), keep(value)]);
    expect(orphans(result)).toEqual([]);
    expect(numbers(result)).toHaveLength(numbers(left([leave(pathOf(tree, zone))])).length + 2);
  });

  test('no plan leaves a line without the one that it lies in', () => {
    const next = chance(21);
    const paths = numbers(left([])).map((_, at) => `/almanac[1]/e[${at + 1}]`);
    for (let round = 0; round < 60; round++) {
      const decisions = new Map<string, Decision>();
      for (let count = 1 + next(12); count > 0; count--) {
        const path = paths[1 + next(paths.length - 1)]!;
        decisions.set(path, next(3) > 0 ? leave(path) : keep(path));
      }
      expect([round, orphans(left([...decisions.values()]))]).toEqual([round, []]);
    }
  });
});
