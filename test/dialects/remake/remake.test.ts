import { readFileSync } from 'node:fs';
import { XMLValidator } from 'fast-xml-parser';
import { describe, expect, test } from 'vitest';
import { faults, readPaths } from '../check.ts';
import { remadeCorpus } from './corpus.ts';
import { allRecords } from './model.ts';
import { readModel } from './read.ts';

const SEEDS = Array.from({ length: 80 }, (_, i) => i + 1);
const corpus = new URL('../../fixtures/corpus/', import.meta.url);

describe('corpus files written anew', { timeout: 60_000 }, () => {
  test('are read with everything that the truth of the corpus says', () => {
    for (let i = 1; i <= 12; i++) {
      const name = `a${String(i).padStart(2, '0')}`;
      const truth = JSON.parse(readFileSync(new URL(`${name}.truth.json`, corpus), 'utf8'));
      const records = allRecords(readModel(readFileSync(new URL(`${name}.xml`, corpus)), truth));
      const fields = records.flatMap((rec) => rec.fields);
      const items = fields.flatMap((field) => field.items);
      expect(items.filter(({ ref }) => ref !== undefined).length, name).toBe(truth.refs.length);
      expect(items.filter(({ gone }) => gone !== undefined).length, name).toBe(truth.dangling.length);
      expect(items.filter(({ port }) => port !== undefined).length, name).toBe(truth.ports.length);
      for (const [mark, list] of [
        ['secret', truth.secrets],
        ['certificate', truth.certificates],
        ['hardware', truth.hardware],
      ] as const)
        expect([...records, ...fields].filter((one) => one.truth.includes(mark)).length, name).toBe(list.length);
    }
  });

  test('are well formed, and file and truth agree by another parser', () => {
    for (const seed of SEEDS) {
      const { xml, truth, name } = remadeCorpus(seed);
      // fast-xml-parser's validator and saxes are both independent of the writer under test.
      expect(XMLValidator.validate(xml), name).toBe(true);
      expect(faults(xml, truth), name).toEqual([]);
      expect(truth.refs.length, name).toBeGreaterThan(20);
    }
  });

  test('hold the key of every record that is named, in the record', () => {
    for (const seed of SEEDS) {
      const { xml, truth, name } = remadeCorpus(seed);
      const paths = readPaths(xml);
      const ports = new Set(truth.ports.map(({ at, value }) => `${at} ${value}`));
      const inside = new Map<string, string>();
      for (const { at, value, to, to_any = [] } of truth.refs) {
        // A device's name may only be made of port and number.
        if (ports.has(`${at} ${value}`)) continue;
        const own = [to, ...to_any].map((path) => {
          const text =
            inside.get(path) ??
            [...paths]
              .filter(([p]) => p.startsWith(path))
              .map(([, t]) => t)
              .join('\n');
          inside.set(path, text);
          return text;
        });
        expect(
          own.some((text) => text.includes(value)),
          `${name} ${at} ${value}`,
        ).toBe(true);
      }
    }
  });

  test('are the same for the same seed', () => {
    expect(remadeCorpus(7).xml).toBe(remadeCorpus(7).xml);
    expect(remadeCorpus(7).xml).not.toBe(remadeCorpus(8).xml);
  });
});
