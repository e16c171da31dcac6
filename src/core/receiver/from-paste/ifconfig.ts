import { hardwareAddress } from '../hardware-address.ts';
import { faster, speedIn } from '../speed.ts';
import { flagsIn } from './ip-flags.ts';
import type { PasteLine } from './lines.ts';
import { type Found, type Seen, seen } from './seen.ts';

/**
 * `ifconfig`, `ifconfig -a`, `-m`, `-v`: FreeBSD's and its relatives' (ifconfig(8); from memory), and the two of Linux
 * (net-tools, BusyBox). A device begins with `igb0: flags=` or `eth0 Link encap:`; what follows is told by its words.
 */
export function readIfconfig(lines: readonly PasteLine[]): Found {
  const devices: Seen[] = [];
  const unread: PasteLine[] = [];
  let device: Seen | null = null;
  /** Linux says RUNNING where a link is there; elsewhere the word is about the driver. */
  let linux = false;
  const close = () => {
    if (device && linux && device.up === null) device.up = device.flags.includes('RUNNING');
  };
  for (const line of lines) {
    const [, name, rest] = modern.exec(line.text) ?? old.exec(line.text) ?? [];
    if (name) {
      close();
      const flags = flagsIn(rest!);
      device = seen(name, line.number, { flags, bare: true, up: flags.length && !flags.includes('UP') ? false : null });
      devices.push(device);
      linux = !rest!.startsWith('flags=');
      if (linux) detail(rest!, device);
      continue;
    }
    if (!device) {
      unread.push(line);
      continue;
    }
    if (/\btxqueuelen\b/.test(line.text)) linux = true;
    if (linux && oldFlags.test(line.text)) {
      device.flags = line.text.split(/\s+/).filter((word) => /^[A-Z]+$/.test(word));
      if (!device.flags.includes('UP')) device.up = false;
      continue;
    }
    if (!detail(line.text, device) && !line.inset) unread.push(line);
  }
  close();
  return { devices, otherNames: [], unread };
}

const modern = /^([^\s:]{1,15}(?::[\w.]+)?):\s+(flags=.*)$/;
const old = /^([^\s]{1,24})\s+(Link encap:.*)$/;
const oldFlags = /^(?:[A-Z]+\s+)+(?:MTU|mtu):\d/;

/** Words that begin the other lines of a device. */
const others =
  /^(?:inet6?|options[=:]|capabilities|enabled|ec_|nd6|groups:|RX|TX|collisions|Interrupt|Base address|index|priority|plugged|drivername|vlan:|vlanproto|id |maxage|root |member:|ifmaxaddr|port |laggport:|laggproto|lagg |flags=|tunnel|hwaddr|syncpeer|ssid|regdomain|country|authmode|scanvalid|wme|bintval|nwid|trunk|encap:|llprio|loop|unspec|sppp|UP |lladdr|address:|ether|media|supported|status:|description:|parent|linkstate|patch|wgport|wgpubkey|wgpeer|txpower|protmode|bmiss|AMPDU|ampdu|syncok)/;

/** Takes in one line about a device; false for a line that is none. */
function detail(text: string, device: Seen): boolean {
  const address = /^(?:ether|lladdr|address:|Link encap:\S+\s+HWaddr)\s+([0-9a-fA-F:.-]+)/.exec(text)?.[1];
  if (address) {
    device.bare = false;
    device.mac ??= hardwareAddress(address);
  }
  const [, own] = /^hwaddr\s+([0-9a-fA-F:]+)/.exec(text) ?? [];
  // FreeBSD shows the card's own address where another is set, as in an aggregate.
  if (own) device.mac = hardwareAddress(own) ?? device.mac;
  if (/^Link encap:Local Loopback/.test(text)) device.link = 'loopback';
  else if (/^Link encap:/.test(text) && !/^Link encap:Ethernet/.test(text)) device.link = 'none';
  if (/^(?:supported )?media\b/.test(text)) {
    device.bare = false;
    device.speedMbit = faster(device.speedMbit, speedIn(text));
  }
  const status = /^status:\s+(.+)$/.exec(text)?.[1];
  if (status && device.up !== false) device.up = status === 'active' || status === 'associated';
  device.label = /^description:\s+(.+)$/.exec(text)?.[1]?.trim() ?? device.label;
  const groups = /^groups:\s+(.+)$/.exec(text)?.[1]?.split(/\s+/) ?? [];
  // A group has the name of the driver that makes such devices; others are of the owner's own choice.
  device.made ??= groups.find((group) => device.name.replace(/\d+[ab]?$/, '') === group) ?? null;
  if (/^(?:laggproto|trunk: trunkproto)\b/.test(text)) device.made = 'lagg';
  if (/^member:/.test(text)) device.made ??= 'bridge';
  const below =
    /^(?:vlan: \d+.*?\bparent(?: interface)?:? (\S+)|encap: .*\bvnetid \d+ parent (\S+))/.exec(text) ??
    /^vlan: \d+/.exec(text);
  if (below) {
    device.made = 'vlan';
    const parent = below[1] ?? below[2];
    if (parent && parent !== '<none>' && parent !== 'none') device.parent = parent;
  }
  return others.test(text) || address !== undefined;
}
