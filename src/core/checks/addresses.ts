import { contains, formatAddress, type IpAddress, type IpRange, parseAddress, splitZone } from '../values/ip.ts';
import { specialBlock } from '../values/special-addresses.ts';
import type { Finding } from '../views.ts';
import type { Site } from '../xml/site.ts';
import { addressesOfRoles } from './automatic.ts';
import type { CheckInput } from './input.ts';
import { type Block, finder, type NetworkFacts, networksOf, type Written } from './networks.ts';
import { once, siteOf, tablesOf } from './tables.ts';

type Add = (code: Finding['code'], severity: Finding['severity'], site: Site, params: Finding['params']) => void;

/** Findings of one kind that are listed one by one; the rest is counted. */
const MOST = 200;

const whole = new WeakMap<NetworkFacts, readonly Finding[]>();

/** Addresses that cannot work as they stand, and such as are worth a look before the swap. */
export function checkAddresses(input: CheckInput): Finding[] {
  const all = networksOf(input.reading);
  const facts = staying(all, input.gone);
  let found = facts === all ? whole.get(all) : undefined;
  if (!found) {
    found = addressFindings(input, facts);
    if (facts === all) whole.set(all, found);
  }
  const spelling = checkSpelling(input);
  return [...found, ...spelling, ...addressesOfRoles(input, facts)];
}

function addressFindings({ reading, place }: CheckInput, facts: NetworkFacts): Finding[] {
  const findings: Finding[] = [];
  const said = new Map<Finding['code'], { count: number; severity: Finding['severity'] }>();
  const add: Add = (code, severity, site, params) => {
    const count = (said.get(code)?.count ?? 0) + 1;
    said.set(code, { count, severity });
    if (count <= MOST) findings.push({ code, severity, place: place(site), params, byPlan: false });
  };
  const roleName = (role: number) => reading.roles[role]?.name ?? '';
  checkMasks(facts, add);
  checkHosts(facts, roleName, add);
  checkOverlaps(facts, roleName, add);
  checkDoubles(facts, roleName, add);
  checkPools(facts, roleName, add);
  checkLeases(facts, roleName, add);
  checkHops(facts, roleName, add);
  checkSpecial(facts, add);
  for (const [code, { count, severity }] of said) {
    if (count <= MOST) continue;
    const params = { of: code, count: count - MOST };
    findings.push({ code: 'findings-more', severity, place: null, params, byPlan: false });
  }
  return findings;
}

/** Without what the plan leaves out; the facts themselves where that is nothing. */
function staying(facts: NetworkFacts, gone: (node: number) => boolean): NetworkFacts {
  const stays = ({ site }: { readonly site: Site }) => !gone(site.node);
  const left: NetworkFacts = {
    blocks: facts.blocks.filter(stays),
    pools: facts.pools.filter(({ first, last }) => stays(first) && stays(last)),
    leases: facts.leases.filter(stays),
    gateways: facts.gateways.filter(stays),
    routes: facts.routes.filter(({ nextHop }) => stays(nextHop)),
    badMasks: facts.badMasks.filter(stays),
  };
  const names = Object.keys(left) as (keyof NetworkFacts)[];
  return names.every((name) => left[name].length === facts[name].length) ? facts : left;
}

type RoleName = (role: number) => string;

export const blockText = ({ extent, length }: Pick<Block, 'extent' | 'length'>) =>
  `${formatAddress(extent.first)}/${length}`;

/** RFC 4632, 3.1: the ones of a mask stand together. */
function checkMasks({ badMasks }: NetworkFacts, add: Add): void {
  for (const { site, mask } of badMasks) add('mask-not-contiguous', 'warning', site, { mask });
}

/**
 * `network` or `broadcast` for an address that no host may have (RFC 1122, 3.2.1.3); null for one that is fine. A pair
 * of two (RFC 3021) and a host route have neither. Version 6 has no broadcast, and its first address is the routers'
 * (RFC 4291, 2.6.1).
 */
export function reservedIn({ extent, length }: Pick<Block, 'extent' | 'length'>, address: IpAddress) {
  if (address.version === 6 || length >= 31 || address.version !== extent.first.version) return null;
  if (address.bits === extent.first.bits) return 'network';
  return address.bits === extent.last.bits ? 'broadcast' : null;
}

function checkHosts({ blocks, leases, gateways }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = group(blocks);
  const look = (written: Written, role: number, block: Block) => {
    const what = reservedIn(block, written.address);
    if (!what) return;
    const params = { address: formatAddress(written.address), what, subnet: blockText(block), role: roleName(role) };
    add('address-not-a-host', 'warning', written.site, params);
  };
  for (const block of blocks) look(block, block.role, block);
  for (const held of [...leases, ...gateways])
    for (const block of ofRole.get(held.role) ?? []) look(held, held.role, block);
}

function group(blocks: readonly Block[]): ReadonlyMap<number, readonly Block[]> {
  const ofRole = new Map<number, Block[]>();
  for (const block of blocks) {
    const list = ofRole.get(block.role);
    if (list) list.push(block);
    else ofRole.set(block.role, [block]);
  }
  return ofRole;
}

export interface Overlap {
  /** The one that begins later or is smaller. */
  readonly inner: Block;
  readonly outer: Block;
}

/** The networks of a site in order, for a drawing, and which of different roles lie one in the other. */
export interface SubnetMap {
  /** By version, first address, and the larger one first. */
  readonly blocks: readonly Block[];
  readonly overlaps: readonly Overlap[];
}

/** fe80::/10 (RFC 4291, 2.5.6). */
const isLinkLocal = (address: IpAddress) => address.version === 6 && address.bits >> 118n === 0x3fan;

/** Host routes lie inside other networks rightly, and each link has its own link-local network (RFC 4291, 2.5.6). */
export function subnetMap({ blocks }: Pick<NetworkFacts, 'blocks'>): SubnetMap {
  const sorted = [...blocks].sort(
    (a, b) =>
      a.address.version - b.address.version ||
      compare(a.extent.first.bits, b.extent.first.bits) ||
      a.length - b.length ||
      a.role - b.role,
  );
  const overlaps: Overlap[] = [];
  const open: Block[] = [];
  for (const block of sorted) {
    if (!block.enabled || isLinkLocal(block.address) || block.extent.first.bits === block.extent.last.bits) continue;
    while (open.length > 0 && !contains(open[open.length - 1]!.extent, block.extent.first)) open.pop();
    const outer = open[open.length - 1];
    if (outer && outer.role !== block.role) overlaps.push({ inner: block, outer });
    open.push(block);
  }
  return { blocks: sorted, overlaps };
}

function checkOverlaps(facts: NetworkFacts, roleName: RoleName, add: Add): void {
  for (const { inner, outer } of subnetMap(facts).overlaps)
    add('subnets-overlap', 'warning', inner.site, {
      role: roleName(inner.role),
      subnet: blockText(inner),
      other: roleName(outer.role),
      otherSubnet: blockText(outer),
    });
}

/** The same address of two roles, or for two clients, or for a client and the box. */
function checkDoubles({ blocks, leases }: NetworkFacts, roleName: RoleName, add: Add): void {
  const seen = new Map<string, number>();
  for (const { address, role, site, enabled } of [...blocks, ...leases.map(asEnabled)]) {
    if (!enabled || isLinkLocal(address)) continue;
    const text = formatAddress(address);
    const other = seen.get(text);
    if (other === undefined) seen.set(text, role);
    else add('address-doubled', 'warning', site, { address: text, role: roleName(role), other: roleName(other) });
  }
}

const asEnabled = <T>(held: T) => ({ ...held, enabled: true });

function checkPools({ blocks, pools, leases, gateways }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = group(blocks);
  const held = sortedHolders(leases);
  const routers = sortedHolders([...blocks, ...gateways]);
  for (const { first, last, role } of pools) {
    const range: IpRange = { first: first.address, last: last.address };
    const ends = { first: formatAddress(first.address), last: formatAddress(last.address), role: roleName(role) };
    if (first.address.version !== last.address.version || first.address.bits > last.address.bits) {
      add('pool-reversed', 'warning', first.site, ends);
      continue;
    }
    const own = (ofRole.get(role) ?? []).filter(({ address }) => address.version === first.address.version);
    const around = own.find(({ extent }) => contains(extent, first.address) && contains(extent, last.address));
    if (own.length > 0 && !around)
      add('pool-outside', 'warning', contains(own[0]!.extent, first.address) ? last.site : first.site, {
        ...ends,
        subnet: own.map(blockText).join(', '),
      });
    if (around) {
      const at = reservedIn(around, first.address) ? first : reservedIn(around, last.address) ? last : null;
      if (at)
        add('pool-over-reserved', 'note', at.site, {
          ...ends,
          address: formatAddress(at.address),
          what: reservedIn(around, at.address)!,
        });
    }
    const router = routers(range)[0];
    if (router) add('pool-over-router', 'warning', first.site, { ...ends, address: formatAddress(router.address) });
    const clients = held(range);
    if (clients.length > 0)
      add('pool-over-lease', 'note', first.site, {
        ...ends,
        address: formatAddress(clients[0]!.address),
        count: clients.length,
      });
  }
}

/** Those of the addresses that lie in a range, each once, in order. */
function sortedHolders(list: readonly Written[]): (range: IpRange) => readonly Written[] {
  const sorted = [...list].sort(
    (a, b) => a.address.version - b.address.version || compare(a.address.bits, b.address.bits),
  );
  return (range) => {
    let low = 0;
    let high = sorted.length;
    const { version, bits } = range.first;
    while (low < high) {
      const middle = (low + high) >> 1;
      const { address } = sorted[middle]!;
      if (address.version < version || (address.version === version && address.bits < bits)) low = middle + 1;
      else high = middle;
    }
    const inside: Written[] = [];
    for (let at = low; at < sorted.length && contains(range, sorted[at]!.address); at++)
      if (inside[inside.length - 1]?.address.bits !== sorted[at]!.address.bits) inside.push(sorted[at]!);
    return inside;
  };
}

const compare = (a: bigint, b: bigint) => (a < b ? -1 : a > b ? 1 : 0);

function checkLeases({ blocks, leases }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = group(blocks);
  for (const { address, role, site } of leases) {
    const own = (ofRole.get(role) ?? []).filter((block) => block.address.version === address.version);
    if (own.length === 0 || own.some(({ extent }) => contains(extent, address))) continue;
    const params = { address: formatAddress(address), role: roleName(role), subnet: own.map(blockText).join(', ') };
    add('lease-outside', 'warning', site, params);
  }
}

/** A next hop is a neighbour: it lies in the network of its role, or of any where none is told (RFC 1812, 5.2.4.2). */
function checkHops({ blocks, gateways, routes }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = group(blocks);
  const holding = finder(blocks);
  const versions = new Set(blocks.map(({ address }) => address.version));
  for (const { address, role, site } of gateways) {
    const own = (ofRole.get(role) ?? []).filter((block) => block.address.version === address.version);
    if (own.length === 0 || isLinkLocal(address) || own.some(({ extent }) => contains(extent, address))) continue;
    const params = { address: formatAddress(address), role: roleName(role), subnet: own.map(blockText).join(', ') };
    add('next-hop-unreachable', 'warning', site, params);
  }
  for (const { nextHop } of routes) {
    const { address, site } = nextHop;
    if (!versions.has(address.version) || isLinkLocal(address) || holding(address) !== -1) continue;
    add('next-hop-unreachable', 'warning', site, { address: formatAddress(address), role: '', subnet: '' });
  }
}

/** Blocks that stand for themselves on every box, or for anything rather than for one host. */
function checkSpecial({ blocks, leases, gateways, routes }: NetworkFacts, add: Add): void {
  const documented: Written[] = [];
  for (const written of [...blocks, ...leases, ...gateways, ...routes.map(({ nextHop }) => nextHop)]) {
    const special = specialBlock(written.address);
    if (!special) continue;
    if (special.name.startsWith('Documentation')) documented.push(written);
    else if (isLoopbackBlock(special.name) && isHostRoute(written)) continue;
    else if (special.forwardable && special.source) continue;
    else if (special.name === 'Linked-Scoped Unicast' || special.name === 'Link Local') continue;
    else
      add('address-special', 'warning', written.site, {
        address: formatAddress(written.address),
        block: special.block,
        name: special.name,
        rfc: special.rfc,
      });
  }
  if (documented.length > 0)
    add('address-documentation', 'note', documented[0]!.site, {
      address: formatAddress(documented[0]!.address),
      count: documented.length,
    });
}

const isLoopbackBlock = (name: string) => name.startsWith('Loopback');

/** The box's own loopback is written as a host route or as the whole block 127.0.0.0/8. */
const isHostRoute = (written: Written): boolean => 'length' in written;

const spelled = once((reading) => {
  const found: { site: Site; value: string; canonical: string; field: string; count: number }[] = [];
  for (const { columns } of tablesOf(reading).values())
    for (const { field, name, kind } of columns) {
      if (kind !== 'address' && kind !== 'prefix' && kind !== 'mixed' && kind !== 'range') continue;
      let first = -1;
      let count = 0;
      for (let at = 0; at < field.values.length; at++) {
        if (canonicalOf(field.values[at]!) === null) continue;
        if (first === -1) first = at;
        count++;
      }
      if (first === -1) continue;
      const value = field.values[first]!;
      found.push({ site: siteOf(field, first), value, canonical: canonicalOf(value)!, field: name, count });
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
function checkSpelling({ reading, gone, place }: CheckInput): Finding[] {
  return spelled(reading)
    .filter(({ site }) => !gone(site.node))
    .map(({ site, ...params }) => ({
      code: 'address-not-canonical' as const,
      severity: 'note' as const,
      place: place(site),
      params,
      byPlan: false,
    }));
}
