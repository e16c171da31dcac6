import {
  extentOf,
  type IpAddress,
  type IpRange,
  parseAddress,
  parseAddressRange,
  parsePrefix,
} from '../../values/ip.ts';

/** Numbers from `first` to `last`, both included. */
export interface Interval {
  readonly first: bigint;
  readonly last: bigint;
}

/** Apart, not touching, in order: equal sets have equal lists. */
export type Intervals = readonly Interval[];

/** Sorts and joins intervals that overlap or touch. */
export function union(intervals: Iterable<Interval>): Intervals {
  const sorted = [...intervals].sort((a, b) => (a.first < b.first ? -1 : a.first > b.first ? 1 : 0));
  const joined: { first: bigint; last: bigint }[] = [];
  for (const { first, last } of sorted) {
    const before = joined[joined.length - 1];
    if (!before || first > before.last + 1n) joined.push({ first, last });
    else if (last > before.last) before.last = last;
  }
  return joined;
}

/** Whether every number of the second set is in the first. */
export function includes(outer: Intervals, inner: Intervals): boolean {
  let at = 0;
  for (const { first, last } of inner) {
    while (at < outer.length && outer[at]!.last < first) at++;
    const around = outer[at];
    if (!around || around.first > first || around.last < last) return false;
  }
  return true;
}

export function meets(one: Intervals, other: Intervals): boolean {
  let a = 0;
  let b = 0;
  while (a < one.length && b < other.length) {
    if (one[a]!.last < other[b]!.first) a++;
    else if (other[b]!.last < one[a]!.first) b++;
    else return true;
  }
  return false;
}

/** What is in `all` and not in the set. */
export function complement(set: Intervals, all: Interval): Intervals {
  const rest: Interval[] = [];
  let { first } = all;
  for (const interval of set) {
    if (interval.first > first) rest.push({ first, last: interval.first - 1n });
    if (interval.last >= first) first = interval.last + 1n;
  }
  if (first <= all.last) rest.push({ first, last: all.last });
  return rest;
}

/** What is in the first set and not in the second. */
export function without(set: Intervals, gone: Intervals): Intervals {
  return set.flatMap((interval) =>
    complement(
      gone.filter(({ first, last }) => first <= interval.last && last >= interval.first),
      interval,
    ),
  );
}

/** Addresses of both versions on one line: version 6 lies behind version 4. */
const SIX = 1n << 64n;
export const ALL_ADDRESSES: readonly Interval[] = [
  { first: 0n, last: (1n << 32n) - 1n },
  { first: SIX, last: SIX + (1n << 128n) - 1n },
];

const onLine = ({ version, bits }: IpAddress) => (version === 4 ? bits : bits + SIX);
export const intervalOf = ({ first, last }: IpRange): Interval => ({ first: onLine(first), last: onLine(last) });

/** The addresses that a literal stands for; null for any other text. */
export function addressInterval(text: string): Interval | null {
  const address = parseAddress(text);
  if (address) return intervalOf({ first: address, last: address });
  const prefix = parsePrefix(text);
  if (prefix) return intervalOf(extentOf(prefix));
  const range = parseAddressRange(text);
  return range && intervalOf(range);
}

/** A port or a range of ports; null for any other text. */
export function portInterval(text: string): Interval | null {
  const parts = /^(\d{1,5})(?:\s?[-:]\s?(\d{1,5}))?$/.exec(text);
  if (!parts) return null;
  const [first, last] = [Number(parts[1]), Number(parts[2] ?? parts[1])];
  return first <= last && last <= 65_535 ? { first: BigInt(first), last: BigInt(last) } : null;
}

/** What one part of a rule lets match. No part at all lets everything match. */
export interface Part {
  /** Numbers that certainly match. */
  readonly numbers: Intervals;
  /** Sets that are known by name only, each with the numbers that it cannot go beyond; null for unknown. */
  readonly named: ReadonlyMap<string, Intervals | null>;
  /** What is not understood: it may widen or narrow the rest, so only the same text means the same. */
  readonly opaque: string;
}

export const partOf = (
  numbers: Iterable<Interval>,
  named: ReadonlyMap<string, Intervals | null> = new Map(),
  opaque = '',
): Part => ({ numbers: union(numbers), named, opaque });

/** True only where everything that the second part lets match, the first one does too. */
export function partCovers(a: Part | undefined, b: Part | undefined): boolean {
  if (!a) return true;
  if (!b || a.opaque !== b.opaque || !includes(a.numbers, b.numbers)) return false;
  for (const [name, outer] of b.named) if (!a.named.has(name) && !(outer && includes(a.numbers, outer))) return false;
  return true;
}

export function samePart(a: Part | undefined, b: Part | undefined): boolean {
  return partCovers(a, b) && partCovers(b, a);
}
