import { hardwareAddress } from '../hardware-address.ts';
import { flagsIn, linkIsUp, splitName } from './ip-flags.ts';
import { kernelKinds } from './kinds.ts';
import { isLegalName, type PasteLine } from './lines.ts';
import { type Found, type OtherName, type Seen, seen } from './seen.ts';

/**
 * `ip link` and `ip addr` in full, also with `-d`, `-s` and `-o` (ip-link(8), ip-address(8)). A device begins with
 * `2: eth0: <FLAGS>`; what follows is told by its first word, so a paste that has lost its blanks reads the same.
 */
export function readIpLong(lines: readonly PasteLine[]): Found {
  const devices: Seen[] = [];
  const otherNames: OtherName[] = [];
  const unread: PasteLine[] = [];
  let device: Seen | null = null;
  for (const line of lines) {
    // `-o` puts a device on one line, with a backslash where others have a line end.
    for (const part of line.text.split(/\\\s+/)) {
      const [, full, flags, rest] = head.exec(part) ?? [];
      if (full) {
        const { name, parent } = splitName(full);
        device = null;
        if (!isLegalName(name)) {
          unread.push(line);
          continue;
        }
        const state = /\bstate (\w+)/.exec(rest!)?.[1] ?? null;
        const master = /\bmaster (\S+)/.exec(rest!)?.[1] ?? null;
        const list = flagsIn(flags!);
        device = seen(name, line.number, { parent, master, flags: list, up: linkIsUp(list, state) });
        devices.push(device);
      } else if (!device || !(detail(part, device, otherNames) || line.inset)) unread.push(line);
    }
  }
  // `ip -o addr` has a line for each address and no flags; it names no device in a way of its own.
  return { devices, otherNames, unread };
}

const head = /^\d+:\s+(\S+):\s+(<[\w,-]*>)\s*(.*)$/;
const counters =
  /^(?:[RT]X(?: errors)?:|[\d.]+[KMGT]?(?:\s+[\d.]+[KMGT]?)*$|inet6?\s|valid_lft\s|vf \d|bridge_slave\b|bond_slave\b)/;

/** Takes in one line about a device; false for a line that is none. */
function detail(text: string, device: Seen, otherNames: OtherName[]): boolean {
  const link = /^link\/(\S+)(?:\s+(\S+))?/.exec(text);
  if (link) {
    device.link = link[1]!;
    // Members of an aggregate show its address; their own stands behind.
    const own = /\bpermaddr (\S+)/.exec(text)?.[1];
    device.mac = hardwareAddress(own) ?? hardwareAddress(link[2]);
    return true;
  }
  if (text.startsWith('alias ')) {
    device.label = text.slice(6).trim() || null;
    return true;
  }
  if (text.startsWith('altname ')) {
    otherNames.push({ name: text.slice(8).trim(), port: device.name, how: 'alternative' });
    return true;
  }
  const word = /^[\w-]+/.exec(text)?.[0] ?? '';
  if (kernelKinds.has(word)) {
    device.made ??= word;
    return true;
  }
  return counters.test(text);
}
