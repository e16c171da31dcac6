import { readdirSync, readFileSync } from 'node:fs';
import { openBackup } from '../../src/core/desk/backup/open.ts';
import { readMeaning } from '../../src/core/reading/index.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';

/** The parts of a truth file that the reading is measured by; see test/dialects. */
export interface Truth {
  readonly refs: readonly { at: string; value: string; to: string; to_any?: readonly string[] }[];
  readonly dangling: readonly { at: string; value: string }[];
  readonly bindings: readonly { role: string; port: string }[];
  readonly ports: readonly { at: string; value: string }[];
  /** Paths and values that may be reported or not. */
  readonly optional?: readonly string[];
}

export const MEASURES = ['references', 'dangling', 'bindings', 'ports'] as const;
export type Measure = (typeof MEASURES)[number];
/** F1 of one file by measure: 0 to 1. */
export type Scores = Record<Measure, number>;

/** Harmonic mean of precision and recall (van Rijsbergen 1979); 1 where nothing is wanted and nothing given. */
export function f1(got: ReadonlySet<string>, want: ReadonlySet<string>): number {
  const hits = [...got].filter((one) => want.has(one)).length;
  return got.size + want.size === 0 ? 1 : (2 * hits) / (got.size + want.size);
}

export function scoresOf(bytes: Uint8Array, name: string, truth: Truth): Scores {
  const backup = openBackup(bytes, name);
  if (!backup.ok) throw new Error(`${name}: ${backup.trouble.code}`);
  const { tree } = backup.value;
  const reading = readMeaning(tree);
  const free = new Set(truth.optional);
  const counts = ({ at, value }: { at: string; value: string }) => !free.has(at) && !free.has(value);
  const places = (list: readonly { at: string; value: string }[]) =>
    new Set(list.filter(counts).map(({ at, value }) => `${at} ${value}`));
  const alias = new Map<string, string>();
  for (const { at, value, to, to_any } of truth.refs) {
    for (const other of to_any ?? []) alias.set(`${at} ${value} ${other}`, `${at} ${value} ${to}`);
  }
  const references = reading.references
    .filter(({ tier }) => tier !== 'possible')
    .map(({ site, value, to }) => ({ at: sitePath(tree, site), value, to: pathOf(tree, to) }))
    .filter(counts)
    .map(({ at, value, to }) => alias.get(`${at} ${value} ${to}`) ?? `${at} ${value} ${to}`);
  const at = ({ site, value }: { site: Parameters<typeof sitePath>[1]; value: string }) => ({
    at: sitePath(tree, site),
    value,
  });
  return {
    references: f1(new Set(references), new Set(truth.refs.map((one) => `${one.at} ${one.value} ${one.to}`))),
    dangling: f1(
      places(reading.dangling.filter(({ tier }) => tier !== 'possible').map(at)),
      new Set(truth.dangling.map((one) => `${one.at} ${one.value}`)),
    ),
    bindings: f1(
      new Set(reading.bindings.map(({ role, port }) => `${role} ${port}`)),
      new Set(truth.bindings.map(({ role, port }) => `${role} ${port}`)),
    ),
    ports: f1(places(reading.mentions.map(at)), new Set(truth.ports.map((one) => `${one.at} ${one.value}`))),
  };
}

/** Scores of every file with a truth in a folder, by file name. */
export function folderScores(folder: string): Map<string, Scores> {
  const scores = new Map<string, Scores>();
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.truth.json'))) {
    const name = file.replace('.truth.json', '.xml');
    const truth = JSON.parse(readFileSync(`${folder}/${file}`, 'utf8')) as Truth;
    scores.set(name, scoresOf(readFileSync(`${folder}/${name}`), name, truth));
  }
  return scores;
}

export function summary(scores: readonly Scores[], measure: Measure): { mean: number; worst: number; good: number } {
  const values = scores.map((one) => one[measure]);
  return {
    mean: values.reduce((a, b) => a + b, 0) / values.length,
    worst: Math.min(...values),
    good: values.filter((value) => value >= 0.9).length / values.length,
  };
}
