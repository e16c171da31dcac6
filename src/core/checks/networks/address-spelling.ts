import { mapLong } from '../../reading/fields/long-lists.ts';
import { extentOf, formatAddress, parseAddress, parsePrefix, splitZone } from '../../values/ip.ts';
import type { Finding } from '../../views.ts';
import type { Site } from '../../xml/site.ts';
import { once } from '../facts/once.ts';
import { siteKey, siteOf, tablesOf } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { setTo } from '../repairs/repairs.ts';
import { networksOf } from './networks.ts';

/** Addresses that mean what they should, written otherwise than usual, or than the others of their field. */
export const checkSpelling = (input: CheckInput): Finding[] => [...checkCanonical(input), ...checkHostBits(input)];

interface Spelled {
  readonly sites: readonly Site[];
  readonly canonical: readonly string[];
  readonly value: string;
  readonly field: string;
}

const spelled = once((reading): readonly Spelled[] => {
  const found: Spelled[] = [];
  for (const { columns } of tablesOf(reading).values())
    for (const { field, name, kind } of columns) {
      if (kind !== 'address' && kind !== 'prefix' && kind !== 'mixed' && kind !== 'range') continue;
      const texts = mapLong(field.distinct, canonicalOf);
      if (texts.every((text) => text === null)) continue;
      const sites: Site[] = [];
      const canonical: string[] = [];
      let first = '';
      for (let at = 0; at < field.values.length; at++) {
        const text = texts[field.which[at]!]!;
        if (text === null) continue;
        if (sites.length === 0) first = field.values[at]!;
        sites.push(siteOf(field, at));
        canonical.push(text);
      }
      found.push({ sites, canonical, value: first, field: name });
    }
  return found;
});

/** The text of RFC 5952 for an address or prefix of version 6 that is written otherwise; null for any other value. */
export function canonicalOf(value: string): string | null {
  if (!value.includes(':')) return null;
  const cut = value.indexOf('/');
  const head = cut === -1 ? value : value.slice(0, cut);
  const zoned = splitZone(head);
  const address = parseAddress(zoned?.address ?? head);
  if (!address) return null;
  const text = formatAddress(address);
  if (text === (zoned?.address ?? head)) return null;
  return `${text}${zoned ? `%${zoned.zone}` : ''}${cut === -1 ? '' : value.slice(cut)}`;
}

/** One finding for each field, since a file that spells them otherwise does so everywhere. */
function checkCanonical(input: CheckInput): Finding[] {
  return spelled(input.reading).flatMap(({ sites, canonical, value, field }) => {
    const stay = sites
      .map((site, at) => ({ site, value: canonical[at]! }))
      .filter(({ site }) => !input.gone(site.node));
    if (stay.length === 0) return [];
    return [
      {
        code: 'address-not-canonical' as const,
        severity: 'note' as const,
        place: input.place(stay[0]!.site),
        params: { value, canonical: stay[0]!.value, field, count: stay.length },
        byPlan: false,
        repairs: setTo(input, 'spell-usual', { to: stay[0]!.value, count: stay.length }, stay),
      },
    ];
  });
}

interface HostBits {
  readonly site: Site;
  readonly value: string;
  readonly network: string;
  readonly field: string;
}

/** Fewer networks than this show no custom. */
const FEW = 4;

/**
 * Networks with bits below their prefix where nearly all others of the field have none: `10.20.0.5/24` among networks (RFC
 * 4632, 3.1: the bits below are no part of a prefix). A role's own address is written so rightly.
 */
const hostBitsIn = once((reading): readonly HostBits[] => {
  const own = new Set(networksOf(reading).blocks.map(({ site }) => siteKey(site.node, site.attr)));
  const found: HostBits[] = [];
  for (const { columns } of tablesOf(reading).values())
    for (const { field, name, kind } of columns) {
      if ((kind !== 'prefix' && kind !== 'mixed') || field.values.length < FEW) continue;
      const prefixes = mapLong(field.distinct, parsePrefix);
      const count = { networks: 0, odd: 0 };
      for (const [at, prefix] of prefixes.entries())
        if (prefix) count[prefix.hostBits ? 'odd' : 'networks'] += field.times[at]!;
      if (count.odd === 0 || count.networks < FEW || count.odd > Math.max(1, count.networks * 0.1)) continue;
      for (let at = 0; at < field.values.length; at++) {
        const prefix = prefixes[field.which[at]!];
        const site = siteOf(field, at);
        if (!prefix?.hostBits || own.has(siteKey(site.node, site.attr))) continue;
        const network = `${formatAddress(extentOf(prefix).first)}/${prefix.length}`;
        found.push({ site, value: field.values[at]!, network, field: name });
      }
    }
  return found;
});

function checkHostBits(input: CheckInput): Finding[] {
  return hostBitsIn(input.reading)
    .filter(({ site }) => !input.gone(site.node))
    .map(({ site, value, network, field }) => ({
      code: 'network-host-bits' as const,
      severity: 'note' as const,
      place: input.place(site),
      params: { value, network, field },
      byPlan: false,
      repairs: setTo(input, 'host-bits-off', { to: network }, [{ site, value: network }]),
    }));
}
