import type { CheckInput } from '../../checks/index.ts';
import { staying } from '../../checks/networks/addresses.ts';
import { type Block, networksOf, type Written } from '../../checks/networks/networks.ts';
import { blockText, subnetMap } from '../../checks/networks/subnet-map.ts';
import type { Reading } from '../../reading/reading.ts';
import { contains, formatAddress, type IpAddress } from '../../values/ip.ts';
import type { SubnetSpan, SubnetView } from '../../views.ts';

/** The networks of the roles that go over, in the order of their addresses, with what stands in each. */
export function subnetViews(
  reading: Reading,
  gone: CheckInput['gone'],
  place: CheckInput['place'],
): readonly SubnetView[] {
  const facts = staying(networksOf(reading), gone);
  const { blocks, overlaps } = subnetMap(facts);
  const roleOf = (role: number) => reading.roles[role]?.label ?? reading.roles[role]?.name ?? '';
  const index = new Map(blocks.map((block, at) => [block, at]));
  const views = blocks.map((block) => ({
    role: roleOf(block.role),
    subnet: blockText(block),
    version: block.address.version,
    length: block.length,
    start: block.address.version === 4 ? Number(block.extent.first.bits & 255n) : 0,
    enabled: block.enabled,
    own: mark(block, block.address),
    place: place(block.site),
    pools: [] as SubnetSpan[],
    fixed: [] as SubnetView['fixed'][number][],
    gateways: [] as SubnetView['gateways'][number][],
    overlaps: [] as SubnetView['overlaps'][number][],
  }));
  const holder = (role: number, address: IpAddress) => {
    const around = (ofRole.get(role) ?? []).find((at) => contains(blocks[at]!.extent, address));
    return around === undefined ? null : { block: blocks[around]!, view: views[around]! };
  };
  const ofRole = new Map<number, number[]>();
  for (const [at, { role }] of blocks.entries()) {
    const list = ofRole.get(role);
    if (list) list.push(at);
    else ofRole.set(role, [at]);
  }
  for (const { role, first, last } of facts.pools) {
    const held = holder(role, first.address) ?? holder(role, last.address);
    held?.view.pools.push(span(held.block, first.address, last.address));
  }
  const each = (list: readonly (Written & { readonly role: number })[], name: 'fixed' | 'gateways') => {
    for (const { role, address } of list) {
      const held = holder(role, address);
      held?.view[name].push(mark(held.block, address));
    }
  };
  each(facts.leases, 'fixed');
  each(facts.gateways, 'gateways');
  for (const { inner, outer } of overlaps) {
    const [small, large] = [views[index.get(inner)!]!, views[index.get(outer)!]!];
    large.overlaps.push({ with: small.role, ...span(outer, inner.extent.first, inner.extent.last) });
    small.overlaps.push({ with: large.role, ...span(inner, inner.extent.first, inner.extent.last) });
  }
  return views;
}

/** Addresses of a network as parts of its length: 0 its first, 1 behind its last. */
function span({ extent }: Block, first: IpAddress, last: IpAddress): SubnetSpan {
  return {
    first: formatAddress(first),
    last: formatAddress(last),
    from: share(extent, first.bits),
    to: share(extent, last.bits + 1n),
  };
}

const mark = ({ extent }: Block, address: IpAddress) => ({
  address: formatAddress(address),
  at: share(extent, address.bits),
});

/** Parts finer than this are not drawn. */
const FINE = 1_000_000n;

function share({ first, last }: Block['extent'], bits: bigint): number {
  const size = last.bits - first.bits + 1n;
  const part = Number(((bits - first.bits) * FINE) / size) / Number(FINE);
  return Math.min(1, Math.max(0, part));
}
