import { hardwareAddress } from '../hardware-address.ts';
import { flagsIn, linkIsUp, splitName, states } from './ip-flags.ts';
import { isLegalName, type PasteLine } from './lines.ts';
import { type Found, type Seen, seen } from './seen.ts';

/**
 * `ip -br link` and `ip -br addr` (ip(8), `-brief`): a device a line, its name, its state, then the hardware address and
 * flags, or the addresses.
 */
export function readIpBrief(lines: readonly PasteLine[]): Found {
  const devices: Seen[] = [];
  const unread: PasteLine[] = [];
  for (const line of lines) {
    const [, full, state, rest = ''] = row.exec(line.text) ?? [];
    const { name, parent } = splitName(full ?? '');
    if (!full || !isLegalName(name) || !(rest === '' || tail.test(rest))) {
      unread.push(line);
      continue;
    }
    const flags = flagsIn(rest);
    const first = rest.split(' ', 1)[0]!;
    devices.push(
      seen(name, line.number, {
        parent,
        flags,
        mac: hardwareAddress(first),
        up: linkIsUp(flags, state!),
        // With flags, the hardware address is shown for all that have one.
        bare: flags.length > 0 && !colons.test(first),
      }),
    );
  }
  return { devices, otherNames: [], unread };
}

const row = new RegExp(`^(\\S+)\\s+(${states.join('|')})(?:\\s+(.*))?$`);
const colons = /^[0-9a-f]{2}(?::[0-9a-f]{2})+$/i;
/** A hardware address, flags, an address with or without its prefix length; one before a `peer`. */
const tail = /^(?:[0-9a-f]{2}(?::[0-9a-f]{2}){3,19}\b|<[\w,-]*>|[0-9a-f.:]+(?:\/\d+|\s+peer\s|\s+<|$))/i;
