import { describe, expect, test } from 'vitest';
import { type Needs, needsOf } from '../../src/core/carry/needs.ts';
import { nodeAt, pathOf } from '../../src/core/xml/path.ts';
import { isWithin, nameOf } from '../../src/core/xml/tree.ts';
import { chance, corpusFiles, dialects, type File, netconf, open, someSeeds } from './files.ts';

const small = open(`<box><nets><net><id>lan</id><port>eth0</port></net><net><id>cam</id><port>eth1</port></net></nets>
<sets><set><name>tills</name><net>cam</net><hosts><host>10.20.30.4</host></hosts></set>
<set><name>desks</name><net>lan</net><hosts><host>10.20.0.4</host></hosts></set></sets>
<rules><rule><net>lan</net><to>tills</to></rule><rule><net>cam</net><to>desks</to></rule>
<rule><net>lan</net><to>desks</to></rule><rule><net>cam</net><to>tills</to></rule></rules></box>`);

const graph = ({ backup, reading }: File): Needs => needsOf(backup.tree, reading);
const at = ({ backup }: File, path: string) => nodeAt(backup.tree, path);
const members = (needs: Needs, held: Uint8Array) =>
  [...needs.nodes].filter((_, entry) => held[entry]).map((node) => pathOf(needs.tree, node));

describe('what a record needs', () => {
  const needs = graph(small);
  const rule = at(small, '/box[1]/rules[1]/rule[1]');

  test('is what its values name, with the field and the value', () => {
    const direct = needs.needs(rule).map(({ to, kind, field, value }) => [pathOf(needs.tree, to), kind, field, value]);
    expect(direct).toEqual([
      ['/box[1]/nets[1]/net[1]', 'names', 'rule/net', 'lan'],
      ['/box[1]/sets[1]/set[1]', 'names', 'rule/to', 'tills'],
    ]);
  });

  test('and in the end what these need, with the way there', () => {
    const chains = needs
      .allNeeds(rule)
      .map(({ node, why }) => [pathOf(needs.tree, node), why.map(({ value }) => value).join(' → ')]);
    expect(chains).toContainEqual(['/box[1]/nets[1]/net[2]', 'tills → cam']);
  });

  test('the other way round, who would lose it', () => {
    const role = at(small, '/box[1]/nets[1]/net[2]');
    const paths = needs.neededBy(role).map(({ from }) => pathOf(needs.tree, from));
    expect(paths).toEqual(['/box[1]/sets[1]/set[1]', '/box[1]/rules[1]/rule[2]', '/box[1]/rules[1]/rule[4]']);
    const all = needs.allNeededBy(role).map(({ node }) => pathOf(needs.tree, node));
    expect(all).toContain('/box[1]/rules[1]/rule[1]');
    expect(all).not.toContain('/box[1]/rules[1]/rule[3]');
  });

  test('within a section nothing is lost to the outside that only the section itself names', () => {
    const section = at(small, '/box[1]/rules[1]');
    expect(needs.neededBy(section)).toEqual([]);
    expect(needs.needs(section).every(({ to }) => !isWithin(needs.tree, to, section))).toBe(true);
  });
});

describe('a record inside another', () => {
  const file = netconf();
  const needs = graph(file);
  const { tree } = needs;
  const nested = file.reading.collections
    .flatMap(({ records }) => records)
    .find((node) => {
      const around = needs.of[tree.parent[node]!]!;
      return around !== -1 && nameOf(tree, node) === 'ace';
    })!;

  test('needs what is around it, and not its neighbours', () => {
    const held = needs.closure([needs.of[nested]!]);
    const around = needs.of[tree.parent[nested]!]!;
    expect(held[around]).toBe(1);
    const kin = [...needs.nodes].filter((node, entry) => held[entry] && nameOf(tree, node) === 'ace');
    expect(kin).toEqual([nested]);
  });

  test('goes along where another names the record around it', () => {
    const naming = file.reading.references.find(({ to }) => isWithin(tree, nested, to))!;
    const held = needs.closure([needs.of[naming.site.node]!]);
    expect(held[needs.of[nested]!]).toBe(1);
  });
});

describe('a certificate', () => {
  test.each([netconf(), ...corpusFiles(['a01', 'a07'])])('of $name brings its authority along', (file) => {
    const needs = graph(file);
    let found = 0;
    for (const { site, issuerAt, keyAt } of file.reading.certificates) {
      const held = needs.closure([needs.of[site.node]!]);
      if (keyAt) expect(held[needs.of[keyAt.node]!]).toBe(1);
      const issuer = file.reading.certificates[issuerAt];
      if (issuer) expect(held[needs.of[issuer.site.node]!]).toBe(1);
      if (issuer && needs.of[issuer.site.node] !== needs.of[site.node]) found++;
    }
    if (file.reading.certificates.some(({ issuerAt }, own) => issuerAt !== -1 && issuerAt !== own))
      expect(found).toBeGreaterThan(0);
  });
});

describe('laws of the closure', () => {
  const files: File[] = [netconf(), ...corpusFiles(['a03', 'a10']), ...dialects(someSeeds(12))];

  test.each(files)('idempotent, monotone, without an unmet need: $name', (file) => {
    const needs = graph(file);
    const rng = chance(file.name);
    for (let run = 0; run < 20; run++) {
      const some = Array.from({ length: rng.int(0, 6) }, () => rng.int(0, needs.nodes.length - 1));
      const more = [...some, ...Array.from({ length: rng.int(0, 4) }, () => rng.int(0, needs.nodes.length - 1))];
      const held = needs.closure(some);
      const again = needs.closure([...held.keys()].filter((entry) => held[entry]));
      expect(members(needs, again)).toEqual(members(needs, held));
      const wider = needs.closure(more);
      expect([...held.keys()].filter((entry) => held[entry] && !wider[entry])).toEqual([]);
      needs.unmet(held, (need) => expect.fail(`${pathOf(needs.tree, need.from)} needs ${pathOf(needs.tree, need.to)}`));
    }
  });

  test.each(files)('the graph says the same from both ends: $name', (file) => {
    const needs = graph(file);
    let forth = 0;
    let back = 0;
    for (const node of needs.nodes) {
      forth += needs.needs(node).filter(({ from }) => from === node).length;
      back += needs.neededBy(node).filter(({ to }) => to === node).length;
    }
    expect(forth + back).toBeGreaterThan(0);
    expect(needs.allNeeds(needs.tree.root)).toEqual([]);
    expect(needs.allNeededBy(needs.tree.root)).toEqual([]);
    const rng = chance(`both ${file.name}`);
    for (let run = 0; run < 30; run++) {
      const node = needs.nodes[rng.int(0, needs.nodes.length - 1)]!;
      for (const { to } of needs.needs(node)) {
        if (isWithin(needs.tree, node, to)) continue;
        expect(needs.neededBy(to).some(({ from }) => isWithin(needs.tree, from, node) || from === node)).toBe(true);
      }
    }
  });
});
