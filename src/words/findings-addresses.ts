import type { FindingCode } from '../core/index.ts';
import type { FindingWords, Params } from './findings.ts';
import { count } from './numbers.ts';
import { say, value } from './said.ts';

type AddressCode = Extract<
  FindingCode,
  | `address-${string}`
  | `pool-${string}`
  | 'mask-not-contiguous'
  | 'prefix-length'
  | 'subnets-overlap'
  | 'network-host-bits'
  | 'lease-outside'
  | 'client-doubled'
  | `next-hop-${string}`
>;

const range = ({ first, last }: Params) => say`${value(first)} to ${value(last)}`;
const ofRole = (role: string | number | undefined) => (role ? say` of ${value(role)}` : '');

/** Words for findings about addresses. */
export const addressWords: Record<AddressCode, (params: Params) => FindingWords> = {
  'mask-not-contiguous': ({ mask }) => ({
    what: say`The ones of the mask ${value(mask)} do not stand together.`,
    why: 'No network has such a mask. The box may refuse it or read it as another one.',
  }),
  'address-malformed': ({ address, role }) => ({
    what: say`${value(address)}${ofRole(role)} is no address.`,
    why: 'A number in it is too large, or one is missing or too many. The box refuses it, and the network does not come up.',
  }),
  'prefix-length': ({ length, width }) => ({
    what: say`${value(length)} is no length of a network: they go from 0 to ${Number(width ?? 32)} here.`,
    why: 'The box refuses it, and the network does not come up.',
  }),
  'address-not-a-host': ({ address, what, subnet, role }) => ({
    what: say`${value(address)} is the ${what === 'broadcast' ? 'broadcast address' : 'address of the network itself'} in ${value(subnet)}${ofRole(role)}.`,
    why: 'No host can use it there. Look whether the address or the length of the network is meant otherwise.',
  }),
  'subnets-overlap': ({ role, subnet, other, otherSubnet }) => ({
    what: say`${value(subnet)} of ${value(role)} lies in ${value(otherSubnet)} of ${value(other)}.`,
    why: 'The box cannot tell to which of the two a packet goes. Some are lost, or end in the wrong network.',
  }),
  'address-doubled': ({ address, role, other }) => ({
    what:
      role === other
        ? say`${value(address)} is given twice in ${value(role)}.`
        : say`${value(address)} is given twice: in ${value(other)} and in ${value(role)}.`,
    why: 'Two that answer to one address cut each other off.',
  }),
  'pool-reversed': (params) => ({
    what: say`The range ${range(params)}${ofRole(params.role)} ends before it begins.`,
    why: 'The box gives out no address from it, or refuses it.',
  }),
  'pool-outside': (params) => ({
    what: say`The range ${range(params)} is not all inside ${value(params.subnet)}${ofRole(params.role)}.`,
    why: 'A client with an address from outside reaches nobody. The box may refuse the range.',
  }),
  'pool-over-reserved': (params) => ({
    what: say`The range ${range(params)}${ofRole(params.role)} holds ${value(params.address)}, the ${params.what === 'broadcast' ? 'broadcast address' : 'address of the network itself'}.`,
    why: 'Most boxes skip it. A client that gets it has no connection.',
  }),
  'pool-over-router': (params) => ({
    what: say`The range ${range(params)}${ofRole(params.role)} holds ${value(params.address)}, which is a router's.`,
    why: 'A client that is given the address of the router cuts off the whole network.',
  }),
  'pool-over-lease': (params) => ({
    what: say`The range ${range(params)}${ofRole(params.role)} holds ${count(Number(params.count ?? 1), 'address', 'addresses')} kept for single clients, ${value(params.address)} first.`,
    why: 'Some boxes leave kept addresses out of the range by themselves, others give them to whoever asks. Look up what the new one does.',
  }),
  'lease-outside': ({ address, role, subnet }) => ({
    what: say`${value(address)} is kept for a client of ${value(role)} and lies outside ${value(subnet)}.`,
    why: 'The client gets an address with which it reaches nobody, or none at all.',
  }),
  'client-doubled': ({ mac, address, other, role }) => ({
    what:
      address === other
        ? say`${value(address)} of ${value(role)} is kept for the client ${value(mac)} twice.`
        : say`The client ${value(mac)} is kept two addresses in ${value(role)}: ${value(other)} and ${value(address)}.`,
    why: 'A client is told by its hardware address, so it gets one of them and never the other. Some boxes refuse the second entry. Look which one is meant.',
  }),
  'next-hop-unreachable': ({ address, role, subnet }) => ({
    what: role
      ? say`The next hop ${value(address)} is no neighbour of ${value(role)}, which has ${value(subnet)}.`
      : say`The next hop ${value(address)} lies in no network of this box.`,
    why: 'A box hands packets to neighbours only. What goes this way is lost, unless a tunnel or a line without a network of its own carries it.',
  }),
  'next-hop-own': ({ address, role }) => ({
    what: say`The next hop ${value(address)} is the box’s own address in ${value(role)}.`,
    why: 'A box cannot hand packets on to itself, so what goes this way is lost. Put the address of the neighbour there.',
  }),
  'address-special': ({ address, block, name, rfc }) => ({
    what: say`${value(address)} is from ${value(block)}, kept for a purpose of its own: ${value(name)}, by ${value(rfc)}.`,
    why: 'It does not work as the address of a host on a network. Look whether another one is meant.',
  }),
  'address-documentation': ({ address, count: number }) => ({
    what: say`${count(Number(number ?? 1), 'address is', 'addresses are')} from blocks kept for examples, ${value(address)} first.`,
    why: 'Nobody routes them (RFC 5737, RFC 3849). They may be left over from a sample; put the real ones in before the swap.',
  }),
  'address-not-canonical': ({ value: text, canonical, field, count: number }) => ({
    what: say`${value(field)} spells ${count(Number(number ?? 1), 'address', 'addresses')} of version 6 in another way than usual: ${value(text)} is ${value(canonical)}.`,
    why: 'It is the same address. A search for the usual spelling (RFC 5952) misses it.',
  }),
  'network-host-bits': ({ value: text, network, field }) => ({
    what: say`${value(text)} in ${value(field)} is an address inside the network ${value(network)}, unlike the others of its field.`,
    why: 'Most boxes take it for the network. Some refuse it, and a search for the network misses it.',
  }),
  'address-automatic': ({ role }) => ({
    what: say`${value(role)} asks the other side for its address.`,
    why: 'The new box has another hardware address, so it is likely to get another one. Whatever names the old one has to follow: rules, names, the far ends of tunnels.',
  }),
};
