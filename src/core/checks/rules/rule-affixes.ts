import type { Reference } from '../../reading/reading.ts';
import type { References } from '../facts/links.ts';
import type { Column } from '../facts/tables.ts';
import { addressWords, hasAny, isSelf, networkWords, turningWords } from './rule-words.ts';

/** How a name is meant by what stands around it: as it is, as its network, or as the box's own address there. */
export type Manner = 'bare' | 'network' | 'box';

/** Of the names that bear something this share bears it as a habit: marks, and words, which also turn round. */
const [MARKS, WORDS] = [0.5, 0.8];
const LEAST = 3;
/** Marks that turn a name round, wherever they stand before it. */
const turning = /[!~^¬<>\\-]/;

/**
 * What stands around the names of one column: `@` of `@tills`, `net(` and `)` of `net(office)`, `:self` of `office:self`. A mark
 * or word of no language turns nothing round where nearly all names bear it.
 */
export class Affixes {
  private readonly times = new Map<string, number>();
  private readonly all = new Map<string, number>();
  /** Nearly every name has a word for its kind before it: `host:till`, `group:tills`. */
  private readonly haveHeads: boolean;
  /** Some name is meant as its network: `office:net`. */
  readonly haveNetworks: boolean;

  /** @param kindOf what kind of record a reference names: habits are told for each kind. */
  constructor(
    { field: { nodes, attrs, distinct, which } }: Column,
    references: References,
    private readonly kindOf: (to: number) => string,
  ) {
    let heads = 0;
    let names = 0;
    let haveNetworks = false;
    const links = references.in({ nodes, attrs });
    const seen = new Uint8Array(distinct.length);
    for (let place = 0; links && place < which.length; place++) {
      const first = links[place]!;
      // Names that stand alone, each text once.
      if (first === -1 || seen[which[place]!] === 1 || references.next(first) !== -1) continue;
      seen[which[place]!] = 1;
      const around = affixOf(distinct[which[place]!]!, references.all[first]!);
      if (!around) continue;
      const to = references.to[first]!;
      names++;
      if (isHead(around)) heads++;
      haveNetworks ||= wordsIn(around).some((word) => networkWords.has(word));
      const kind = kindOf(to);
      this.times.set(keyOf(kind, around), (this.times.get(keyOf(kind, around)) ?? 0) + 1);
      this.all.set(kind, (this.all.get(kind) ?? 0) + 1);
    }
    this.haveHeads = heads >= LEAST && heads >= names * WORDS;
    this.haveNetworks = haveNetworks;
  }

  /**
   * What is meant by a name with this around it; null where nobody knows.
   * @param besideNetworks whether some names of the list are meant as their networks.
   */
  mannerOf(around: Affix, to: number, besideNetworks: boolean): Manner | null {
    const lead = around.before.trim();
    const words = wordsIn(around);
    if (lead === '' && around.after.trim() === '') return 'bare';
    if (turning.test(lead) || hasAny(words, turningWords)) return null;
    if (words.length === 0) return this.isHabit(around, to, MARKS) ? 'bare' : null;
    if (words.every((word) => networkWords.has(word))) return 'network';
    if (isSelf(words.join(''))) return 'box';
    // Where some mean the network of a name, its address is the box's own there; common practice, no source.
    if (words.every((word) => addressWords.has(word))) return besideNetworks ? 'box' : null;
    return (this.haveHeads && isHead(around)) || this.isHabit(around, to, WORDS) ? 'bare' : null;
  }

  private isHabit(around: Affix, to: number, share: number): boolean {
    const kind = this.kindOf(to);
    const times = this.times.get(keyOf(kind, around)) ?? 0;
    return times >= LEAST && times >= this.all.get(kind)! * share;
  }
}

/** What stands before a name and behind it. */
export interface Affix {
  readonly before: string;
  readonly after: string;
}

/** What stands around the one name in a value; null where it is not found there. */
export function affixOf(value: string, { value: name }: Reference): Affix | null {
  const at = value.lastIndexOf(name);
  return at === -1 ? null : { before: value.slice(0, at), after: value.slice(at + name.length) };
}

const isHead = ({ before, after }: Affix): boolean => after === '' && /^\p{L}+[:/|=.@]$/u.test(before);

const keyOf = (kind: string, { before, after }: Affix) => `${kind}\u0000${before}\u0000${after}`;

const wordsIn = ({ before, after }: Affix): string[] =>
  `${before} ${after}`.toLowerCase().match(/[\p{L}\p{M}]+/gu) ?? [];
