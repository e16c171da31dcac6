import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  contains,
  extentOf,
  formatAddress,
  isIpv4,
  isIpv6,
  isNetmask,
  isPrefix,
  maskLength,
  parseAddress,
  parseAddressRange,
  parsePrefix,
  splitZone,
} from '../../src/core/values/ip.ts';
import { rowsOf } from './tables.ts';

describe('IPv6 text (RFC 5952; each row of ipv6-canonical.csv names its section)', () => {
  test.each(rowsOf('ipv6-canonical.csv').map(({ input, canonical }) => [input, canonical]))(
    '%s is written %s',
    (input, canonical) => {
      expect(formatAddress(parseAddress(input)!)).toBe(canonical);
    },
  );

  test('written and read again, an address is the same', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 0n, max: (1n << 128n) - 1n }), (bits) => {
        expect(parseAddress(formatAddress({ version: 6, bits }))).toEqual({ version: 6, bits });
      }),
      { seed: 20261125 },
    );
  });

  test.each([
    '',
    ':',
    ':::',
    '1:2:3',
    '2001:db8::1::2',
    '2001:db8::12345',
    '2001:db8::g',
    '1:2:3:4:5:6:7:8:9',
    '::ffff:192.0.2.256',
    '12:30',
    '00:00:5e:00:53:10',
  ])('"%s" is no address (RFC 4291, 2.2)', (text) => expect(isIpv6(text)).toBe(false));

  test('a zone names the device that the link is on (RFC 4007, 11)', () => {
    expect(splitZone('fe80::1%igb0')).toEqual({ address: 'fe80::1', zone: 'igb0' });
    expect(splitZone('fe80::1')).toBeNull();
    expect(splitZone('100%igb0')).toBeNull();
  });
});

describe('IPv4', () => {
  test.each(['0.0.0.0', '192.0.2.1', '255.255.255.255'])('%s is an address', (text) => expect(isIpv4(text)).toBe(true));
  test.each(['', '1.2.3', '1.2.3.4.5', '1.2.3.256', '01.2.3.4', '1..2.3', '1.2.3.4 ', '1.2.3.-4', '0x1.2.3.4'])(
    '"%s" is none (RFC 6943, 3.1.1, on loose spellings)',
    (text) => expect(isIpv4(text)).toBe(false),
  );

  test.each(rowsOf('ipv4-subnets.csv').map((row) => [row.prefix, row.mask, row.wildcard, row.addresses]))(
    'the mask of /%s is %s (RFC 4632, 3.1; arithmetic)',
    (prefix, mask, wildcard, addresses) => {
      expect(maskLength(mask)).toBe(Number(prefix));
      expect(isNetmask(mask)).toBe(true);
      expect(isNetmask(wildcard)).toBe(true);
      const byMask = parsePrefix(`10.20.0.0/${mask}`)!;
      const { first, last } = extentOf(byMask);
      expect(byMask.length).toBe(Number(prefix));
      expect(last.bits - first.bits + 1n).toBe(BigInt(addresses));
    },
  );

  test.each(['255.0.255.0', '255.255.255.253', '128.0.0.1'])('%s is no mask', (mask) =>
    expect(maskLength(mask)).toBeNull(),
  );
});

describe.each(['special-ipv4.csv', 'special-ipv6.csv'])(
  'special-purpose blocks of %s (RFC 6890, rows name their source)',
  (file) => {
    test.each(rowsOf(file).map(({ block, first, last }) => [block, first, last]))(
      '%s reaches from %s to %s',
      (block, first, last) => {
        const extent = extentOf(parsePrefix(block)!);
        expect(extent).toEqual({ first: parseAddress(first), last: parseAddress(last) });
        expect(contains(extent, parseAddress(first)!)).toBe(true);
        expect(contains(extent, { ...extent.last, bits: extent.last.bits + 1n })).toBe(false);
      },
    );
  },
);

test('a prefix tells bits below it, and refuses lengths that its version has not (RFC 4632, 3.1; RFC 8344)', () => {
  expect(parsePrefix('10.20.0.1/24')).toMatchObject({ length: 24, hostBits: true });
  expect(parsePrefix('10.20.0.0/24')).toMatchObject({ length: 24, hostBits: false });
  for (const text of ['10.20.0.0/33', '2001:db8::/129', '10.20.0.0/', '/24', '10.20.0.0/024', '10.20.0.0/24/1'])
    expect(parsePrefix(text)).toBeNull();
});

test('the quick look at a prefix says the same as the reading of it', () => {
  const texts = [
    '10.20.0.0/24',
    '10.20.0.1/0',
    '10.20.0.1/32',
    '10.20.0.1/33',
    '10.20.0.1/',
    '10.20.0.1/024',
    '10.20.0.1/1e',
    '10.20.0.1/ 9',
    '10.20.0.1/+9',
    '10.20.0.1/255.255.0.0',
    '10.20.0.1/255.0.255.0',
    '300.1.1.1/24',
    '/24',
    '2001:db8::/32',
    '2001:db8::/129',
    'a/b',
  ];
  expect(texts.map(isPrefix)).toEqual(texts.map((text) => parsePrefix(text) !== null));
});

test('a range has two ends of one version, in order', () => {
  expect(parseAddressRange('10.20.0.100-10.20.0.199')).not.toBeNull();
  expect(parseAddressRange('2001:db8::1 - 2001:db8::f')).not.toBeNull();
  for (const text of ['10.20.0.199-10.20.0.100', '10.20.0.1-2001:db8::1', '08:00-20:00', '80-443'])
    expect(parseAddressRange(text)).toBeNull();
});
