import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Backup, openBackup, type Reading, readMeaning } from '../../src/core/index.ts';
import { corpus, corpusBytes, opened } from '../corpus/files.ts';
import { type Generated, generateDialect, isHeldBack } from '../dialects/generate.ts';
import { Rng } from '../dialects/rng.ts';
import { seed } from '../laws/seed.ts';

export interface File {
  readonly name: string;
  readonly backup: Backup;
  readonly reading: Reading;
}

/** The marina as an open standard writes it. */
export const netconf = (): File => {
  const path = fileURLToPath(new URL('../fixtures/site/marina-netconf.xml', import.meta.url));
  return { name: 'marina-netconf', ...opened(readFileSync(path)) };
};

export const corpusFiles = (names: readonly string[] = corpus): File[] =>
  names.map((name) => ({ name, ...opened(corpusBytes(name)) }));

export const dialects = (seeds: readonly number[]): (File & { generated: Generated })[] =>
  seeds.map((one) => {
    const generated = generateDialect(one);
    return { name: `${generated.name} ${generated.school}`, ...opened(generated.bytes), generated };
  });

/** Seeds of dialects that may be looked at, another choice for another CARRYOVER_SEED. */
export function someSeeds(count: number): number[] {
  const rng = new Rng(`carry ${seed}`);
  console.log(`seed ${seed}`);
  const seeds = new Set<number>();
  while (seeds.size < count) {
    const one = rng.int(1, 400);
    if (!isHeldBack(one)) seeds.add(one);
  }
  return [...seeds];
}

export const chance = (name: string): Rng => new Rng(`carry ${seed} ${name}`);

export function open(text: string, name = 'kqm-gw1.xml'): File {
  const backup = openBackup(new TextEncoder().encode(text), name);
  if (!backup.ok) throw new Error(JSON.stringify(backup.trouble));
  return { name, backup: backup.value, reading: readMeaning(backup.value.tree) };
}
