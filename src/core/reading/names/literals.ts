import { isUuid } from '../../values/ids.ts';
import { isIpv4, isIpv6, parseAddressRange, parsePrefix } from '../../values/ip.ts';
import { isMac } from '../../values/mac.ts';

/** What one token can be by itself, without the rest of the document. */
export type Kind =
  /** An address, prefix or address range. */
  | 'address'
  | 'integer'
  /** Digits with marks: ranges, decimals, clock times, dates. */
  | 'number'
  | 'mac'
  /** A UUID, 8 and more hexadecimal digits, or as many capitals and digits in turn: no one thinks of these, so one match is proof. */
  | 'opaque'
  /** One word, as names are. */
  | 'name'
  /** Several words. */
  | 'phrase'
  /** Long, or many lines. */
  | 'text';

/** Slot and socket, as boxes number them: `0/1`, `1/0/3`, `0-1-3`, with a tag behind: `1/0/3.30`. Two numbers and a dash are a range. */
const slashed = '\\d{1,3}(?:/\\d{1,3}){1,3}';
const dashed = '\\d{1,3}(?:-\\d{1,3}){2,3}';
const slot = new RegExp(`^(?:${slashed}(?:[^\\d\\s/][^\\d/]*\\d+)?|${dashed}(?:[^\\d\\s/-][^\\d/]*\\d+)?)$`);
const bareSlot = new RegExp(`^(?:${slashed}|${dashed})$`);
const integer = /^-?\d{1,18}$/;
const number = /^[+-]?\d[\d.,:\-/TZ+ ]*$/;
const hex = /^(?:0x)?(?=[0-9a-f]*\d)[0-9a-f]{8,64}$/i;
/** Capitals and digits in turn. */
const mixed = /^(?=[A-Z\d]{8,32}$)(?:[A-Z]+\d+[A-Z]|\d+[A-Z]+\d)/;

export function kindOf(token: string): Kind {
  const length = token.length;
  if (length > 120) return 'text';
  if (length >= 36 && isUuid(token)) return 'opaque';
  const first = token.charCodeAt(0);
  const digit = first >= 48 && first <= 57;
  if (digit || first === 45 || first === 43) {
    if (integer.test(token)) return 'integer';
    if (slot.test(token)) return 'name';
    if (isIpv4(token) || parsePrefix(token) || parseAddressRange(token)) return 'address';
    if (isMac(token)) return 'mac';
    if (token.includes(':') && isIpv6(token)) return 'address';
    if (number.test(token)) return 'number';
  } else if (token.includes(':')) {
    if (isMac(token)) return 'mac';
    if (isIpv6(token) || parsePrefix(token) || parseAddressRange(token)) return 'address';
  }
  if (length >= 8 && (hex.test(token) || mixed.test(token))) return 'opaque';
  if (/\s/.test(token)) return /\n/.test(token) || length > 60 ? 'text' : 'phrase';
  return length > 64 ? 'text' : 'name';
}

/** True for the number of a socket, without a tag behind. */
export const isSlot = (token: string): boolean => token.length <= 15 && bareSlot.test(token);

/** A number filled up with zeros. */
const filled = /^\p{L}{1,4}0\d{2,7}$/u;

/** True for a name that no one thinks of: a machine made it. */
export const isGenerated = (token: string): boolean => filled.test(token) || kindOf(token) === 'opaque';

/** True for kinds that name nothing in the document by themselves. */
export function isLiteral(kind: Kind): boolean {
  return kind === 'address' || kind === 'number' || kind === 'mac' || kind === 'text';
}

/** The form of a word with digit runs as `#` and letter case kept out: `igb2.30` and `IGB0.7` are both `igb#.#`. */
export function patternOf(token: string): string {
  return token.toLowerCase().replace(/\d+/g, '#');
}

/** Kinds of which each is one word of at most 64 units. */
const words: ReadonlySet<Kind> = new Set(['name', 'integer', 'opaque', 'mac']);

/** True for kinds that have no white space inside and are short. */
export const isOneWord = (kind: Kind): boolean => words.has(kind);
