/** A decimal integer without sign, `0` or not beginning with 0, of at most 15 digits; -1 for anything else. */
export function unsigned(text: string): number {
  if (text.length === 0 || text.length > 15) return -1;
  let value = 0;
  for (let at = 0; at < text.length; at++) {
    const digit = text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9 || (at === 1 && value === 0)) return -1;
    value = value * 10 + digit;
  }
  return value;
}

export function isInteger(text: string): boolean {
  const code = text.charCodeAt(0);
  return unsigned(code === 45 || code === 43 ? text.slice(1) : text) >= 0;
}

/** A port of a transport protocol, 1 to 65535 (RFC 6335, 6; port 0 is reserved and nothing listens there). */
export function isPortNumber(text: string): boolean {
  const value = unsigned(text);
  return value >= 1 && value <= 65_535;
}

export interface PortRange {
  readonly first: number;
  readonly last: number;
}

/** `80-443` or `80:443`, in order. */
export function parsePortRange(text: string): PortRange | null {
  const parts = /^(\d{1,5}) ?[-:] ?(\d{1,5})$/.exec(text);
  if (!parts || !isPortNumber(parts[1]!) || !isPortNumber(parts[2]!)) return null;
  const [first, last] = [Number(parts[1]), Number(parts[2])];
  return first <= last ? { first, last } : null;
}

/** A VLAN ID that a frame may carry and a person may choose: 1 to 4094 (IEEE 802.1Q, 9.6: 0 and 4095 are not permitted). */
export function isVlanId(text: string): boolean {
  const value = unsigned(text);
  return value >= 1 && value <= 4094;
}
