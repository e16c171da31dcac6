import { describe, expect, test } from 'vitest';
import { isHeldBack } from '../dialects/generate.ts';
import { remadeCorpus } from '../dialects/remake/corpus.ts';
import { MEASURES, type Measure, scoresOf, summary } from './score.ts';

/** Means, with a margin below what was measured; one file alone may still be read badly. */
const LEAST: Record<Measure, number> = { references: 0.95, dangling: 0.92, bindings: 0.97, ports: 0.98 };

describe('the reading of corpus files written anew', { timeout: 120_000 }, () => {
  test.each([
    ['open seeds', false],
    ['held-back seeds', true],
  ])('holds on other words, keys, operators and layouts, %s', (title, heldBack) => {
    const seeds = Array.from({ length: 200 }, (_, i) => i + 1)
      .filter((seed) => isHeldBack(seed) === heldBack)
      .slice(0, 40);
    const scores = seeds.map((seed) => {
      const { bytes, name, truth } = remadeCorpus(seed);
      return scoresOf(bytes, name, truth);
    });
    for (const measure of MEASURES) {
      const { mean, worst } = summary(scores, measure);
      console.log(`remade, ${title} ${measure}: mean ${mean.toFixed(3)}, worst ${worst.toFixed(2)}`);
      expect(mean, measure).toBeGreaterThanOrEqual(LEAST[measure]);
    }
  });
});
