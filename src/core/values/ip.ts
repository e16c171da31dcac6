import ipaddr from 'ipaddr.js';
import { unsigned } from './numbers.ts';

/** An IP address as a number: 32 bits for version 4, 128 bits for version 6. */
export interface IpAddress {
  readonly version: 4 | 6;
  readonly bits: bigint;
}

/** `hostBits`: bits below the prefix are set, as in an interface's own address `10.20.0.1/24` (RFC 4632, 3.1). */
export interface IpPrefix {
  readonly address: IpAddress;
  readonly length: number;
  readonly hostBits: boolean;
}

/** Both ends belong to it. */
export interface IpRange {
  readonly first: IpAddress;
  readonly last: IpAddress;
}

const WIDTH = { 4: 32, 6: 128 } as const;

/** Four decimal parts without leading zeros (RFC 6943, 3.1.1: other spellings mean different things to different readers). */
export function isIpv4(text: string): boolean {
  return ipv4Number(text, 0, text.length) >= 0;
}

/** The address as a number below 2^32; -1 where the units [from, to) are none. */
function ipv4Number(text: string, from: number, to: number): number {
  if (to - from < 7 || to - from > 15) return -1;
  let value = 0;
  let part = -1;
  let parts = 0;
  for (let at = from; at <= to; at++) {
    const code = at === to ? 46 : text.charCodeAt(at);
    if (code === 46) {
      if (part < 0) return -1;
      value = value * 256 + part;
      part = -1;
      parts++;
    } else if (code >= 48 && code <= 57) {
      if (part === 0) return -1;
      part = part < 0 ? code - 48 : part * 10 + (code - 48);
      if (part > 255) return -1;
    } else return -1;
  }
  return parts === 4 ? value : -1;
}

const ipv6Letters = /^[0-9a-fA-F:.]{2,45}$/;

/** RFC 4291, 2.2, without a zone. */
export function isIpv6(text: string): boolean {
  const colon = text.indexOf(':');
  if (colon < 0 || colon > 4 || text.indexOf(':', colon + 1) < 0) return false;
  if (!ipv6Letters.test(text)) return false;
  // Hardware addresses look alike; the library tells them apart by a thrown error, which costs more than a count.
  if (!text.includes('::') && !/^(?:[^:]*:){6}(?:[^:]*:[^:.]*|[^:]*\..*)$/.test(text)) return false;
  if (!ipaddr.IPv6.isValid(text)) return false;
  const dot = text.indexOf('.');
  return dot < 0 || isIpv4(text.slice(text.lastIndexOf(':') + 1));
}

/** An address with the device that its link is on, as in `fe80::1%igb0` (RFC 4007, 11); null where there is none. */
export function splitZone(text: string): { readonly address: string; readonly zone: string } | null {
  const cut = text.indexOf('%');
  if (cut < 2 || cut === text.length - 1 || !isIpv6(text.slice(0, cut))) return null;
  return { address: text.slice(0, cut), zone: text.slice(cut + 1) };
}

export function parseAddress(text: string): IpAddress | null {
  const four = ipv4Number(text, 0, text.length);
  if (four >= 0) return { version: 4, bits: BigInt(four) };
  if (!isIpv6(text)) return null;
  let bits = 0n;
  for (const part of ipaddr.IPv6.parse(text).parts) bits = (bits << 16n) | BigInt(part);
  return { version: 6, bits };
}

/** Dotted quad, or the canonical text of RFC 5952. */
export function formatAddress({ version, bits }: IpAddress): string {
  if (version === 4) {
    const value = Number(bits);
    return `${value >>> 24}.${(value >>> 16) & 255}.${(value >>> 8) & 255}.${value & 255}`;
  }
  const bytes: number[] = [];
  for (let shift = WIDTH[version] - 8; shift >= 0; shift -= 8) bytes.push(Number((bits >> BigInt(shift)) & 255n));
  const address = new ipaddr.IPv6(bytes);
  const parts = address.parts;
  // RFC 5952, section 5: a well-known prefix for an address of version 4 is written mixed.
  if (parts.slice(0, 5).every((part) => part === 0) && parts[5] === 0xffff) {
    return `::ffff:${bytes.slice(12).join('.')}`;
  }
  return address.toRFC5952String();
}

/** Prefix length of a contiguous mask (`255.255.252.0` → 22), or null. */
export function maskLength(text: string): number | null {
  const mask = ipv4Number(text, 0, text.length);
  if (mask < 0) return null;
  const host = 0xffffffff - mask;
  return (host & (host + 1)) === 0 ? 32 - Math.round(Math.log2(host + 1)) : null;
}

/** A mask or its mirror image, the wildcard. `0.0.0.0` and `255.255.255.255` are both. */
export function isNetmask(text: string): boolean {
  const value = ipv4Number(text, 0, text.length);
  return value >= 0 && (maskLength(text) !== null || (value & (value + 1)) === 0);
}

/** `address/length`, or `address/mask` for version 4. */
export function parsePrefix(text: string): IpPrefix | null {
  const cut = text.indexOf('/');
  if (cut < 2 || cut === text.length - 1) return null;
  const address = parseAddress(text.slice(0, cut));
  if (!address) return null;
  const width = WIDTH[address.version];
  const rest = text.slice(cut + 1);
  const length = /^(?:0|[1-9]\d{0,2})$/.test(rest) ? Number(rest) : address.version === 4 ? maskLength(rest) : null;
  if (length === null || length > width) return null;
  return { address, length, hostBits: (address.bits & ((1n << BigInt(width - length)) - 1n)) !== 0n };
}

/** Whether `parsePrefix` reads it; quick for version 4. */
export function isPrefix(text: string): boolean {
  const cut = text.indexOf('/');
  if (cut < 2 || cut > 15 || ipv4Number(text, 0, cut) < 0) return cut >= 2 && parsePrefix(text) !== null;
  const length = text.length - cut - 1;
  if (length < 1 || length > 2) return maskLength(text.slice(cut + 1)) !== null;
  const value = unsigned(text.slice(cut + 1));
  return value >= 0 && value <= 32;
}

/** First and last address of a prefix. */
export function extentOf({ address, length }: IpPrefix): IpRange {
  const host = (1n << BigInt(WIDTH[address.version] - length)) - 1n;
  const first = address.bits - (address.bits & host);
  return { first: { ...address, bits: first }, last: { ...address, bits: first + host } };
}

/** `first-last`, blanks around the dash allowed, both of one version and in order. */
export function parseAddressRange(text: string): IpRange | null {
  const cut = text.indexOf('-');
  if (cut < 2) return null;
  const first = parseAddress(text.slice(0, cut).trim());
  const last = first && parseAddress(text.slice(cut + 1).trim());
  return first && last && first.version === last.version && first.bits <= last.bits ? { first, last } : null;
}

/** True for an address, a prefix or a range of addresses. */
export function isAddress(text: string): boolean {
  return isIpv4(text) || isIpv6(text) || parsePrefix(text) !== null || parseAddressRange(text) !== null;
}

export function contains(range: IpRange, address: IpAddress): boolean {
  return address.version === range.first.version && address.bits >= range.first.bits && address.bits <= range.last.bits;
}
