import { readFileSync } from 'node:fs';
import { type Remade, remake } from './index.ts';

const folder = new URL('../../fixtures/corpus/', import.meta.url);

/** The corpus file of a seed, written anew; each of the twelve comes up in turn. */
export function remadeCorpus(seed: number): Remade {
  const source = `a${String(((seed + 5 * Math.floor(seed / 12)) % 12) + 1).padStart(2, '0')}`;
  const truth = JSON.parse(readFileSync(new URL(`${source}.truth.json`, folder), 'utf8'));
  return remake(source, readFileSync(new URL(`${source}.xml`, folder)), truth, seed);
}
