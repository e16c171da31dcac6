import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  type Backup,
  build,
  type Decision,
  openBackup,
  type Plan,
  planOf,
  type Reading,
  readMeaning,
} from '../../src/core/index.ts';

export const fixtures = fileURLToPath(new URL('../fixtures/', import.meta.url));
/** Standards material that is not ours to copy; read in place where it lies beside the project. */
export const standards = fileURLToPath(new URL('../../../shared/standards/', import.meta.url));
export const hasStandards = existsSync(standards);

export interface Truth {
  readonly moved: Record<string, string>;
  readonly swapped: Record<string, string>;
}

export const corpus = readdirSync(`${fixtures}corpus`)
  .filter((name) => /^a\d+\.xml$/.test(name))
  .map((name) => name.slice(0, -4));

export const bytesOf = (path: string): Uint8Array => readFileSync(path);
export const corpusBytes = (name: string) => bytesOf(`${fixtures}corpus/${name}.xml`);
export const truthOf = (name: string): Truth =>
  JSON.parse(readFileSync(`${fixtures}corpus/${name}.truth.json`, 'utf8'));

export function opened(bytes: Uint8Array, name = 'kqm-gw1.xml'): { backup: Backup; reading: Reading } {
  const backup = openBackup(bytes, name);
  if (!backup.ok) throw new Error(`${name}: ${JSON.stringify(backup.trouble)}`);
  return { backup: backup.value, reading: readMeaning(backup.value.tree) };
}

/** The bytes of the result; throws where the build refuses. */
export function result({ backup, reading }: { backup: Backup; reading: Reading }, plan: Plan): Uint8Array {
  const built = build(backup, reading, plan);
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return built.value.bytes;
}

export const renames = (ports: Record<string, string>): Plan =>
  planOf(Object.entries(ports).map(([from, to]): Decision => ({ kind: 'rename-port', from, to })));

export const same = (a: Uint8Array, b: Uint8Array) => Buffer.compare(a, b) === 0;

/** Every XML file below a folder, with its path from there. */
export function xmlBelow(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.xml'))
    .sort();
}
