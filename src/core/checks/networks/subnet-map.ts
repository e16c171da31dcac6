import { contains, formatAddress, type IpAddress } from '../../values/ip.ts';
import type { Block, NetworkFacts } from './networks.ts';

export const blockText = ({ extent, length }: Pick<Block, 'extent' | 'length'>) =>
  `${formatAddress(extent.first)}/${length}`;

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
export const isLinkLocal = (address: IpAddress) => address.version === 6 && address.bits >> 118n === 0x3fan;

/** Host routes lie inside other networks rightly, and each link has its own link-local network (RFC 4291, 2.5.6). */
export function subnetMap({ blocks }: Pick<NetworkFacts, 'blocks'>): SubnetMap {
  const sorted = [...blocks].sort(
    (a, b) =>
      a.address.version - b.address.version ||
      compareBits(a.extent.first.bits, b.extent.first.bits) ||
      a.length - b.length ||
      a.role - b.role,
  );
  const overlaps: Overlap[] = [];
  const openIn = new Map<number, Block[]>();
  for (const block of sorted) {
    const open = openIn.get(block.instance) ?? [];
    openIn.set(block.instance, open);
    if (!block.enabled || isLinkLocal(block.address) || block.extent.first.bits === block.extent.last.bits) continue;
    while (open.length > 0 && !contains(open[open.length - 1]!.extent, block.extent.first)) open.pop();
    const outer = open[open.length - 1];
    if (outer && outer.role !== block.role) overlaps.push({ inner: block, outer });
    open.push(block);
  }
  return { blocks: sorted, overlaps };
}

/** Networks by role. */
export function byRole(blocks: readonly Block[]): ReadonlyMap<number, readonly Block[]> {
  const ofRole = new Map<number, Block[]>();
  for (const block of blocks) {
    const list = ofRole.get(block.role);
    if (list) list.push(block);
    else ofRole.set(block.role, [block]);
  }
  return ofRole;
}

export const compareBits = (a: bigint, b: bigint) => (a < b ? -1 : a > b ? 1 : 0);
