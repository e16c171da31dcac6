import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formats, readKnown } from '../../src/core/reading/known/index.ts';
import { unboundPrefixes } from '../../src/core/xml/namespaces.ts';
import { nameOf } from '../../src/core/xml/tree.ts';
import { deriveIetf } from '../tools/ietf.ts';
import { deriveSchema } from '../tools/ietf-schema.ts';
import { hasPython, hasStandards, leafrefsOf, STANDARDS, treeOf } from './support.ts';

const read = (path: string) => readFileSync(join(STANDARDS, path), 'utf8');

describe.skipIf(!hasStandards)('the table of IETF YANG, against the modules beside the project', () => {
  it('is what the modules say', () => {
    expect({ ...deriveIetf(STANDARDS), schema: deriveSchema(STANDARDS) }).toEqual(formats[0]);
  });

  it('has the 52 leafrefs that a second reader of YANG finds, with their targets', () => {
    // No document has an element for the input and output of an operation.
    const seen = (path: string) => path.replace(/\/(?:input|output)(?=\/)/g, '');
    const second = (JSON.parse(read('refs.json')).refs as { leaf: string; target: string }[]).map(
      ({ leaf, target }) => `${seen(leaf)} → ${seen(target)}`,
    );
    const own = formats[0]!.references.filter(({ source }) => source.endsWith('leafref'));
    expect(second).toHaveLength(52);
    expect(own.map(({ at, to }) => `${at} → ${to}`).sort()).toEqual(second.sort());
  });
});

interface Row {
  readonly file: string;
  readonly rfc: number;
  readonly section: string;
  readonly output: string;
  readonly exit: number;
}

const rows: Row[] = hasStandards ? JSON.parse(read('examples/results.json')) : [];
const documents = rows.filter(({ file }) => file.endsWith('.xml'));

/** References that each printed example holds, counted by hand in the RFC's text; others hold none. */
const counted: Record<string, { found: number; dangling: number }> = {
  'rfc8343-appendix-d-get-config.xml': { found: 1, dangling: 0 },
  'rfc8343-appendix-e-get-data.xml': { found: 3, dangling: 0 },
  'as-printed/rfc8343-appendix-e-get-data.xml': { found: 3, dangling: 0 },
  'rfc9243-appendix-a1-fig4-server.xml': { found: 2, dangling: 0 },
  'rfc9243-appendix-a1-fig5-host-reservation.xml': { found: 3, dangling: 0 },
  'rfc9243-appendix-a1-fig6-prefix-delegation.changed.xml': { found: 1, dangling: 0 },
  'as-printed/rfc9243-appendix-a1-fig6-prefix-delegation.xml': { found: 1, dangling: 0 },
  'rfc9641-section-2.2-truststore-with-usage.xml': { found: 2, dangling: 0 },
  'rfc9641-section-2.2.3-truststore-usage.xml': { found: 0, dangling: 2 },
  'rfc9642-section-2.2.1-keystore.xml': { found: 2, dangling: 0 },
  'rfc9642-section-2.2-keystore-with-usage.xml': { found: 7, dangling: 0 },
  'rfc9642-section-2.2.3.2-keystore-usage.xml': { found: 0, dangling: 5 },
};

describe.skipIf(!hasStandards)('examples printed in RFCs, read beside the project', () => {
  it('has them all', () => {
    const files = ['', 'as-printed/'].flatMap((folder) =>
      readdirSync(join(STANDARDS, 'examples', folder))
        .filter((name) => name.endsWith('.xml'))
        .map((name) => folder + name),
    );
    expect(documents.map(({ file }) => file).sort()).toEqual(files.sort());
  });

  it.each(documents.map((row) => [`RFC ${row.rfc} ${row.section}: ${row.file}`, row] as const))(
    '%s',
    (_, { file, exit, output }) => {
      const text = read(`examples/${file}`);
      const known = readKnown(treeOf(text))!;
      const { found, dangling } = leafrefsOf(text);
      expect({ found: found.length, dangling: dangling.length }).toEqual(counted[file] ?? { found: 0, dangling: 0 });
      // yanglint's verdict on references, from results.json.
      expect(dangling.length > 0).toBe(exit !== 0 && output.includes('Invalid leafref value'));
      // Nothing that the RFCs print gives a false alarm about the references that they only describe.
      expect(known.dangling.filter(({ tier }) => tier === 'likely')).toEqual([]);
    },
  );

  it('finds the two names in RFC 8349, appendix E, whose prefixes the print does not declare', () => {
    const text = read('examples/as-printed/rfc8349-appendix-e-get-data.as-printed.xml.txt');
    const tree = treeOf(text.slice(text.indexOf('<')));
    expect(unboundPrefixes(tree).map(({ node, prefix }) => `${prefix} ${nameOf(tree, node)}`)).toEqual([
      'ietf-ipv4-unicast-routing ietf-ipv4-unicast-routing:ipv4',
      'ietf-ipv6-unicast-routing ietf-ipv6-unicast-routing:ipv6',
    ]);
  });
});

describe.skipIf(!hasStandards || !hasPython)('leafref instances, against the reader in tools/refs.py', () => {
  let copy = '';
  beforeAll(() => {
    // It writes beside itself, so it works on a copy.
    copy = mkdtempSync(join(tmpdir(), 'carryover-refs-'));
    cpSync(STANDARDS, copy, { recursive: true });
  });
  afterAll(() => rmSync(copy, { recursive: true, force: true }));

  it.each(documents.map(({ file }) => file))('%s', (file) => {
    const text = read(`examples/${file}`);
    const input = join(copy, 'input.xml');
    // It knows <config> and <data>, not the reply around them.
    writeFileSync(
      input,
      text.includes('<rpc-reply') ? text.slice(text.indexOf('<data'), text.indexOf('</rpc-reply')) : text,
    );
    const ran = spawnSync('python3', [join(copy, 'tools/refs.py'), input], { encoding: 'utf8' });
    expect(ran.stderr).toBe('');
    const instances: { leaf: string; value: string }[] = JSON.parse(
      readFileSync(join(copy, 'site/ref-instances.json'), 'utf8'),
    );
    const { found, dangling } = leafrefsOf(text);
    expect([...found, ...dangling].sort()).toEqual(
      instances.map(({ leaf, value }) => `${leaf.replace(/\/[\w-]+:/g, '/')} ${value}`).sort(),
    );
    expect(JSON.parse(ran.stdout).danglingInSite).toBe(dangling.length);
  });
});
