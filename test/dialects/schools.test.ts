import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { XMLValidator } from 'fast-xml-parser';
import { describe, expect, test } from 'vitest';
import { faults, readPaths } from './check.ts';
import type { DialectTruth } from './generate.ts';

const FOLDER = join(import.meta.dirname, '..', 'fixtures', 'schools');
const NAMES = readdirSync(FOLDER)
  .filter((f) => f.endsWith('.truth.json'))
  .map((f) => f.slice(0, -'.truth.json'.length));

function text(file: string): string {
  const bytes = readFileSync(join(FOLDER, file));
  const latin = bytes.subarray(0, 60).includes('ISO-8859-1');
  return new TextDecoder(latin ? 'windows-1252' : 'utf-8').decode(bytes);
}

describe('files of other schools, written by hand', () => {
  test('are seven', () => {
    expect(NAMES).toEqual(['casket', 'harbourd', 'keyrack', 'limani', 'onelet', 'pierbase', 'station']);
  });

  test.each(NAMES)('%s is well formed, and its truth resolves', (name) => {
    const xml = text(`${name}.xml`);
    const truth = JSON.parse(readFileSync(join(FOLDER, `${name}.truth.json`), 'utf8')) as DialectTruth;
    expect(XMLValidator.validate(xml)).toBe(true);
    expect(faults(xml, truth)).toEqual([]);
    const lines = xml.split('\n').length;
    expect(lines).toBeGreaterThanOrEqual(80);
    expect(lines).toBeLessThanOrEqual(250);
  });

  test.each(NAMES)('%s differs for other ports at the ports of its truth, and nowhere else', (name) => {
    const truth = JSON.parse(readFileSync(join(FOLDER, `${name}.truth.json`), 'utf8')) as DialectTruth;
    const places = new Set(truth.ports.map((p) => p.at));
    const before = readPaths(text(`${name}.xml`));
    for (const kind of ['moved', 'swapped']) {
      const after = readPaths(text(`${name}.${kind}.xml`));
      expect([...after.keys()]).toEqual([...before.keys()]);
      const changed = [...before].filter(([path, value]) => after.get(path) !== value).map(([path]) => path);
      expect(changed.length).toBeGreaterThan(0);
      expect(changed.filter((path) => !places.has(path))).toEqual([]);
    }
  });
});
