const spelled =
  /^(?:[0-9a-fA-F]{2}(?::[0-9a-fA-F]{2}){5}|[0-9a-fA-F]{2}(?:-[0-9a-fA-F]{2}){5}|[0-9a-fA-F]{4}(?:\.[0-9a-fA-F]{4}){2})$/;

/** A 48-bit MAC address in one of the three usual spellings: `00:00:5e:00:53:10`, `00-00-5E-00-53-10`, `0000.5e00.5310`. */
export function isMac(text: string): boolean {
  return (text.length === 17 || text.length === 14) && spelled.test(text);
}

const bare = /^(?:[0-9a-f]{12}|[0-9A-F]{12})$/;

/** Twelve hexadecimal digits: a MAC address without marks, or an id. */
export function maybeMac(text: string): boolean {
  return text.length === 12 && bare.test(text);
}

/** The twelve digits of an address in any spelling, in lower case. */
export function macDigits(text: string): string {
  return text.replace(/[:.-]/g, '').toLowerCase();
}

/** The six octets, or null. */
export function parseMac(text: string): readonly number[] | null {
  if (!isMac(text) && !maybeMac(text)) return null;
  const digits = macDigits(text);
  const high = Number.parseInt(digits.slice(0, 6), 16);
  const low = Number.parseInt(digits.slice(6), 16);
  return [high >> 16, (high >> 8) & 255, high & 255, low >> 16, (low >> 8) & 255, low & 255];
}

/** Bit 0x01 of the first octet (RFC 9542, 2.1): the address of a group, never of one station. */
export function isGroupMac(octets: readonly number[]): boolean {
  return (octets[0]! & 1) !== 0;
}

/** Bit 0x02 of the first octet (RFC 9542, 2.1): given out locally, not burnt into a card. */
export function isLocalMac(octets: readonly number[]): boolean {
  return (octets[0]! & 2) !== 0;
}
