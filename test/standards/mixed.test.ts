import { describe, expect, it } from 'vitest';
import { readMeaning } from '../../src/core/reading/index.ts';
import { keyValue } from '../../src/core/reading/keys/record-name.ts';
import type { Reading } from '../../src/core/reading/reading.ts';
import { sitePath } from '../../src/core/xml/path.ts';
import type { Tree } from '../../src/core/xml/tree.ts';
import { fixture, treeOf } from './support.ts';

/** A document of two halves: the marina, and a maker's own elements that name its interfaces. */
const own = `<harbour xmlns="urn:example:harbour">
  <lamps><lamp><label>north pier</label><fed-by>igc3.40</fed-by></lamp>
    <lamp><label>south pier</label><fed-by>igc3.50</fed-by></lamp><lamp><label>gate</label><fed-by>igc2.201</fed-by></lamp></lamps>
  <watches><watch><hours>20-22</hours><lit-by>north pier</lit-by></watch>
    <watch><hours>22-02</hours><lit-by>south pier</lit-by></watch><watch><hours>02-06</hours><lit-by>north pier</lit-by></watch></watches>
</harbour>`;
const mixed = fixture('marina-netconf.xml').replace('</config>', `${own}</config>`);

const sites = (tree: Tree, items: readonly { site: { node: number; attr: number } }[], inside: string) =>
  items.map(({ site }) => sitePath(tree, site)).filter((path) => path.includes(inside));

describe('a document that is only partly in known namespaces', () => {
  const tree = treeOf(mixed);
  const reading: Reading = readMeaning(tree);
  const pure = readMeaning(treeOf(fixture('marina-netconf.xml')));
  const outside = (items: readonly { readonly site: { readonly node: number; readonly attr: number } }[]) =>
    items.filter(({ site }) => !sitePath(tree, site).includes('/harbour'));

  it('reads the known part as if it stood alone', () => {
    expect(reading.standard).toBe('IETF YANG over NETCONF');
    for (const part of ['references', 'dangling', 'mentions', 'bindings', 'secrets'] as const) {
      expect([part, outside(reading[part]).length]).toEqual([part, pure[part].length]);
    }
    expect(reading.roles.map(({ name }) => name)).toEqual(pure.roles.map(({ name }) => name));
  });

  it('infers the rest', () => {
    expect(reading.collections.map(({ item }) => item)).toContain('lamp');
    expect(sites(tree, reading.mentions, '/lamp').length).toBe(3);
    expect(sites(tree, reading.references, '/watch').length).toBe(3);
    // A maker's own element that names a record of the known part keeps its reference.
    const interfaces = reading.collections.findIndex(({ item }) => item === 'interface');
    const fed = reading.references.filter(({ site }) => sitePath(tree, site).includes('/fed-by'));
    expect(fed.map(({ to }) => reading.collections[interfaces]!.records.includes(to))).toEqual([true, true, true]);
    expect(fed.every(({ field }) => reading.fields[field]!.targets.includes(interfaces))).toBe(true);
  });

  it('keeps every index right', () => {
    for (const { site, field, to, value, tier } of reading.references) {
      const row = reading.fields[field]!;
      expect(row.tier).toBe(tier);
      for (const target of row.targets) expect(reading.collections[target]).toBeDefined();
      const collection = reading.collections.find(({ records }) => records.includes(to));
      if (tier === 'certain' && collection && !sitePath(tree, site).includes('/harbour'))
        expect(keyValue(tree, collection.key, to)).toBe(value);
    }
    for (const { field } of reading.dangling) expect(reading.fields[field]).toBeDefined();
  });

  it('lists a site once', () => {
    for (const part of ['mentions', 'secrets', 'bindings'] as const) {
      const paths = reading[part].map(({ site }) => sitePath(tree, site));
      expect([part, new Set(paths).size]).toEqual([part, paths.length]);
    }
  });

  it('counts the records of each section from its own lists', () => {
    const section = (name: string) => reading.sections.find((one) => one.name === name)!.records;
    expect(section('system')).toBe(9);
    expect(section('harbour')).toBeGreaterThanOrEqual(6);
  });
});
