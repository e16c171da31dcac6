import { contains, extentOf, type IpAddress, type IpRange, parsePrefix } from './ip.ts';
import table from './special-addresses.json' with { type: 'json' };

/** A block that a standard keeps for a purpose (RFC 6890 as updated by RFC 8190, and multicast). */
export interface SpecialBlock {
  readonly block: string;
  readonly name: string;
  readonly rfc: string;
  /** Whether packets may come from it, go to it, and be passed on. */
  readonly source: boolean;
  readonly destination: boolean;
  readonly forwardable: boolean;
  readonly extent: IpRange;
}

const blocks: readonly SpecialBlock[] = table.blocks
  .map((row) => ({ ...row, prefix: parsePrefix(row.block)! }))
  .sort((a, b) => b.prefix.length - a.prefix.length)
  .map(({ prefix, ...row }) => ({ ...row, extent: extentOf(prefix) }));

/** The smallest special-purpose block around an address, null for an ordinary one. */
export function specialBlock(address: IpAddress): SpecialBlock | null {
  return blocks.find(({ extent }) => contains(extent, address)) ?? null;
}
