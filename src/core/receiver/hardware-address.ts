import { isGroupMac, parseMac } from '../values/mac.ts';

/**
 * The hardware address of one station in one spelling, `00:00:5e:00:53:10`; null for any other text, for an address of
 * a group, and for the zeros that stand where there is none.
 */
export function hardwareAddress(text: string | null | undefined): string | null {
  const octets = text ? parseMac(text) : null;
  if (!octets || isGroupMac(octets) || octets.every((octet) => octet === 0)) return null;
  return octets.map((octet) => octet.toString(16).padStart(2, '0')).join(':');
}
