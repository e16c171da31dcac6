import { parseDeviceName } from '../../values/device-name.ts';
import type { ReceiverPortKind } from '../receiver.ts';
import type { Seen } from './seen.ts';

/** Why a device is no port of the box. */
export type IgnoredWhy =
  | 'loopback'
  /** It carries packets inside packets, or to a program. */
  | 'tunnel'
  /** A second address on a device, in the old manner: `eth0:1`. */
  | 'alias'
  /** Neither hardware address nor medium, where the output would show them. */
  | 'no-hardware';

/** What makes a device (ip-link(8) TYPE; groups and drivers of ifconfig(8), from memory) and what that makes it. */
const kinds = new Map<string, ReceiverPortKind | 'tunnel'>([
  ['vlan', 'tagged'],
  // A port of a switch inside the box (Linux dsa).
  ['dsa', 'physical'],
  ...all('aggregate', 'bond team lagg trunk aggr'),
  ...all('other', 'bridge br veth dummy macvlan macvtap ipvlan ipvtap ifb vrf macsec hsr epair veb vport vether'),
  ...all('tunnel', 'vxlan geneve gre gretap erspan ip6gre ip6gretap ip6erspan sit ipip ip6tnl vti vti6 xfrm gtp'),
  ...all('tunnel', 'bareudp wireguard wg tun tap ppp l2tp amt gif stf ovpn ipsec'),
]);
function all<K extends string>(kind: K, words: string): [string, K][] {
  return words.split(' ').map((word) => [word, kind]);
}

/** First words of the line in which `ip -d` tells what made a device. */
export const kernelKinds: ReadonlySet<string> = new Set(kinds.keys());

const tunnelLinks = /^(?:none|ppp|slip|sit|ipip|tunnel6?|gre6?|ip6gre|ipgre|rawip|void)$/;
/** Radio cards for mobile networks: point to point and without a hardware address, but a card. */
const mobile = /^ww/;
/** As boards call the ports of a switch inside them, each `lan1@eth0` (Linux dsa; common practice, no source). */
const switchPort = /^(?:lan|wan|sfp|swp|port|eth)\d*$/;
const elsewhere = /^if\d+$/;

export type Judged = { readonly kind: ReceiverPortKind; readonly parent: string | null } | { readonly why: IgnoredWhy };

/** What each device of one output is: from what the output says of it, else from its name as the systems give it. */
export function judge(devices: readonly Seen[]): Judged[] {
  const byName = new Map(devices.map((device) => [device.name, device]));
  const masters = new Set(devices.map(({ master }) => master));
  return devices.map((device) => judgeOne(device, byName, masters));
}

function judgeOne(device: Seen, byName: ReadonlyMap<string, Seen>, masters: ReadonlySet<string | null>): Judged {
  const { name, flags, link, parent: beside } = device;
  const parent = beside === 'NONE' || (beside !== null && elsewhere.test(beside)) ? null : beside;
  const isCard = parseDeviceName(name)?.kind === 'card';
  const is = (kind: ReceiverPortKind): Judged => ({ kind, parent: kind === 'tagged' ? (parent ?? below(name)) : null });

  if (flags.includes('LOOPBACK') || link === 'loopback' || /^lo\d*$/.test(name)) return { why: 'loopback' };
  // What runs in a namespace of its own sees its socket as one end of a pair.
  const made = device.made === 'veth' && parent === null && isCard ? undefined : kinds.get(device.made ?? '');
  if (made) return made === 'tunnel' ? { why: made } : is(made);
  const alias = /^([^:]+):\w+$/.exec(name);
  if (alias && byName.has(alias[1]!)) return { why: 'alias' };
  const linkless = (link !== null && tunnelLinks.test(link)) || flags.includes('POINTOPOINT') || beside === 'NONE';
  if (linkless && !mobile.test(name)) return { why: 'tunnel' };

  const tagged = below(name);
  if (tagged !== null && (parent === null || parent === tagged || byName.has(tagged))) return is('tagged');
  const bySystem = kinds.get(/^([a-z]+)\d+[ab]?$/.exec(name)?.[1] ?? '');
  if (bySystem) return bySystem === 'tunnel' ? { why: bySystem } : is(bySystem);
  // A routing domain (vrf) has the mark of a master, too, and no neighbours to ask.
  if (flags.includes('MASTER')) return is(flags.includes('NOARP') ? 'other' : 'aggregate');
  if (device.bare && !isCard && !mobile.test(name)) return { why: 'no-hardware' };
  if (masters.has(name)) return is('other');
  if (parent === null) return is('physical');
  return is(switchPort.test(name) && byName.get(parent)?.parent !== name ? 'physical' : 'other');
}

/** `eth0` of `eth0.30`; null for another name. */
const below = (name: string): string | null => /^([^.]+)\.\d{1,4}$/.exec(name)?.[1] ?? null;
