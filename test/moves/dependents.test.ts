import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { backupView, dependentsOf, planOf, planView } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { fixtures } from '../corpus/files.ts';
import { runs } from '../laws/seed.ts';
import { corpusFiles, dialectFiles, schoolFiles } from './support.ts';

const files = [...corpusFiles, ...schoolFiles, ...dialectFiles];

describe('what follows a record', () => {
  test('left out with all that needs it, nothing that goes over points at nothing', () => {
    const records = fc.constantFrom(...files).chain((file) => {
      const all = file.reading.collections.flatMap((one) => one.records);
      return fc.tuple(fc.constant(file), fc.constantFrom(...all));
    });
    fc.assert(
      fc.property(records, ([file, node]) => {
        const path = pathOf(file.backup.tree, node);
        const { all } = dependentsOf(file.backup, file.reading, path)!;
        const paths = [path, ...all.map((one) => one.path)];
        const plan = planOf(paths.map((one) => ({ kind: 'leave-out' as const, path: one })));
        const cut = planView(file.backup, file.reading, plan).findings.filter(
          ({ code }) => code === 'reference-left-out',
        );
        expect([file.name, path, cut]).toEqual([file.name, path, []]);
      }),
      runs(150),
    );
  }, 120_000);

  test('none of them lies in another, and each says what it needs', () => {
    for (const file of corpusFiles) {
      for (const { node } of file.reading.roles) {
        const path = pathOf(file.backup.tree, node);
        const { all } = dependentsOf(file.backup, file.reading, path)!;
        const gone = new Set([path, ...all.map((one) => one.path)]);
        for (const one of all) {
          expect(all.some((other) => other !== one && one.path.startsWith(`${other.path}/`))).toBe(false);
          expect([...gone].some((other) => one.because === other || one.because.startsWith(`${other}/`))).toBe(true);
        }
      }
    }
  });

  test('a path that names nothing has no answer', () => {
    expect(dependentsOf(files[0]!.backup, files[0]!.reading, '/nothing[1]/here[2]')).toBeNull();
  });
});

describe('what follows a role', () => {
  // The truth beside each corpus file was written with the file, not read from it; SOURCES.md tells where it comes from.
  test.each(corpusFiles.map((file) => [file.name, file] as const))(
    '%s: every reference of the truth is told of',
    (name, file) => {
      const truth = JSON.parse(readFileSync(`${fixtures}corpus/${name}.truth.json`, 'utf8')) as {
        refs: { at: string; to: string }[];
      };
      const { roles } = backupView(file.backup, file.reading);
      let seen = 0;
      for (const role of roles) {
        const places = role.follows.flatMap(({ places: some }) => some.map(({ path }) => path));
        for (const { at, to } of truth.refs) {
          if (to !== role.place.path || at.startsWith(to)) continue;
          seen++;
          expect(places.some((path) => at === path || at.startsWith(`${path}/`))).toBe(true);
        }
        for (const { count, places: some } of role.follows) expect(some.length).toBe(Math.min(50, count));
      }
      expect(seen).toBeGreaterThan(20);
    },
  );
});
