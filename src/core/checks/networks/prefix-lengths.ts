import type { FieldData } from '../../reading/fields/fields.ts';
import { formatAddress, maskLength, parseAddress, parsePrefix } from '../../values/ip.ts';
import { unsigned } from '../../values/numbers.ts';
import { bare, type Column, isBeside } from '../facts/tables.ts';

/** An own address has bits below its prefix, but for host routes and pairs (RFC 3021). */
export function isOwnPrefix({ values }: FieldData, apart: boolean): boolean {
  let own = 0;
  let seen = 0;
  for (const value of values.slice(0, 64)) {
    const prefix = parsePrefix(value);
    if (!prefix) continue;
    seen++;
    const width = prefix.address.version === 4 ? 32 : 128;
    if (prefix.hostBits || (!apart && prefix.length >= width - 1)) own++;
  }
  return seen > 0 && own >= seen * 0.7;
}

/** Walks the values that stand side by side in one row. */
export function pair(
  address: Column,
  other: Column,
  visit: (place: number, other: { readonly place: number; readonly value: string }) => void,
): void {
  for (const [row, place] of address.placeOf) {
    const at = other.placeOf.get(row);
    if (at !== undefined) visit(place, { place: at, value: other.field.values[at]! });
  }
}

/** The same of addresses and lengths side by side in records that only name the role, where networks may stand as well. */
export function isOwnPair(address: Column, column: Column): boolean {
  let own = 0;
  let seen = 0;
  pair(address, column, (place, { value }) => {
    const written = parseAddress(bare(address.field.values[place]!));
    const length = column.kind === 'mask' ? maskLength(value) : unsigned(value);
    if (!written || length === null || length < 0) return;
    seen++;
    if (parsePrefix(`${formatAddress(written)}/${length}`)?.hostBits) own++;
  });
  return own > 0 && own >= seen * 0.7 && (column.kind === 'mask' || isCalledLength(column));
}

/** The address that a mask or length beside it belongs to: the nearest one before it, else the nearest after. */
export function addressFor(columns: readonly Column[], length: Column): Column | null {
  const beside = columns.filter((column) => column.kind === 'address' && isBeside(column, length));
  const before = beside.filter(({ field }) => field.index < length.field.index);
  const named = beside.filter((column) => [...length.words].some((word) => column.words.has(word)));
  if (named.length === 1 && beside.length > 1) return named[0]!;
  return before[before.length - 1] ?? beside[0] ?? null;
}

/** Parts of names for masks and lengths in languages of the trade; from memory, and only one of two signs. */
const lengthName =
  /mask|prefi|cidr|^bits$|len(?:gth)?$|laenge|lange$|longitud|netz|маск|префикс|длин|μασκα|προθεμ|掩码|前缀|マスク/;

const isCalledLength = ({ words }: Column) => [...words].some((word) => lengthName.test(word));

/** Trust in a number as the length of the network: what it is called, and whether it reads like lengths do. */
export function isLengthOf(column: Column, address: Column): boolean {
  if (column.kind === 'mask') return true;
  let pairs = 0;
  let usual = 0;
  const distinct = new Set<number>();
  let small = false;
  for (const [row, place] of address.placeOf) {
    const at = column.placeOf.get(row);
    const version = at === undefined ? undefined : parseAddress(bare(address.field.values[place]!))?.version;
    if (version === undefined) continue;
    const number = unsigned(column.field.values[at!]!);
    pairs++;
    if (version === 6 ? number >= 32 && number <= 128 : number >= 8 && number <= 32) usual++;
    distinct.add(number);
    if (number < 16) small = true;
    if (pairs >= 200) break;
  }
  if (pairs === 0 || usual < pairs * 0.9) return false;
  if (isCalledLength(column)) return true;
  // Lengths come again and again, and nearly all addresses have one; tags and metrics differ or are rare.
  return (
    pairs >= 3 &&
    distinct.size < pairs &&
    !small &&
    column.placeOf.size >= address.placeOf.size * 0.8 &&
    Math.abs(column.field.index - address.field.index) === 1
  );
}
