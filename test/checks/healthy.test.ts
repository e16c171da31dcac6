import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { LAYOUTS, laidOut } from './layouts.ts';
import { findingsOf, fixtures, opened, sentence } from './support.ts';

// Written by hand so that nothing in them is wrong (common practice, no source): clients are told the box itself as their
// router and resolver, a list of neighbours repeats what is kept for clients, a segment that is off repeats one that is on,
// two boxes share addresses, a pair of links is /31 (RFC 3021), a rule of one version of IP stands beside its twin.
describe.each(['edge', 'harbour', 'pair', 'bundle', 'pier'])('%s: a healthy box', (name) => {
  const xml = readFileSync(`${fixtures}healthy/${name}.xml`, 'utf8');
  it.each(LAYOUTS)('%s: no error and no warning', (layout) => {
    const found = findingsOf(opened(laidOut(xml, layout)));
    expect(found.filter(({ severity }) => severity !== 'note').map((one) => `${one.code}: ${sentence(one)}`)).toEqual(
      [],
    );
    expect(found.length).toBeGreaterThan(0);
  });
});

/** One fault each, by what is replaced in the healthy box and what is to be said of it. */
const faults = [
  ['edge', '<stop>10.20.0.199</stop>', '<stop>10.20.1.199</stop>', 'pool-outside', 'RFC 2131, 4.3.1, from memory'],
  ['edge', '<start>10.20.0.100</start>', '<start>10.20.0.1</start>', 'pool-over-router', 'RFC 5227, 1, from memory'],
  ['edge', '<ip>10.20.0.21</ip><name>', '<ip>10.20.9.21</ip><name>', 'lease-outside', 'RFC 2131, 4.3.1, from memory'],
  ['edge', '00:00:5e:00:53:07', '00:00:5e:00:53:06', 'client-doubled', 'RFC 2131, 2.1, from memory'],
  ['edge', '<router>10.20.0.1</router>', '<router>10.20.9.1</router>', 'next-hop-unreachable', 'RFC 1812, 5.2.4.2'],
  ['edge', '<via>10.20.255.1</via>', '<via>10.77.255.1</via>', 'next-hop-unreachable', 'RFC 1812, 5.2.4.2'],
  [
    'edge',
    '<address>10.20.40.1/24</address>',
    '<address>10.20.50.9/24</address>',
    'subnets-overlap',
    'common practice',
  ],
  ['bundle', '<vid>110</vid>', '<vid>4095</vid>', 'tag-out-of-range', 'IEEE 802.1Q, 9.6'],
  ['harbour', '<mask>255.255.254.0</mask>', '<mask>255.253.254.0</mask>', 'mask-not-contiguous', 'RFC 4632, 3.1'],
  ['harbour', '<ip>10.30.20.1</ip>', '<ip>10.30.20.255</ip>', 'address-not-a-host', 'RFC 1122, 3.2.1.3'],
  ['harbour', '<to>10.30.1.149</to>', '<to>10.30.1.99</to>', 'pool-reversed', 'common practice'],
  [
    'harbour',
    '<address>10.30.1.21</address><host>',
    '<address>10.30.1.1</address><host>',
    'address-doubled',
    'RFC 5227',
  ],
  ['harbour', '<next>10.30.20.250</next>', '<next>10.31.20.250</next>', 'next-hop-unreachable', 'RFC 1812, 5.2.4.2'],
  ['pier', '<high>172.20.8.90</high>', '<high>172.20.9.90</high>', 'pool-outside', 'RFC 2131, 4.3.1, from memory'],
  ['pier', '<own>172.20.8.1</own>', '<own>172.20.8.0</own>', 'address-not-a-host', 'RFC 1122, 3.2.1.3'],
  ['pier', '<at>172.20.9.21</at>', '<at>172.20.8.21</at>', 'address-doubled', 'RFC 5227, 1, from memory'],
  ['bundle', '<address>10.77.1.1</address>', '<address>10.77.0.129</address>', 'subnets-overlap', 'common practice'],
  ['bundle', '10.77.2.100-10.77.2.120', '10.77.2.100-10.77.3.120', 'pool-outside', 'RFC 2131, 4.3.1, from memory'],
  ['bundle', '<router>192.0.2.1</router>', '<router>192.0.2.9</router>', 'next-hop-unreachable', 'RFC 1812, 5.2.4.2'],
] as const;

describe.each(faults)('%s, %s made %s: %s', (name, healthy, broken, code) => {
  const xml = readFileSync(`${fixtures}healthy/${name}.xml`, 'utf8');
  it.each(LAYOUTS)('%s', (layout) => {
    expect(xml.split(healthy)).toHaveLength(2);
    const found = findingsOf(opened(laidOut(xml.replace(healthy, broken), layout)));
    expect(found.filter(({ severity }) => severity !== 'note').map((one) => one.code)).toContain(code);
  });
});
