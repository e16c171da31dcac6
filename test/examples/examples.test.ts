import { spawnSync } from 'node:child_process';
import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import ipaddr from 'ipaddr.js';
import { describe, expect, it } from 'vitest';
import { build, loadPlan, openBackup, readMeaning } from '../../src/core/index.ts';
import { decode } from '../../src/core/text/decode.ts';
import { nodeAt, siteAt, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import { textOf, valueAt } from '../../src/core/xml/site.ts';

const load = (name: string) => {
  const decoded = decode(readFileSync(new URL(`../../public/examples/${name}`, import.meta.url)));
  if (!decoded.ok) throw new Error(decoded.trouble.code);
  const read = readXml(decoded.value.text);
  if (!read.ok) throw new Error(read.trouble.code);
  return { text: decoded.value.text, tree: read.value };
};

interface Truth {
  readonly refs: { at: string; value: string; to: string }[];
  readonly dangling: { at: string; value: string }[];
  readonly bindings: { role: string; port: string; at: string }[];
  readonly ports: { at: string; value: string }[];
  readonly secrets: string[];
  readonly hardware: string[];
  readonly certificates: string[];
  readonly optional: string[];
  readonly moved: Record<string, string>;
  readonly swapped: Record<string, string>;
}

const { text, tree } = load('kestrel-quay-plain.xml');
const truth: Truth = JSON.parse(
  readFileSync(new URL('../fixtures/examples/kestrel-quay-plain.truth.json', import.meta.url), 'utf8'),
);
const valueOn = (path: string) => {
  const site = siteAt(tree, path);
  return site && valueAt(tree, site).trim();
};

describe('the truth of the plain example', () => {
  it('speaks of places that are there, with the values that stand there', () => {
    for (const { at, value } of [...truth.refs, ...truth.dangling, ...truth.ports])
      expect([at, valueOn(at)]).toEqual([at, value]);
    for (const { at, port } of truth.bindings) expect([at, valueOn(at)]).toEqual([at, port]);
    const paths = [...truth.refs.map(({ to }) => to), ...truth.secrets, ...truth.hardware, ...truth.certificates];
    for (const path of [...paths, ...truth.optional]) expect([path, nodeAt(tree, path) !== -1]).toEqual([path, true]);
  });

  it('names each record that is referred to by its own key', () => {
    for (const { value, to } of truth.refs) {
      const keys = ['code', 'name', 'id', 'login', 'device'].map((key) => valueOn(`${to}/@${key}`));
      expect([to, keys.includes(value)]).toEqual([to, true]);
    }
    const keys = new Set([...text.matchAll(/<(?:book|service|calendar) name="([^"]+)"/g)].map((match) => match[1]));
    for (const { value } of truth.dangling) expect(keys.has(value)).toBe(false);
  });

  it('is complete where a value has only one meaning', () => {
    // Every whole leaf or attribute that equals a network's code refers to it, its own code aside.
    const codes = new Set(truth.bindings.map(({ role }) => role));
    const told = new Set(truth.refs.map(({ at }) => at));
    for (let node = 0; node < tree.size; node++) {
      if (tree.kind[node] !== 0 || tree.after[node] !== node + 1) continue;
      const path = sitePath(tree, { node, attr: -1 });
      if (codes.has(textOf(tree, node).trim())) expect([path, told.has(path)]).toEqual([path, true]);
    }
  });
});

describe('what the plain example holds', () => {
  const pem = (path: string) => textOf(tree, nodeAt(tree, path)).trim();
  const certificates = truth.certificates.map((path) => ({ path, certificate: new X509Certificate(pem(path)) }));
  const authority = certificates[0]!.certificate;

  it('has an authority that signed every certificate', () => {
    expect(authority.ca).toBe(true);
    for (const { certificate } of certificates) expect(certificate.verify(authority.publicKey)).toBe(true);
  });

  it('has a private key for each certificate but the authority', () => {
    for (const { path, certificate } of certificates.slice(1)) {
      const key = createPrivateKey(pem(path.replace(/certificate\[1\]$/, 'private-key[1]')));
      expect([path, certificate.checkPrivateKey(key)]).toEqual([path, true]);
    }
  });

  it('has one certificate that expired in 2024; the others last', () => {
    const ends = certificates.map(({ certificate }) => new Date(certificate.validTo).getUTCFullYear());
    expect(ends).toEqual([2044, 2034, 2034, 2024]);
  });

  it.skipIf(spawnSync('openssl', ['version']).status !== 0)(
    'has password hashes that openssl makes of test words',
    () => {
      const words = ['slipway-1', 'moorings-2', 'ferry-3', 'tide-table-4'];
      const hashes = [...text.matchAll(/<password-hash>(.*)<\/password-hash>/g)].map((match) => match[1]!);
      for (const [index, word] of words.entries()) {
        const salt = hashes[index]!.split('$')[2]!;
        const made = spawnSync('openssl', ['passwd', '-6', '-salt', salt, word], { encoding: 'utf8' }).stdout.trim();
        expect(made).toBe(hashes[index]);
      }
    },
  );

  it('warns of the lift telephone and the harbour alarm in its remarks', () => {
    expect(text).toMatch(/LIFT TELEPHONE AND HARBOUR ALARM/);
  });
});

describe('both examples', () => {
  // RFC 5737, 3849 and 7042 keep these for documents; RFC 1918 is for inside.
  const allowed4 = [
    '192.0.2.0/24',
    '198.51.100.0/24',
    '203.0.113.0/24',
    '10.0.0.0/8',
    '172.16.0.0/12',
    '192.168.0.0/16',
  ];
  it.each(['kestrel-quay-plain.xml', 'kestrel-quay-netconf.xml'])(
    '%s has only addresses kept for documents',
    (name) => {
      const all = load(name).text;
      for (const [address] of all.matchAll(/(?<![\d.])(?:\d{1,3}\.){3}\d{1,3}(?![\d.])/g)) {
        if (address === '0.0.0.0') continue;
        const parsed = ipaddr.IPv4.parse(address);
        expect([address, allowed4.some((range) => parsed.match(ipaddr.IPv4.parseCIDR(range)))]).toEqual([
          address,
          true,
        ]);
      }
      for (const [address] of all.matchAll(/(?<![\w:])[0-9a-f]{3,4}:[0-9a-f:]*::?[0-9a-f:]*/g))
        expect([address, address.startsWith('2001:db8:')]).toEqual([address, true]);
      for (const [mac] of all.matchAll(/\b(?:[0-9a-fA-F]{2}:){5}[0-9a-fA-F]{2}\b(?!:)/g)) {
        if (all.includes(`:${mac}`)) continue;
        expect([mac, mac.toLowerCase().startsWith('00:00:5e:00:53:')]).toEqual([mac, true]);
      }
    },
  );
});

describe('the reading of the plain example', () => {
  const reading = readMeaning(tree);
  const at = (items: readonly { site: { node: number; attr: number }; value: string }[]) =>
    items.map(({ site, value }) => `${sitePath(tree, site)} ${value}`).sort();
  const known = (items: readonly { at: string; value: string }[]) =>
    items.map((one) => `${one.at} ${one.value}`).sort();

  it('puts all eleven roles on their ports', () => {
    expect(reading.bindings.map(({ role, port }) => `${role} ${port}`).sort()).toEqual(
      truth.bindings.map(({ role, port }) => `${role} ${port}`).sort(),
    );
  });

  it('mentions every port, and nothing else', () => {
    expect(at(reading.mentions)).toEqual(known(truth.ports));
  });

  it('finds its secrets, certificates and box-bound records', () => {
    const paths = (items: readonly { site: { node: number; attr: number } }[]) =>
      [...new Set(items.map(({ site }) => sitePath(tree, site)))].sort();
    expect(paths(reading.secrets)).toEqual([...truth.secrets].sort());
    expect(paths(reading.certificates)).toEqual([...truth.certificates].sort());
  });

  it.each([
    ['moved', truth.moved],
    ['swapped', truth.swapped],
  ] as const)('renames its ports at those places alone (%s)', (_, ports) => {
    const backup = openBackup(new TextEncoder().encode(text), 'plain.xml');
    const loaded = loadPlan(JSON.stringify({ plan: 1, ports }));
    if (!backup.ok || !loaded.ok) throw new Error('not opened');
    const built = build(backup.value, reading, loaded.value.plan);
    if (!built.ok) throw new Error(built.trouble.code);
    // The same renaming by the truth: at each place the port at the head of the name, later places first.
    const places = truth.ports.map(({ at: path, value }) => {
      const site = siteAt(tree, path)!;
      const start = site.attr >= 0 ? tree.valueStart[site.attr]! : tree.openEnd[site.node]!;
      return { start: text.indexOf(value, start), head: value.replace(/\..*$/, '') };
    });
    let wanted = text;
    for (const { start, head } of places.sort((a, b) => b.start - a.start))
      wanted = wanted.slice(0, start) + (ports[head] ?? head) + wanted.slice(start + head.length);
    expect(new TextDecoder().decode(built.value.bytes)).toBe(wanted);
  });

  it('finds the planted dangling reference', () => {
    const found = new Set(at(reading.dangling));
    for (const one of known(truth.dangling)) expect(found.has(one)).toBe(true);
  });
});
