import { readFileSync } from 'node:fs';
import { Address4, Address6 } from 'ip-address';
import { describe, expect, it } from 'vitest';
import { canonicalOf } from '../../src/core/checks/networks/address-spelling.ts';
import { type Block, finder, networksOf } from '../../src/core/checks/networks/networks.ts';
import { reservedIn, subnetMap } from '../../src/core/checks/networks/subnet-map.ts';
import { planOf } from '../../src/core/index.ts';
import { contains, extentOf, formatAddress, type IpAddress, parseAddress } from '../../src/core/values/ip.ts';
import { specialBlock } from '../../src/core/values/special-addresses.ts';
import { generateDialect, isHeldBack } from '../dialects/generate.ts';
import { randomModel } from '../dialects/invent/index.ts';
import { Rng } from '../dialects/rng.ts';
import { rowsOf } from '../values/tables.ts';
import { box, boxWith } from './box.ts';
import { chance } from './chance.ts';
import { examples, findingsOf, fixtures, opened, openedFile, said, sentence } from './support.ts';

const family = /^(?:address-(?!documentation)|pool-|mask-not|subnets-|lease-outside|next-hop)/;
const say = (text: string) => {
  const findings = findingsOf(opened(text)).filter(({ code }) => family.test(code));
  return findings.map((finding) => `${finding.code}: ${sentence(finding)}`);
};

describe('addresses of a healthy box', () => {
  it.each([
    ['a small box', () => opened(box())],
    ['the marina in an open standard', () => openedFile(`${fixtures}site/marina-netconf.xml`)],
  ])('%s: nothing is said', (_, file) => {
    expect(said(findingsOf(file()), family)).toEqual([]);
  });

  it('the corpus: nothing is said, and each role has its network, pool and gateway', () => {
    for (let number = 1; number <= 12; number++) {
      const file = openedFile(`${fixtures}corpus/a${String(number).padStart(2, '0')}.xml`);
      expect(said(findingsOf(file), family)).toEqual([]);
      const { blocks, pools, leases, gateways } = networksOf(file.reading);
      expect([blocks.length, pools.length, leases.length, gateways.length]).toEqual([10, 8, 16, 2]);
    }
  });

  // Read by eye: the pool 10.30.30.10 to 10.30.30.20 holds the terminals that have fixed addresses .10, .11 and .12.
  it('the plain example: one range holds kept addresses', () => {
    const findings = findingsOf(openedFile(`${examples}kestrel-quay-plain.xml`)).filter(({ code }) =>
      family.test(code),
    );
    expect(findings.map(({ code, params }) => [code, params.role, params.count])).toEqual([
      ['pool-over-lease', 'cards', 3],
    ]);
  });
});

// regatta.xml holds two boxes whose networks are called alike; common practice, no source: they may share addresses, too.
it('boxes that share a file may share their addresses', () => {
  const text = readFileSync(`${fixtures}layouts/regatta.xml`, 'utf8');
  const doubles = (source: string) => said(findingsOf(opened(source)), /^(?:subnets-overlap|address-doubled)/);
  expect(doubles(text)).toEqual([]);
  // Within one of them it is a fault.
  expect(doubles(text.replace('10.82.20.1/25', '10.82.8.99/25'))).toHaveLength(1);
});

describe('each fault is found, alone', () => {
  it.each([
    // RFC 1122, 3.2.1.3: all zeros and all ones name no host.
    [
      'the network as a host',
      boxWith('roles', 1, ['office', 'eth1', '10.20.0.0', '24']),
      'address-not-a-host: “10.20.0.0” is the address of the network itself in “10.20.0.0/24” of “office”.',
    ],
    [
      'the broadcast address as a host',
      boxWith('pools', 1, ['guest', '10.20.50.100', '10.20.51.250', ['10.20.51.255']]),
      'address-not-a-host: “10.20.51.255” is the broadcast address in “10.20.50.0/23” of “guest”.',
    ],
    // RFC 4632, 3.1.
    [
      'a mask with a hole',
      box({
        roles: [
          ['sea', 'eth0', '203.0.113.10', '255.255.255.248'],
          ['office', 'eth1', '10.20.0.1', '255.255.0.255'],
          ['guest', 'eth2', '10.20.50.1', '255.255.254.0'],
          ['cards', 'eth3', '10.20.30.1', '255.255.255.0'],
        ],
      }),
      'mask-not-contiguous: The ones of the mask “255.255.0.255” do not stand together.',
    ],
    [
      'networks that overlap',
      boxWith('roles', 3, ['cards', 'eth3', '10.20.51.1', '24']),
      [
        'subnets-overlap: “10.20.51.0/24” of “cards” lies in “10.20.50.0/23” of “guest”.',
        "pool-over-router: The range “10.20.50.100” to “10.20.51.250” of “guest” holds “10.20.51.1”, which is a router's.",
        'pool-outside: The range “10.20.30.100” to “10.20.30.150” is not all inside “10.20.51.0/24” of “cards”.',
        'lease-outside: “10.20.30.11” is kept for a client of “cards” and lies outside “10.20.51.0/24”.',
      ],
    ],
    [
      'one address twice',
      boxWith('pools', 0, ['office', '10.20.0.100', '10.20.0.199', ['10.20.0.20', '10.20.0.20']]),
      'address-doubled: “10.20.0.20” is given twice in “office”.',
    ],
    [
      'a range outside its network',
      boxWith('pools', 2, ['cards', '10.20.31.100', '10.20.31.150', []]),
      'pool-outside: The range “10.20.31.100” to “10.20.31.150” is not all inside “10.20.30.0/24” of “cards”.',
    ],
    [
      'a range that begins after its end',
      boxWith('pools', 2, ['cards', '10.20.30.150', '10.20.30.100', []]),
      'pool-reversed: The range “10.20.30.150” to “10.20.30.100” of “cards” ends before it begins.',
    ],
    [
      'a range over the router',
      boxWith('pools', 2, ['cards', '10.20.30.1', '10.20.30.10', []]),
      "pool-over-router: The range “10.20.30.1” to “10.20.30.10” of “cards” holds “10.20.30.1”, which is a router's.",
    ],
    [
      'a range over the gateway',
      boxWith('pools', 0, ['office', '10.20.0.100', '10.20.0.254', []]),
      "pool-over-router: The range “10.20.0.100” to “10.20.0.254” of “office” holds “10.20.0.254”, which is a router's.",
    ],
    [
      'a range over a kept address',
      boxWith('pools', 0, ['office', '10.20.0.100', '10.20.0.199', ['10.20.0.150']]),
      'pool-over-lease: The range “10.20.0.100” to “10.20.0.199” of “office” holds 1 address kept for single clients, “10.20.0.150” first.',
    ],
    [
      'a range over the broadcast address',
      boxWith('pools', 2, ['cards', '10.20.30.100', '10.20.30.255', []]),
      'pool-over-reserved: The range “10.20.30.100” to “10.20.30.255” of “cards” holds “10.20.30.255”, the broadcast address.',
    ],
    [
      'a kept address outside',
      boxWith('pools', 1, ['guest', '10.20.50.100', '10.20.51.250', ['10.20.52.20']]),
      'lease-outside: “10.20.52.20” is kept for a client of “guest” and lies outside “10.20.50.0/23”.',
    ],
    // RFC 1812, 5.2.4.2: the next hop is on a directly connected network.
    [
      'a next hop that is no neighbour',
      boxWith('gateways', 1, ['shed', 'office', '10.20.9.254']),
      'next-hop-unreachable: The next hop “10.20.9.254” is no neighbour of “office”, which has “10.20.0.0/24”.',
    ],
    // RFC 6890, table 4.
    [
      'a loopback address given out',
      boxWith('gateways', 1, ['shed', 'office', '127.0.0.9']),
      [
        'next-hop-unreachable: The next hop “127.0.0.9” is no neighbour of “office”, which has “10.20.0.0/24”.',
        'address-special: “127.0.0.9” is from “127.0.0.0/8”, kept for a purpose of its own: “Loopback”, by “RFC 1122 3.2.1.3”.',
      ],
    ],
  ])('%s', (_, text, wanted) => {
    const found = say(text);
    expect(found).toEqual([wanted].flat());
  });

  it('leaves out what the plan leaves out', () => {
    const file = opened(boxWith('pools', 2, ['cards', '10.20.31.100', '10.20.31.150', []]));
    const plan = planOf([{ kind: 'leave-out', path: '/box[1]/lends[1]/lend[3]' }]);
    expect(said(findingsOf(file, {}, plan), family)).toEqual([]);
  });

  it('says which roles ask for their address, once ports change', () => {
    const text = `<box><places>
<place><name>sea</name><on>eth0</on><mode>dhcp</mode></place>
<place><name>office</name><on>eth1</on><mode>fixed</mode><address>10.20.0.1</address><prefix>24</prefix></place>
<place><name>guest</name><on>eth2</on><mode>fixed</mode><address>10.20.50.1</address><prefix>23</prefix></place>
</places><rules><rule><place>sea</place></rule><rule><place>office</place></rule><rule><place>guest</place></rule><rule><place>sea</place></rule></rules></box>`;
    expect(said(findingsOf(opened(text)), /automatic/)).toEqual([]);
    const plan = planOf([{ kind: 'rename-port', from: 'eth0', to: 'igb0' }]);
    expect(said(findingsOf(opened(text), {}, plan), /automatic/)).toEqual(['address-automatic 2']);
  });
});

describe('networks of invented dialects', { timeout: 120_000 }, () => {
  it('are all true, and most are found', () => {
    const counts = { found: 0, all: 0, pools: 0, allPools: 0 };
    for (let seed = 1; seed <= 24; seed++) {
      if (isHeldBack(seed)) continue;
      const { bytes } = generateDialect(seed);
      const model = randomModel(new Rng(`dialect ${seed}`));
      const facts = networksOf(opened(bytes).reading);
      const hold = (found: readonly string[], true_: readonly string[]): number => {
        const known = new Set(true_);
        expect(found.filter((text) => !known.has(text))).toEqual([]);
        return new Set(found).size;
      };
      const text = formatAddress;
      const roles = model.roles.map(({ address, prefix }) => `${address}/${prefix}`);
      const pools = model.pools.map(({ first, last }) => `${first}-${last}`);
      counts.all += roles.length;
      counts.allPools += pools.length;
      counts.found += hold(
        facts.blocks.map(({ address, length }) => `${text(address)}/${length}`),
        roles,
      );
      counts.pools += hold(
        facts.pools.map(({ first, last }) => `${text(first.address)}-${text(last.address)}`),
        pools,
      );
      hold(
        facts.leases.map(({ address }) => text(address)),
        model.pools.flatMap(({ leases }) => leases.map(({ ip }) => ip)),
      );
      hold(
        facts.gateways.map(({ address }) => text(address)),
        model.gateways.map(({ ip }) => ip),
      );
    }
    expect(counts.found).toBeGreaterThan(counts.all * 0.7);
    expect(counts.pools).toBeGreaterThan(counts.allPools * 0.7);
  });
});

const v4 = (number: number) => [24, 16, 8, 0].map((shift) => (number >>> shift) & 255).join('.');

// Source: the npm package `ip-address`, an implementation of its own.
describe('subnet arithmetic, against another library', () => {
  const cases = Number(process.env.CARRYOVER_CASES ?? 10_000);

  it(`agrees on ends and membership in ${cases} cases of version 4`, () => {
    const next = chance(4);
    for (let at = 0; at < cases; at++) {
      const [text, other] = [v4(next(2 ** 32)), v4(next(2 ** 32))];
      const length = next(33);
      const address = parseAddress(text)!;
      const near = next(2) === 0 ? other : v4(Number(address.bits) ^ next(2 ** Math.min(31, 34 - length)));
      const theirs = new Address4(`${text}/${length}`);
      const extent = extentOf({ address, length, hostBits: false });
      expect(formatAddress(extent.first)).toBe(theirs.startAddress().address);
      expect(formatAddress(extent.last)).toBe(theirs.endAddress().address);
      expect(contains(extent, parseAddress(near)!)).toBe(new Address4(near).isInSubnet(theirs));
    }
  });

  it(`agrees on ends, membership and the usual spelling in ${cases} cases of version 6`, () => {
    const next = chance(6);
    for (let at = 0; at < cases; at++) {
      const groups = Array.from({ length: 8 }, () => (next(3) === 0 ? 0 : next(65_536)));
      const text = groups.map((group) => group.toString(16)).join(':');
      const length = next(129);
      const address = parseAddress(text)!;
      const theirs = new Address6(`${text}/${length}`);
      const extent = extentOf({ address, length, hostBits: false });
      expect(extent.first.bits).toBe(theirs.startAddress().bigInt());
      expect(extent.last.bits).toBe(theirs.endAddress().bigInt());
      const wanted = theirs.correctForm();
      expect(canonicalOf(text) ?? text).toBe(wanted);
    }
  });

  it('finds the same overlaps as a look at every pair', () => {
    const next = chance(7);
    for (let round = 0; round < 500; round++) {
      const blocks: Block[] = Array.from({ length: 1 + next(12) }, (_, role) => {
        const length = 24 + next(8);
        const address: IpAddress = { version: 4, bits: BigInt(0x0a000000 + next(1024)) };
        const site = { node: role, attr: -1 };
        const extent = extentOf({ address, length, hostBits: false });
        return { role, address, site, length, extent, enabled: true, instance: next(4) === 0 ? 1 : 0 };
      });
      const theirs = blocks.map(({ address, length }) => new Address4(`${formatAddress(address)}/${length}`));
      const overlapped = new Set<number>();
      for (const a of blocks)
        for (const b of blocks)
          if (
            a.role !== b.role &&
            a.instance === b.instance &&
            theirs[a.role]!.startAddress().isInSubnet(theirs[b.role]!)
          )
            if (a.length > b.length || (a.length === b.length && a.role > b.role)) overlapped.add(a.role);
      expect(new Set(subnetMap({ blocks }).overlaps.map(({ inner }) => inner.role))).toEqual(overlapped);
      const find = finder(blocks);
      for (let probe = 0; probe < 20; probe++) {
        const address: IpAddress = { version: 4, bits: BigInt(0x0a000000 + next(1100)) };
        const holds = blocks.filter(({ extent }) => contains(extent, address));
        const longest = Math.max(-1, ...holds.map(({ length }) => length));
        const found = find(address);
        expect(found === -1 ? -1 : blocks[found]!.length).toBe(longest);
      }
    }
  });
});

describe('tables', () => {
  // Source: test/fixtures/tables, whose rows name RFC 6890 or say that they are from memory.
  it.each(['special-ipv4.csv', 'special-ipv6.csv'])('%s: both ends of every block are told', (name) => {
    for (const { block, first, last, name: called } of rowsOf(name)) {
      const { length } = { length: Number(block!.split('/')[1]) };
      for (const end of [first!, last!]) {
        const found = specialBlock(parseAddress(end)!)!;
        // A smaller block inside may begin or end with it.
        if (found.name !== called) expect(Number(found.block.split('/')[1])).toBeGreaterThan(length);
      }
    }
    expect(specialBlock(parseAddress('11.0.0.1')!)).toBeNull();
    expect(specialBlock(parseAddress('2a00::1')!)).toBeNull();
  });

  // Source: test/fixtures/tables/ipv4-subnets.csv; /31 by RFC 3021.
  it('usable hosts of each prefix length', () => {
    for (const { prefix, usable_hosts, addresses } of rowsOf('ipv4-subnets.csv')) {
      const length = Number(prefix);
      const extent = extentOf({ address: parseAddress('0.0.0.0')!, length, hostBits: false });
      const reserved = [extent.first, extent.last].filter((address) => reservedIn({ extent, length }, address)).length;
      expect(Number(addresses) - reserved).toBe(Number(usable_hosts));
    }
  });

  // Source: test/fixtures/tables/ipv6-canonical.csv, from RFC 5952.
  it('RFC 5952 spellings', () => {
    for (const row of rowsOf('ipv6-canonical.csv')) {
      const [written, canonical] = [row.input ?? row.text!, row.canonical!];
      if (!parseAddress(written)) continue;
      expect(canonicalOf(written) ?? written).toBe(canonical);
    }
  });
});
