import { append } from '../../lists.ts';
import { wordsOf } from '../../values/name-words.ts';
import type { Column } from '../facts/tables.ts';
import type { Interval } from './intervals.ts';
import { destinationWords, hasAny, protocolWords, sourceWords } from './rule-words.ts';

/** A port or a range of ports as it stands in a record. */
export interface PortSpot {
  readonly column: Column;
  readonly row: number;
  readonly port: Interval;
}

/** Words that stand for every protocol. */
const everyProtocol = new Set('any all * ip ipv4 ipv6'.split(' '));

/** Protocols that a service may be of, by their place: see `shifted`. */
const carriers = ['tcp', 'udp', 'sctp', 'dccp', ...protocolWords].filter(
  (word, at, all) => !everyProtocol.has(word) && all.indexOf(word) === at,
);

/** Ports of one protocol lie apart from those of another, and from those that are told without. */
const SHIFT = 20n;
const WHOLE: Interval = { first: 0n, last: (1n << SHIFT) - 1n };

/** Ports as those of one protocol. */
export function shifted({ first, last }: Interval, protocol: string): Interval {
  const shift = BigInt(carriers.indexOf(protocol) + 1) << SHIFT;
  return { first: first + shift, last: last + shift };
}

/** The protocols in a text, none where it stands for every one; null for any other text. */
export function carriersIn(value: string): readonly string[] | null {
  const words = value.toLowerCase().split(/[/,+ ]+/);
  return words.every((word) => protocolWords.has(word)) ? words.filter((word) => !everyProtocol.has(word)) : null;
}

const known = new WeakMap<Column, boolean>();

/** True for a column that says by which protocol, and nothing else. */
export function isCarrier(column: Column): boolean {
  let is = known.get(column);
  if (is === undefined) {
    const { distinct } = column.field;
    is = distinct.length <= protocolWords.size && distinct.every((value) => carriersIn(value) !== null);
    known.set(column, is);
  }
  return is;
}

/**
 * What a service lets match: each port by the protocol that its field is called after, or that is told in its row or in one
 * around it; a protocol without ports as a whole. Null where nobody knows what a number means: ports of senders, or two
 * numbers in fields of their own that are a range or are none.
 * @param told the protocols by row, none for every one.
 * @param above for each row the one around it.
 */
export function portsOf(
  spots: readonly PortSpot[],
  told: ReadonlyMap<number, readonly string[]>,
  above: Int32Array,
): readonly Interval[] | null {
  const made: Interval[] = [];
  const used = new Set<number>();
  const byRow = new Map<number, PortSpot[]>();
  for (const spot of spots) byRow.set(spot.row, [...(byRow.get(spot.row) ?? []), spot]);
  for (const [row, own] of byRow) {
    const ranges = rangesAmong(own);
    if (ranges === null) return null;
    let at = row;
    while (at !== -1 && !told.has(at)) at = above[at]!;
    if (at !== -1) used.add(at);
    for (const { column, port } of ranges) {
      const called = carriers.find((word) => column.words.has(word));
      const by = called ? [called] : (told.get(at) ?? []);
      append(made, by.length === 0 ? [port] : by.map((word) => shifted(port, word)));
    }
  }
  for (const [row, by] of told)
    if (!used.has(row))
      append(
        made,
        by.map((word) => shifted(WHOLE, word)),
      );
  return made;
}

const lowWords = new Set('low lo lower min minimum first start begin from von ab desde de du ot'.split(' '));
const highWords = new Set('high hi upper max maximum last end until to bis hasta a au do'.split(' '));

/** The ports of one row, of which two numbers may be the ends of a range; null where that is not known. */
function rangesAmong(spots: readonly PortSpot[]): readonly PortSpot[] | null {
  const columns = [...new Set(spots.map(({ column }) => column))];
  const sides = columns.map(({ container, words }) => {
    const around = wordsOf(container.slice(container.lastIndexOf('/') + 1));
    const says = (side: ReadonlySet<string>) =>
      [...words, ...around].some((word) => side.has(word) && !lowWords.has(word));
    return says(sourceWords) ? (says(destinationWords) ? 'both' : 'source') : '';
  });
  const [one, other] = columns;
  if (!other) return sides[0] === 'source' ? null : spots;
  if (columns.length === 2 && spots.length === 2 && spots.every(({ port }) => port.first === port.last)) {
    const [low, high] = spots[0]!.port.first <= spots[1]!.port.first ? spots : [spots[1]!, spots[0]!];
    const called = hasAny(low!.column.words, lowWords) && hasAny(high!.column.words, highWords);
    if (called || repeats(one!, other)) return [{ ...low!, port: { first: low!.port.first, last: high!.port.last } }];
  }
  if (sides.includes('source')) return null;
  // `p1` and `p2`, `tcp` and `udp`.
  const bare = new Set(columns.map(({ name }) => name.replace(/\d+$/, '')));
  const byProtocol = columns.every(({ words }) => carriers.some((word) => words.has(word)));
  return bare.size === 1 || byProtocol ? spots : null;
}

/** Whether two fields hold the same number in some record, as the ends of a range do. */
function repeats(one: Column, other: Column): boolean {
  return one.field.rows.some((row, place) => {
    const at = other.placeOf.get(row);
    return at !== undefined && other.field.values[at] === one.field.values[place];
  });
}
