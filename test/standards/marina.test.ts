import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { keyValue } from '../../src/core/reading/keys/record-name.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import {
  danglingOf,
  fixture,
  hasStandards,
  hasYanglint,
  knownOf,
  leafrefsOf,
  localPath,
  withValue,
  yanglint,
} from './support.ts';

interface Instance {
  readonly leaf: string;
  readonly value: string;
}

const marina = fixture('marina-netconf.xml');
/** From the modules' text by a reader of its own (fixtures/site/SOURCES.md); yanglint agrees on each. */
const instances: Instance[] = JSON.parse(fixture('ref-instances.json'));
/** References that the RFCs describe in words; the schema does not check them. */
const described: (Instance & { kind: string; target: string; mutant: string })[] = JSON.parse(
  fixture('refs-soft.json'),
).soft;

const withoutModules = (path: string) => path.replace(/\/[\w-]+:/g, '/');
const CERTIFICATE = '/keystore-usage/end-entity-cert-with-key/central-keystore-reference/certificate';
const NONE = 'no-such-thing';

const { tree, known } = knownOf(marina);
const leafrefSites = [...known.references]
  .filter(({ tier }) => tier === 'certain')
  .map(({ site }) => site.node)
  .sort((a, b) => a - b);

describe('the marina as NETCONF', () => {
  it('finds exactly the 45 leafref instances, none dangling', () => {
    const wanted = instances.map(({ leaf, value }) => `${withoutModules(leaf)} ${value}`).sort();
    expect(wanted).toHaveLength(45);
    expect(leafrefsOf(marina)).toEqual({ found: wanted, dangling: [] });
  });

  it('names the record that holds the target', () => {
    for (const { site, to, value, tier } of known.references) {
      if (tier !== 'certain') continue;
      const collection = known.collections.find(({ records }) => records.includes(to))!;
      expect([localPath(tree, site.node), keyValue(tree, collection.key, to)]).toEqual([
        localPath(tree, site.node),
        value,
      ]);
    }
  });

  it('finds one reference or more for each of the 16 that the RFCs describe, none dangling', () => {
    expect(described).toHaveLength(16);
    const fields = known.fields.filter(({ tier }) => tier === 'likely');
    for (const { leaf } of described) {
      const field = fields.find(({ template }) => withoutPrefixes(template) === `/config${withoutModules(leaf)}`);
      expect([leaf, field?.hits ?? 0, (field?.total ?? 0) - (field?.hits ?? 0)]).toEqual([
        leaf,
        expect.toSatisfy((hits: number) => hits > 0),
        0,
      ]);
    }
    expect(known.dangling).toEqual([]);
  });

  it.each(leafrefSites.map((node) => [pathOf(tree, node), node] as const))('tells a break at %s', (path, node) => {
    const dangling = danglingOf(withValue(tree, node, NONE));
    // The certificate is looked up under the key beside it (RFC 9642), so it falls with the key.
    const dependent = localPath(tree, node).endsWith('central-keystore-reference/asymmetric-key')
      ? [pathOf(tree, leafrefSites.find((leaf) => localPath(tree, leaf) === CERTIFICATE)!)]
      : [];
    expect(dangling).toEqual([path, ...dependent].sort());
  });

  it.each(described.map((row) => [row.leaf, row] as const))('warns of a break at %s', (leaf, row) => {
    const node = firstAt(leaf);
    const { tree: broken, known: reading } = knownOf(withValue(tree, node, row.mutant));
    expect(reading.dangling.map(({ site, tier }) => [pathOf(broken, site.node), tier])).toEqual([
      [pathOf(tree, node), 'likely'],
    ]);
  });

  it('has a role on a port for each interface with an address (RFC 8343, RFC 8344)', () => {
    expect(known.roles.map(({ name }) => name)).toEqual([
      ...['igc0', 'igc1', 'igc3.30', 'igc3.40', 'igc3.50', 'igc2.201', 'igc2.202', 'igc2.203', 'igc2.204'],
      ...['lo0', 'ipsec0'],
    ]);
    expect(known.bindings.every(({ role, port }) => role === port)).toBe(true);
  });

  it('knows what each device is (RFC 7224; VLANs as in RFC 8343, appendix C)', () => {
    expect(known.ports.map(({ name, kind, parent, tag }) => [name, kind, parent, tag])).toEqual([
      ['igc0', 'physical', null, null],
      ['igc1', 'physical', null, null],
      ['igc2', 'physical', null, null],
      ['igc3', 'physical', null, null],
      ['igc3.30', 'tagged', 'igc3', 30],
      ['igc3.40', 'tagged', 'igc3', 40],
      ['igc3.50', 'tagged', 'igc3', 50],
      ['igc2.201', 'tagged', 'igc2', 201],
      ['igc2.202', 'tagged', 'igc2', 202],
      ['igc2.203', 'tagged', 'igc2', 203],
      ['igc2.204', 'tagged', 'igc2', 204],
      ['lo0', 'other', null, null],
      ['ipsec0', 'other', null, null],
    ]);
  });

  it('mentions a device at every leaf that is one in the schema, and nowhere else', () => {
    const leaves = new Set([
      '/interfaces/interface/name',
      ...instances.map(({ leaf }) => withoutModules(leaf)).filter((leaf) => /(?:interface|interface-id)$/.test(leaf)),
    ]);
    const wanted: string[] = [];
    for (let node = 0; node < tree.size; node++) if (leaves.has(localPath(tree, node))) wanted.push(pathOf(tree, node));
    expect(known.mentions.map(({ site }) => pathOf(tree, site.node))).toEqual(wanted);
    expect(known.mentions.filter(({ value, port }) => !value.startsWith(port))).toEqual([]);
  });

  it('lists secrets by the standard: default-deny-all (RFC 8341, 3.4.3) and crypt-hash (RFC 7317)', () => {
    const found = known.secrets.map(({ site, kind }) => `${localPath(tree, site.node).split('/').at(-1)} ${kind}`);
    expect(found.sort()).toEqual([
      'cleartext-private-key private-key',
      'cleartext-symmetric-key shared-secret',
      ...['password hash', 'password hash', 'password hash'],
      ...['secret shared-secret', 'secret shared-secret'],
      'shared-secret shared-secret',
    ]);
    expect(known.certificates).toHaveLength(2);
    expect(known.host).toBe('kqm-gw1.kestrelquay.example');
  });
});

const withoutPrefixes = (path: string) => path.replace(/\/[\w-]+:/g, '/');

function firstAt(leaf: string): number {
  for (let node = 0; node < tree.size; node++) if (localPath(tree, node) === withoutModules(leaf)) return node;
  throw new Error(leaf);
}

describe('names are compared by namespace', () => {
  const plain = (text: string) => {
    const { known: reading } = knownOf(text);
    return [reading.references.length, reading.dangling.length, reading.mentions.length, reading.secrets.length];
  };

  it('reads other prefixes for the same namespaces alike', () => {
    const other = marina
      .replaceAll('v4ur:', 'four:')
      .replaceAll('xmlns:v4ur', 'xmlns:four')
      .replaceAll('ianaift:', 'kind:')
      .replaceAll('xmlns:ianaift', 'xmlns:kind');
    expect(plain(other)).toEqual(plain(marina));
    expect(knownOf(other).known.ports.map(({ kind }) => kind)).toEqual(known.ports.map(({ kind }) => kind));
  });

  it('reads a prefix where the document has a default namespace alike', () => {
    const prefixed = marina
      .replace(/<acls xmlns="([^"]*)">[\s\S]*<\/acls>/, (part) => part.replace(/<(\/?)(?=\w)/g, '<$1a:'))
      .replace('<a:acls xmlns=', '<a:acls xmlns:a=');
    expect(plain(prefixed)).toEqual(plain(marina));
  });

  it('reads the tree inside other wrappers, and two data trees each by itself', () => {
    const inside = marina.slice(marina.indexOf('<interfaces'), marina.indexOf('</config>'));
    expect(plain(`<backup><made>today</made><running>${inside}</running></backup>`)).toEqual(plain(marina));
    const two = `<backup><a>${inside}</a><b>${inside.replaceAll('guest-in<', 'guests<')}</b></backup>`;
    expect(plain(two)).toEqual(plain(marina).map((count) => 2 * count));
    // A name that only the other tree has is none here.
    const mixed = `<backup><a>${inside}</a><b>${inside.replace('<name>guest-in</name>', '<name>guests</name>')}</b></backup>`;
    expect(danglingOf(mixed)).toHaveLength(1);
  });

  it('reads nothing in the names of another namespace', () => {
    const elsewhere = marina.replaceAll('urn:ietf:params:xml:ns:yang:ietf-nat', 'urn:example:nat');
    const { tree: other, known: reading } = knownOf(elsewhere);
    expect(reading.references.some(({ site }) => localPath(other, site.node).startsWith('/nat/'))).toBe(false);
    expect(reading.covered[nodeNamed(other, 'nat')]).toBe(0);
    expect(reading.covered[nodeNamed(other, 'acls')]).toBe(1);
  });

  it('follows a device named in an address with a zone (RFC 4007, 11)', () => {
    const zoned = marina.replace('<v4ur:next-hop-address>203.0.113.9<', '<v4ur:next-hop-address>fe80::9%igc0<');
    const { tree: other, known: reading } = knownOf(zoned);
    const found = reading.mentions.filter(({ site }) => localPath(other, site.node).endsWith('next-hop-address'));
    expect(found.map(({ value, from, to, port }) => [value, from, to, port])).toEqual([['igc0', 8, 12, 'igc0']]);
  });
});

function nodeNamed(of: typeof tree, name: string): number {
  for (let node = 0; node < of.size; node++) if (of.names[of.name[node]!] === name) return node;
  return -1;
}

describe('broken variants, against what yanglint 2.1.30 prints (broken/expected.md)', () => {
  const broken = (name: string) => fixture(`broken/${name}.xml`);
  const expected = fixture('broken/expected.md');

  it('01: an access list that is not there', () => {
    const { tree: other, known: reading } = knownOf(broken('01-dangling-leafref'));
    expect(expected).toContain('Invalid leafref value "guest-inn" - no target instance "/acls/acl/name"');
    expect(
      reading.dangling.map(({ site, value, tier, nearest }) => [localPath(other, site.node), value, tier, nearest]),
    ).toEqual([
      ['/acls/attachment-points/interface/ingress/acl-sets/acl-set/name', 'guest-inn', 'certain', 'guest-in'],
    ]);
  });

  it('09: a certificate that its key does not have (a leafref with a predicate)', () => {
    const { tree: other, known: reading } = knownOf(broken('09-dangling-predicate-leafref'));
    expect(expected).toContain('Invalid leafref value "gw1-2025"');
    expect(
      reading.dangling.map(({ site, value, tier, nearest }) => [localPath(other, site.node), value, tier, nearest]),
    ).toEqual([[CERTIFICATE, 'gw1-2025', 'certain', 'gw1-2026']]);
  });

  it('02: a list key twice', () => {
    const { tree: other, known: reading } = knownOf(broken('02-duplicate-list-key'));
    expect(expected).toContain(
      'Duplicate instance of "interface". (Data location "/ietf-interfaces:interfaces/interface[name=\'lo0\']"',
    );
    const doubled = reading.collections.flatMap(({ key, records }) => {
      const values = records.map((record) => keyValue(other, key, record));
      return values.filter((value, index) => values.indexOf(value) !== index);
    });
    expect(doubled).toEqual(['lo0']);
    expect(reading.dangling).toEqual([]);
  });

  it('06: an end tag of another name, at the line that yanglint gives', () => {
    const read = readXml(broken('06-not-well-formed'));
    const line = Number(/"\/ietf-system:system\/hostname", line number (\d+)/.exec(expected)![1]);
    expect(read.ok ? null : [read.trouble.code, read.trouble.line]).toEqual(['not-well-formed', line]);
  });

  // These break a type, a range, a must, a when or a mandatory leaf: see schema.test.ts.
  it.each([
    '04-vlan-out-of-range',
    '05-missing-mandatory',
    '07-mtu-out-of-range',
    '08-must-not-met',
    '10-mandatory-and-when',
  ])('%s: no reference is broken', (name) => {
    expect(knownOf(broken(name)).known.dangling).toEqual([]);
  });

  it('03: an address that is none holds no networks', () => {
    expect(knownOf(broken('03-bad-ipv4')).known.dangling.filter(({ tier }) => tier === 'certain')).toEqual([]);
  });

  it('finds no key twice in any of the others', () => {
    for (const name of ['01-dangling-leafref', '04-vlan-out-of-range', '08-must-not-met']) {
      const { tree: other, known: reading } = knownOf(broken(name));
      for (const { key, records } of reading.collections) {
        const values = records.map((record) => keyValue(other, key, record)).filter((value) => value !== '');
        expect(new Set(values).size).toBe(values.length);
      }
    }
  });
});

describe('the example of the page', () => {
  it('has the bytes of the fixture', () => {
    const example = readFileSync(new URL('../../public/examples/kestrel-quay-netconf.xml', import.meta.url));
    expect(example.equals(Buffer.from(marina))).toBe(true);
  });
});

describe.skipIf(!hasYanglint || !hasStandards)(
  'against yanglint (libyang2-tools) and the modules beside the project',
  () => {
    it('accepts the marina', () => {
      expect(yanglint(marina)).toBe('');
    });

    it.each(leafrefSites.map((node) => [pathOf(tree, node), node] as const))('agrees on a break at %s', (_, node) => {
      const text = withValue(tree, node, NONE);
      const said = yanglint(text);
      const at = localPath(tree, node);
      const dangling = danglingOf(text).map((path) => path.replace(/\[\d+\]/g, '').replace(/\/[\w-]+:/g, '/'));
      const place = /Data location "([^"]*)"/.exec(said)?.[1];
      expect(said).toMatch(/Invalid leafref value|Must condition/);
      const told = place!.replace(/\[[^\]]*\]/g, '').replace(/\/[\w-]+:/g, '/');
      // yanglint stops at its first fault: for the key it is the certificate that was looked up under it.
      expect([at, CERTIFICATE]).toContain(told);
      expect(dangling).toContain(`/config${told}`);
    });

    it.each(described.map((row) => [row.leaf, row.mutant] as const))(
      'warns where yanglint is silent: %s',
      (leaf, mutant) => {
        const text = withValue(tree, firstAt(leaf), mutant);
        expect(yanglint(text)).toBe('');
        expect(danglingOf(text)).toHaveLength(1);
      },
    );
  },
);
