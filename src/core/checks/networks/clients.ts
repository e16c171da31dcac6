import type { Reading } from '../../reading/reading.ts';
import { contains, formatAddress } from '../../values/ip.ts';
import type { Repair } from '../../views.ts';
import type { CheckInput } from '../input.ts';
import { leaveOut } from '../repairs/repairs.ts';
import type { Add, RoleName } from './addresses.ts';
import { instancesOf } from './instances.ts';
import type { NetworkFacts } from './networks.ts';
import type { Lease } from './pools.ts';
import { blockText, byRole, isLinkLocal } from './subnet-map.ts';

/** The same address of two roles, or for two clients, or for a client and the box. */
export function checkDoubles({ blocks, leases }: NetworkFacts, reading: Reading, roleName: RoleName, add: Add): void {
  interface Holder {
    readonly role: number;
    readonly client: string | null;
  }
  const seen = new Map<string, Holder>();
  const instances = instancesOf(reading);
  const held = [...blocks.map((block) => ({ ...block, client: null })), ...leases];
  for (const { address, role, site, enabled, client } of held) {
    if (!enabled || isLinkLocal(address)) continue;
    const text = formatAddress(address);
    const key = `${text} ${instances[role] ?? 0}`;
    const other = seen.get(key);
    if (other === undefined) seen.set(key, { role, client });
    // One client that is told twice does not stand in its own way.
    else if (client === null || client !== other.client)
      add('address-doubled', 'warning', site, { address: text, role: roleName(role), other: roleName(other.role) });
  }
}

export function checkLeases({ blocks, leases }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = byRole(blocks);
  for (const { address, role, site } of leases) {
    const own = (ofRole.get(role) ?? []).filter((block) => block.address.version === address.version);
    if (own.length === 0 || own.some(({ extent }) => contains(extent, address))) continue;
    const params = { address: formatAddress(address), role: roleName(role), subnet: own.map(blockText).join(', ') };
    add('lease-outside', 'warning', site, params);
  }
}

/**
 * One client that is kept two addresses in one network by one list: it is told by its hardware address and the network that it asks from
 * (RFC 2131, 2.1 and 4.3.1), so it gets only one of them. In two networks it may well have two; version 6 tells clients
 * otherwise (RFC 8415, 11).
 */
export function checkClients(input: CheckInput, { blocks, leases }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = byRole(blocks);
  const seen = new Map<string, Lease>();
  for (const lease of leases) {
    const { address, role, list, enabled, mac, client, site } = lease;
    if (!enabled || mac === null || address.version !== 4) continue;
    const block = (ofRole.get(role) ?? []).find(({ extent }) => contains(extent, address));
    if (!block) continue;
    const subnet = blockText(block);
    const key = `${list} ${role} ${subnet} ${client}`;
    const other = seen.get(key);
    if (other === undefined) seen.set(key, lease);
    else if (other.row !== lease.row)
      add(
        'client-doubled',
        'warning',
        site,
        {
          mac,
          address: formatAddress(address),
          other: formatAddress(other.address),
          role: roleName(role),
          subnet,
        },
        () => oneOf(input, lease, other),
      );
  }
}

/** Leaves the one or the other entry out, by its address where that tells them apart. */
function oneOf(input: CheckInput, own: Lease, other: Lease): Repair[] {
  const { element } = input.reading.values;
  const [mine, theirs] = [own, other].map(({ address }) => formatAddress(address)) as [string, string];
  const params = (name: string): Repair['params'] => (mine === theirs ? {} : { name });
  return [
    ...leaveOut(input, element[own.row]!, 'leave-out', params(mine)),
    ...leaveOut(input, element[other.row]!, 'leave-out-other', params(theirs)),
  ];
}
