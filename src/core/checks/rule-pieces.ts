import type { Reading, Reference } from '../reading/reading.ts';
import { type References, referencesOf } from './links.ts';
import { type Meanings, portInterval } from './rule-sets.ts';
import type { Use } from './rule-uses.ts';
import { anyWords } from './rule-words.ts';
import { ALL_ADDRESSES, addressInterval, type Interval, type Intervals, includes, type Part, partOf } from './sets.ts';
import type { Column } from './tables.ts';

const ALL_PORTS: Intervals = [{ first: 0n, last: 65_535n }];

interface Piece {
  /** Stands for everything. */
  readonly any: boolean;
  readonly numbers: readonly Interval[];
  readonly named: ReadonlyMap<string, Intervals | null>;
  readonly opaque: string;
}

/** A text that was read already, with the records that it named. */
interface Known {
  readonly id: number;
  readonly to: readonly number[];
  readonly piece: Piece;
  /** What it makes by itself. */
  readonly part: Part | null;
}

/**
 * Reads the values of one rule in one column, at the places [from, to). A text that comes again with the same records
 * gives the same object. Null for what lets everything match.
 */
export function partReader(
  kind: Use,
  { field }: Column,
  meanings: Meanings,
  reading: Reading,
): (from: number, to: number) => Part | null {
  const references = referencesOf(reading);
  const { which, values, nodes, attrs } = field;
  const known: Known[] = [];
  const byText: (Known[] | undefined)[] = new Array(field.distinct.length);
  const lists = new Map<string, Part | null>();
  const joined = (list: readonly Piece[]): Part | null => {
    if (list.some(({ any }) => any)) return null;
    const named = list.length === 1 ? list[0]!.named : new Map(list.flatMap((piece) => [...piece.named]));
    const opaque = list.map((piece) => piece.opaque).filter((text) => text !== '');
    const part = partOf(
      list.flatMap(({ numbers }) => numbers),
      named,
      opaque.sort().join('\n'),
    );
    return includes(part.numbers, kind === 'ports' ? ALL_PORTS : ALL_ADDRESSES) ? null : part;
  };
  const at = (place: number): Known => {
    const first = references.at(nodes[place]!, attrs[place]!);
    const text = which[place]!;
    const list = byText[text];
    if (list) for (const held of list) if (isNaming(held.to, first, references)) return held;
    const named: Reference[] = [];
    for (let one = first; one !== -1; one = references.next(one)) named.push(references.all[one]!);
    const piece = pieceOf(kind, values[place]!, named, meanings);
    const made = { id: known.length, to: named.map(({ to }) => to), piece, part: joined([piece]) };
    known.push(made);
    if (list) list.push(made);
    else byText[text] = [made];
    return made;
  };
  return (from, to) => {
    const first = at(from);
    if (to === from + 1) return first.part;
    const list = [first];
    for (let place = from + 1; place < to; place++) list.push(at(place));
    const key = list.map(({ id }) => id).join();
    let part = lists.get(key);
    if (part === undefined) {
      part = joined(list.map(({ piece }) => piece));
      lists.set(key, part);
    }
    return part;
  };
}

function isNaming(to: readonly number[], first: number, references: References): boolean {
  let one = first;
  for (let at = 0; at < to.length; at++) {
    if (one === -1 || references.to[one] !== to[at]) return false;
    one = references.next(one);
  }
  return one === -1;
}

function pieceOf(kind: Use, value: string, references: readonly Reference[], meanings: Meanings): Piece {
  const numbers: Interval[] = [];
  const named = new Map<string, Intervals | null>();
  const made = (over: Partial<Piece>): Piece => ({ any: false, numbers: [], named: new Map(), opaque: '', ...over });
  let rest = value;
  // From the end, so that what was found before keeps its place.
  for (const reference of [...references].sort((a, b) => b.from - a.from)) {
    const at = rest.lastIndexOf(reference.value);
    if (at !== -1) rest = `${rest.slice(0, at)} ${rest.slice(at + reference.value.length)}`;
  }
  const split = kind === 'protocol' ? rest.toLowerCase().split(/[/,+\s]+/) : rest.split(/\s*[,;|\n]\s*|\s+(?![-:])/);
  const left = split.filter((piece) => piece !== '');
  if (left.some((piece) => anyWords.has(piece.toLowerCase()))) return made({ any: true });
  if (kind === 'protocol') for (const piece of left) named.set(piece, null);
  else
    for (const piece of left) {
      const interval = kind === 'ports' ? portInterval(piece) : kind === 'ends' ? addressInterval(piece) : null;
      if (!interval) return made({ opaque: value });
      numbers.push(interval);
    }
  for (const { to } of references) {
    const role = meanings.roleAt(to);
    const meaning = role === -1 && kind !== 'named' ? meanings.of(to) : null;
    if (meaning && meaning.of === (kind === 'ports' ? 'ports' : 'addresses')) numbers.push(...meaning.numbers);
    else named.set(`record ${to}`, role === -1 || kind !== 'ends' ? null : meanings.networksOf(role));
  }
  return made({ numbers, named });
}
