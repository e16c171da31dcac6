import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { decode } from '../../src/core/text/decode.ts';
import { sitePath } from '../../src/core/xml/path.ts';
import { generateDialect } from '../dialects/generate.ts';
import { detailsOf, documentOf, type Known } from './document.ts';

/**
 * How well certificates, secrets and box-bound settings are found, measured apart from the rest: what names what is
 * taken from the truth. Places that the truth calls optional are free.
 */
interface Truth extends Known {
  readonly secrets: readonly string[];
  readonly certificates: readonly string[];
  readonly hardware: readonly string[];
  readonly optional: readonly string[];
}

const measures = ['secrets', 'certificates', 'hardware'] as const;
type Scores = Record<(typeof measures)[number], number>;

function scoresOf(bytes: Uint8Array, truth: Truth): Scores {
  const decoded = decode(bytes);
  if (!decoded.ok) throw new Error(JSON.stringify(decoded.trouble));
  const document = documentOf(decoded.value.text);
  const { tree } = document;
  const details = detailsOf(document, truth);
  const isFree = (path: string) => truth.optional.some((free) => path === free || path.startsWith(`${free}/`));
  const score = (paths: readonly string[], wanted: readonly string[]) => {
    const found = new Set(paths.filter((path) => !isFree(path)));
    const hits = wanted.filter((path) => found.has(path)).length;
    return found.size + wanted.length === 0 ? 1 : (2 * hits) / (found.size + wanted.length);
  };
  const around = (path: string) =>
    truth.hardware.find((record) => path === record || path.startsWith(`${record}/`)) ?? path;
  return {
    secrets: score(
      details.secrets.map(({ site }) => sitePath(tree, site)),
      truth.secrets,
    ),
    certificates: score(
      details.certificates.map(({ site }) => sitePath(tree, site)),
      truth.certificates,
    ),
    hardware: score(
      details.boxBound.map(({ node, attr }) => around(sitePath(tree, { node, attr }))),
      truth.hardware,
    ),
  };
}

const mean = (list: readonly Scores[], measure: keyof Scores) =>
  list.reduce((sum, scores) => sum + scores[measure], 0) / list.length;

function readTruth(folder: URL, name: string): Truth {
  return JSON.parse(readFileSync(new URL(name.replace('.xml', '.truth.json'), folder), 'utf8'));
}

describe.each(['corpus', 'schools'])('the files of test/fixtures/%s', (name) => {
  const folder = new URL(`../fixtures/${name}/`, import.meta.url);
  const files = readdirSync(folder).filter((file) => /^[^.]+\.xml$/.test(file));
  test.each(files)('%s', (file) => {
    expect(scoresOf(readFileSync(new URL(file, folder)), readTruth(folder, file))).toEqual({
      secrets: 1,
      certificates: 1,
      hardware: 1,
    });
  });
});

describe('invented dialects', () => {
  const seeds = Array.from({ length: 60 }, (_, at) => at + 1);
  const all = seeds.map((seed) => {
    const { bytes, truth } = generateDialect(seed);
    return { seed, scores: scoresOf(bytes, truth as unknown as Truth) };
  });
  test.each(measures)('%s', (measure) => {
    const worst = all.reduce((least, one) => (one.scores[measure] < least.scores[measure] ? one : least));
    expect(
      mean(
        all.map(({ scores }) => scores),
        measure,
      ),
      `worst is seed ${worst.seed}, ${worst.scores[measure]}`,
    ).toBeGreaterThan(0.97);
    expect(worst.scores[measure], `seed ${worst.seed}`).toBeGreaterThan(0.7);
  });
});
