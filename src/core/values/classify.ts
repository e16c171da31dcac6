import { looksBase64 } from './base64.ts';
import { parseBoolean } from './booleans.ts';
import { parseDeviceName } from './device-name.ts';
import { isHex, isUuid } from './ids.ts';
import { isIpv4, isIpv6, isNetmask, isPrefix, parseAddressRange, splitZone } from './ip.ts';
import { materialIn } from './key-material.ts';
import { isMac } from './mac.ts';
import { isDomainName, isHostName, isMailAddress, isUrl } from './names.ts';
import { isInteger, isPortNumber, isVlanId, parsePortRange } from './numbers.ts';
import { isPasswordHash } from './password-hash.ts';
import { isDate, isEpoch, isTimeOfDay } from './time.ts';

/** What a single value can be, the most telling first. `port` is a transport port; a network port is a `device`. */
const kinds = {
  material: (text) => materialIn(text).length > 0,
  'password-hash': isPasswordHash,
  uuid: isUuid,
  mac: isMac,
  netmask: (text) => isNetmask(text) && text !== '0.0.0.0',
  ipv4: isIpv4,
  ipv6: (text) => isIpv6(text) || splitZone(text) !== null,
  prefix: isPrefix,
  'address-range': (text) => parseAddressRange(text) !== null,
  url: isUrl,
  'mail-address': isMailAddress,
  date: isDate,
  time: isTimeOfDay,
  'port-range': (text) => parsePortRange(text) !== null,
  boolean: (text) => parseBoolean(text) !== null,
  vlan: isVlanId,
  port: isPortNumber,
  epoch: isEpoch,
  integer: isInteger,
  device: (text) => parseDeviceName(text) !== null,
  'domain-name': isDomainName,
  hex: (text) => isHex(text, 8),
  base64: (text) => looksBase64(text, 24),
  'host-name': isHostName,
  text: () => true,
} satisfies Record<string, (text: string) => boolean>;

export type ValueKind = keyof typeof kinds;

/** Most telling first. */
export const kindOrder = Object.keys(kinds) as readonly ValueKind[];
/** Longer values are only looked at as material, base64 or text. */
const LONG = 300;
const forLong: readonly ValueKind[] = ['material', 'base64', 'text'];

export function isOfKind(text: string, kind: ValueKind): boolean {
  return (text.length <= LONG || forLong.includes(kind)) && kinds[kind](text);
}

/** Everything that a value can be, the most telling kind first; `text` is always the last. */
export function classify(text: string): readonly ValueKind[] {
  return (text.length > LONG ? forLong : kindOrder).filter((kind) => kinds[kind](text));
}
