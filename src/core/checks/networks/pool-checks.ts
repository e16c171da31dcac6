import { contains, formatAddress, type IpAddress, type IpRange } from '../../values/ip.ts';
import type { Repair } from '../../views.ts';
import { valueIn } from '../amended/set-value.ts';
import type { CheckInput } from '../input.ts';
import { setTo } from '../repairs/repairs.ts';
import type { Add, RoleName } from './addresses.ts';
import type { Block, NetworkFacts, Written } from './networks.ts';
import type { Pool } from './pools.ts';
import { blockText, byRole, compareBits, reservedIn } from './subnet-map.ts';

/** Ranges of addresses that are given out: their order, the network around them, and who is in them already. */
export function checkPools(input: CheckInput, facts: NetworkFacts, roleName: RoleName, add: Add): void {
  const { blocks, pools, leases, gateways } = facts;
  const ofRole = byRole(blocks);
  const held = sortedHolders(leases);
  const routers = sortedHolders([...blocks, ...gateways]);
  for (const pool of pools) {
    const { first, last, role } = pool;
    const range: IpRange = { first: first.address, last: last.address };
    const ends = { first: formatAddress(first.address), last: formatAddress(last.address), role: roleName(role) };
    if (first.address.version !== last.address.version || first.address.bits > last.address.bits) {
      add('pool-reversed', 'warning', first.site, ends, () => swapped(input, pool));
      continue;
    }
    const own = (ofRole.get(role) ?? []).filter(({ address }) => address.version === first.address.version);
    const around = own.find(({ extent }) => contains(extent, first.address) && contains(extent, last.address));
    const shrunk = (block: Block | undefined) => () => shrink(input, pool, block, routers);
    if (own.length > 0 && !around)
      add(
        'pool-outside',
        'warning',
        contains(own[0]!.extent, first.address) ? last.site : first.site,
        { ...ends, subnet: own.map(blockText).join(', ') },
        own.length === 1 ? shrunk(own[0]) : undefined,
      );
    if (around) {
      const at = reservedIn(around, first.address) ? first : reservedIn(around, last.address) ? last : null;
      if (at)
        add(
          'pool-over-reserved',
          'note',
          at.site,
          { ...ends, address: formatAddress(at.address), what: reservedIn(around, at.address)! },
          shrunk(around),
        );
    }
    const router = routers(range)[0];
    if (router)
      add(
        'pool-over-router',
        'warning',
        first.site,
        { ...ends, address: formatAddress(router.address) },
        shrunk(around),
      );
    const clients = held(range);
    if (clients.length > 0)
      add('pool-over-lease', 'note', first.site, {
        ...ends,
        address: formatAddress(clients[0]!.address),
        count: clients.length,
      });
  }
}

type Holders = (range: IpRange) => readonly Written[];

/** Those of the addresses that lie in a range, each once, in order. */
function sortedHolders(list: readonly Written[]): Holders {
  const sorted = [...list].sort(
    (a, b) => a.address.version - b.address.version || compareBits(a.address.bits, b.address.bits),
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

/** The part of a range that lies among the hosts of a network and holds no router; only ends are cut, never the middle. */
function shrink(input: CheckInput, pool: Pool, block: Block | undefined, routers: Holders): Repair[] {
  if (!block) return [];
  const { version } = pool.first.address;
  const room = version === 4 && block.length < 31 ? 1n : 0n;
  const [low, high] = [block.extent.first.bits + room, block.extent.last.bits - room];
  let [first, last] = [pool.first.address.bits, pool.last.address.bits];
  if (first > high || last < low) return [];
  if (first < low) first = low;
  if (last > high) last = high;
  const inside = routers({ first: { version, bits: first }, last: { version, bits: last } });
  let from = 0;
  let to = inside.length;
  for (; from < to && inside[from]!.address.bits === first; from++) first++;
  for (; to > from && inside[to - 1]!.address.bits === last; to--) last--;
  if (from < to || first > last) return [];
  return ends(input, pool, { version, bits: first }, { version, bits: last });
}

/** Writes new ends where the old ones stand: in two values, or in one. */
function ends(input: CheckInput, { first, last }: Pool, from: IpAddress, to: IpAddress): Repair[] {
  const isSame = { first: first.address.bits === from.bits, last: last.address.bits === to.bits };
  const text = { first: formatAddress(from), last: formatAddress(to) };
  const params = { ...(!isSame.first && { first: text.first }), ...(!isSame.last && { last: text.last }) };
  if (isOneValue(first, last)) {
    const parts = partsOf(input, first);
    const value = parts && `${text.first}${parts.between}${text.last}`;
    return value === null ? [] : setTo(input, 'shrink-pool', params, [{ site: first.site, value }]);
  }
  return setTo(input, 'shrink-pool', params, [
    ...(isSame.first ? [] : [{ site: first.site, value: text.first }]),
    ...(isSame.last ? [] : [{ site: last.site, value: text.last }]),
  ]);
}

const isOneValue = ({ site: a }: Written, { site: b }: Written) => a.node === b.node && a.attr === b.attr;

function swapped(input: CheckInput, { first, last }: Pool): Repair[] {
  if (first.address.version !== last.address.version) return [];
  const [from, to] = [valueIn(input.tree, input.set, first.site), valueIn(input.tree, input.set, last.site)];
  if (!isOneValue(first, last))
    return setTo(input, 'swap-ends', {}, [
      { site: first.site, value: to },
      { site: last.site, value: from },
    ]);
  const parts = partsOf(input, first);
  return parts
    ? setTo(input, 'swap-ends', {}, [{ site: first.site, value: `${parts.to}${parts.between}${parts.from}` }])
    : [];
}

/** Both ends of a range that stands in one value, as they are written. */
function partsOf({ tree, set }: CheckInput, { site }: Written) {
  const parts = /^([^\s-]+)(\s*-\s*)([^\s-]+)$/.exec(valueIn(tree, set, site).trim());
  return parts && { from: parts[1]!, between: parts[2]!, to: parts[3]! };
}
