import { append } from '../../lists.ts';
import type { Reading, Reference } from '../../reading/reading.ts';
import { type References, referencesOf } from '../facts/links.ts';
import type { Column } from '../facts/tables.ts';
import {
  ALL_ADDRESSES,
  addressInterval,
  type Interval,
  type Intervals,
  includes,
  type Part,
  partOf,
  portInterval,
} from './intervals.ts';
import { type Affix, type Affixes, affixOf, type Manner } from './rule-affixes.ts';
import { type Meanings, meaningsOf } from './rule-meanings.ts';
import type { Use } from './rule-uses.ts';
import { anyWords, isSelf } from './rule-words.ts';

/** What a part names where it means the box itself. */
export const THE_BOX = 'the box';

const ALL_PORTS: Intervals = [{ first: 0n, last: 65_535n }];

interface Piece {
  /** Stands for everything. */
  readonly any: boolean;
  readonly numbers: readonly Interval[];
  readonly named: ReadonlyMap<string, Intervals | null>;
  readonly opaque: string;
}

/** A part with a number that no other part or word of these rules has. */
export interface Numbered {
  readonly id: number;
  readonly part: Part;
}

/** A text that was read already, with the records that it named. */
interface Known {
  readonly id: number;
  readonly to: readonly number[];
  readonly piece: Piece;
  /** What it makes by itself. */
  readonly made: Numbered | null;
}

/** Reads the values of the rules in one column. A text that comes again with the same records gives the same object. */
export class PartReader {
  private readonly references: References;
  private readonly links: Int32Array | null;
  private readonly meanings: Meanings;
  private readonly which: readonly number[];
  private readonly distinct: readonly string[];
  private count = 0;
  /** By text, as it was read last; and all readings of a text that names now this record, now that. */
  private readonly byText: (Known | undefined)[];
  private readonly others = new Map<number, Known[]>();
  private readonly lists = new Map<string, Numbered | null>();

  /**
   * @param affixes what stands around the names of the column; null where nothing may.
   * @param besideNetworks see `Affixes.mannerOf`.
   */
  constructor(
    private readonly kind: Use,
    { field }: Column,
    reading: Reading,
    private readonly nextId: () => number,
    private readonly affixes: Affixes | null,
    private readonly besideNetworks: boolean,
  ) {
    this.meanings = meaningsOf(reading);
    this.references = referencesOf(reading);
    this.links = this.references.in(field);
    this.which = field.which;
    this.distinct = field.distinct;
    this.byText = new Array(field.distinct.length);
  }

  /** What the values at the places [from, to) let match together; null for everything. */
  read(from: number, to: number): Numbered | null {
    const first = this.at(from);
    if (to === from + 1) return first.made;
    const list = [first];
    for (let place = from + 1; place < to; place++) list.push(this.at(place));
    const key = list.map(({ id }) => id).join();
    let made = this.lists.get(key);
    if (made === undefined) {
      made = this.joined(list.map(({ piece }) => piece));
      this.lists.set(key, made);
    }
    return made;
  }

  private at(place: number): Known {
    const first = this.links ? this.links[place]! : -1;
    const text = this.which[place]!;
    const last = this.byText[text];
    if (last && isNaming(last.to, first, this.references)) return last;
    let found = this.others.get(text)?.find(({ to }) => isNaming(to, first, this.references));
    if (!found) {
      found = this.make(text, first);
      if (last) this.others.set(text, [...(this.others.get(text) ?? [last]), found]);
    }
    this.byText[text] = found;
    return found;
  }

  private make(text: number, first: number): Known {
    const named: Reference[] = [];
    for (let one = first; one !== -1; one = this.references.next(one)) named.push(this.references.all[one]!);
    const piece = pieceOf(this.kind, this.distinct[text]!, named, this.meanings, (around, to) =>
      this.affixes ? this.affixes.mannerOf(around, to, this.besideNetworks) : null,
    );
    return { id: this.count++, to: named.map(({ to }) => to), piece, made: this.joined([piece]) };
  }

  private joined(list: readonly Piece[]): Numbered | null {
    if (list.some(({ any }) => any)) return null;
    const named = list.length === 1 ? list[0]!.named : new Map(list.flatMap((piece) => [...piece.named]));
    const opaque = list.map((piece) => piece.opaque).filter((text) => text !== '');
    const part = partOf(
      list.flatMap(({ numbers }) => numbers),
      named,
      opaque.sort().join('\n'),
    );
    if (includes(part.numbers, this.kind === 'ports' ? ALL_PORTS : ALL_ADDRESSES)) return null;
    return { id: this.nextId(), part };
  }
}

function isNaming(to: readonly number[], first: number, references: References): boolean {
  let one = first;
  for (let at = 0; at < to.length; at++) {
    if (one === -1 || references.to[one] !== to[at]) return false;
    one = references.next(one);
  }
  return one === -1;
}

/** Between the values of a list. */
const between = /\s*[,;|\n]\s*|\s+(?![-:])/;

function pieceOf(
  kind: Use,
  value: string,
  references: readonly Reference[],
  meanings: Meanings,
  mannerOf: (around: Affix, to: number) => Manner | null,
): Piece {
  const numbers: Interval[] = [];
  const named = new Map<string, Intervals | null>();
  const made = (over: Partial<Piece>): Piece => ({ any: false, numbers: [], named: new Map(), opaque: '', ...over });
  const take = (to: number, manner: Manner): boolean => {
    const role = meanings.roleAt(to);
    const meaning = role === -1 && kind !== 'named' ? meanings.of(to) : null;
    if (meaning && meaning.of === (kind === 'ports' ? 'ports' : 'addresses')) append(numbers, meaning.numbers);
    else if (manner === 'bare' && role === -1 && kind !== 'named' && meanings.rolesAt(to).length > 0) {
      named.set(`record ${to}`, null);
      for (const one of meanings.rolesAt(to))
        named.set(`record ${meanings.nodeOf(one)}`, kind === 'ends' ? meanings.networksOf(one) : null);
    } else if (manner === 'bare')
      named.set(`record ${to}`, role === -1 || kind !== 'ends' ? null : meanings.networksOf(role));
    else {
      const own = role === -1 ? null : manner === 'box' ? meanings.addressesOf(role) : meanings.networksOf(role);
      if (!own) return false;
      append(numbers, own);
    }
    return true;
  };
  const isEnd = kind === 'ends' || kind === 'via';
  if (isEnd && references.length === 0 && isSelf(value)) return made({ named: new Map([[THE_BOX, null]]) });
  const around = references.length === 1 ? affixOf(value, references[0]!) : null;
  const manner = around && mannerOf(around, references[0]!.to);
  if (manner) return take(references[0]!.to, manner) ? made({ numbers, named }) : made({ opaque: value });
  // Each name as a mark of its own, from the end, so that what was found before keeps its place.
  let rest = value;
  const marked = [...references].sort((a, b) => b.from - a.from);
  for (const [index, reference] of marked.entries()) {
    const at = rest.lastIndexOf(reference.value);
    if (at !== -1)
      rest = `${rest.slice(0, at)}${String.fromCharCode(MARK + index)}${rest.slice(at + reference.value.length)}`;
  }
  const split = kind === 'protocol' ? rest.toLowerCase().split(/[/,+\s]+/) : rest.split(between);
  const left = split.filter((piece) => piece !== '');
  if (left.some((piece) => anyWords.has(piece.toLowerCase()))) return made({ any: true });
  for (const piece of left) {
    const names = [...piece].flatMap((char) => marked[char.charCodeAt(0) - MARK] ?? []);
    if (names.length > 0) {
      const [before, after] = piece.split(String.fromCharCode(MARK + marked.indexOf(names[0]!)));
      const own = names.length === 1 ? mannerOf({ before: before!, after: after! }, names[0]!.to) : null;
      const bare = piece.length === names.length;
      if (!own && !bare) return made({ opaque: value });
      if (!names.every(({ to }) => take(to, own ?? 'bare'))) return made({ opaque: value });
    } else if (kind === 'protocol') named.set(piece, null);
    else if (isEnd && isSelf(piece)) named.set(THE_BOX, null);
    else {
      const interval = kind === 'ports' ? portInterval(piece) : kind === 'ends' ? addressInterval(piece) : null;
      if (!interval) return made({ opaque: value });
      numbers.push(interval);
    }
  }
  return made({ numbers, named });
}

/** Stands for a name while a value is parted; of an area that Unicode leaves to private use. */
const MARK = 0xe000;
