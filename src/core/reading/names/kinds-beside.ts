import { wordsOf } from '../../values/name-words.ts';
import { type FieldData, leafName, localName } from '../fields/fields.ts';
import { keyOn } from '../keys/key-table.ts';
import type { Outline } from '../outline/outline.ts';
import type { Shape, Structure } from '../shapes/structure.ts';
import { type Kinds, MANY, separators } from './kind-marks.ts';
import { kindOf } from './literals.ts';
import { piecesOf } from './pieces.ts';

/** How the names of one field are read whose kind stands in another field beside each: `class="host" id="104"`. */
export interface KindsBeside {
  /** The field of the words. */
  readonly words: FieldData;
  readonly separator: RegExp | null;
  /** By place the key of the kind that the word beside it says; -1 where that is none. */
  readonly keys: readonly number[];
}

/** Shares of the places that have a word for a kind of record, and of their names that are those of such records. */
const TOLD = 0.5;
const KNOWN = 0.75;
/** Fewer names may be so by chance. */
const FEWEST = 4;

const word = /^\p{L}[\p{L}\p{M}\p{N}_-]{0,23}$/u;

/** A field of words, and one of names, that stand in the same elements. */
interface Pair {
  readonly words: FieldData;
  readonly names: FieldData;
  /** By place of the names the word beside it; undefined for none. */
  readonly beside: readonly (string | undefined)[];
}

/**
 * Fields that name records of several kinds, where a field beside says of which: word and name together are no chance, so
 * small numbers are told by them, too. Pairs of fields that are called alike all over the document count together.
 */
export function kindsBeside(
  fields: readonly FieldData[],
  outline: Outline,
  structure: Structure,
  kinds: Kinds,
  taken: { has(field: number): boolean },
): ReadonlyMap<number, KindsBeside> {
  const found = new Map<number, KindsBeside>();
  const groups = new Map<string, Pair[]>();
  const holders = holdersOf(fields, structure);
  for (const words of fields) {
    const holder = structure.shapes[words.shape]?.above ?? -1;
    if (holder === -1 || saysOwnKind(words, structure.shapes[holder]!) || !mayTell(words, kinds)) continue;
    for (const names of holders.get(holder) ?? []) {
      if (names === words || taken.has(names.index) || !mayBeTold(words, names, holder)) continue;
      const id = [words.steps.at(-1)!, names.shape === holder ? '' : names.steps.at(-1)!].join(' ');
      const pair = { words, names, beside: wordsBeside(words, names, holder, outline) };
      const group = groups.get(id);
      if (group) group.push(pair);
      else groups.set(id, [pair]);
    }
  }
  for (const group of groups.values())
    for (const separator of separators) {
      const meant = meantKeys(group, separator, kinds);
      if (!meant) continue;
      for (const { words, names, beside } of group) {
        const own = beside.map((one) => (one === undefined ? undefined : meant.get(one)));
        if (own.every((key) => key === undefined)) continue;
        found.set(names.index, { words, separator, keys: own.map((key) => (key ? keyOn(key, kinds.keys).index : -1)) });
      }
      break;
    }
  return found;
}

/** By shape the fields that stand in it, its own text included. */
export function holdersOf(
  fields: readonly FieldData[],
  structure: Structure,
): ReadonlyMap<number, readonly FieldData[]> {
  const holders = new Map<number, FieldData[]>();
  const add = (shape: number, field: FieldData) => {
    const known = holders.get(shape);
    if (known) known.push(field);
    else holders.set(shape, [field]);
  };
  for (const field of fields) {
    if (field.tag || field.virtual || field.shape === -1) continue;
    const { above, structured } = structure.shapes[field.shape]!;
    add(above, field);
    if (structured) add(field.shape, field);
  }
  return holders;
}

/** Whether a field says of what kind the records themselves are, or repeats what they are called. */
const saysOwnKind = ({ distinct }: FieldData, { step }: Shape): boolean =>
  distinct.length === 1 && (step.endsWith(`{${distinct[0]!}}`) || localName(step.replace(/\{.*$/, '')) === distinct[0]);

/** Whether a field holds a few words, most of which are what kinds of record are called. */
function mayTell(field: FieldData, kinds: Kinds): boolean {
  const { tag, virtual, distinct, times, values } = field;
  if (tag || virtual || distinct.length > MANY || !distinct.every((one) => word.test(one))) return false;
  let told = 0;
  for (const [at, one] of distinct.entries()) if (kinds.isCalled(one, field)) told += times[at]!;
  return told >= values.length * TOLD;
}

/** Whether names may be those of records of that kind: numbers stand alone with the word, or are called alike. */
function mayBeTold(words: FieldData, names: FieldData, holder: number): boolean {
  if (names.shape === holder || !names.distinct.some((value) => kindOf(value) === 'integer')) return true;
  const [head] = wordsOf(leafName(words));
  return names.rowShape !== holder || head === wordsOf(leafName(names))[0];
}

export function wordsBeside(
  words: FieldData,
  names: FieldData,
  holder: number,
  { parent }: Outline,
): readonly (string | undefined)[] {
  const said = new Map<number, string>();
  for (const [at, node] of words.at.entries()) said.set(parent[node]!, words.values[at]!);
  return names.at.map((node) => said.get(names.shape === holder ? node : parent[node]!));
}

/** By word the field that records of its kind go by; null where the words do not tell what the names are. */
function meantKeys(
  group: readonly Pair[],
  separator: RegExp | null,
  kinds: Kinds,
): ReadonlyMap<string, FieldData> | null {
  const namesOf = new Map<string, Set<string>>();
  let places = 0;
  for (const { names, beside } of group)
    for (const [place, one] of beside.entries()) {
      places++;
      if (one === undefined) continue;
      let said = namesOf.get(one);
      if (!said) {
        said = new Set();
        namesOf.set(one, said);
      }
      for (const { text } of piecesOf(names.values[place]!, separator)) said.add(text);
    }
  const own = new Set(group.map(({ names }) => names));
  const meant = new Map<string, FieldData>();
  let told = 0;
  let known = 0;
  let all = 0;
  for (const [one, said] of namesOf) {
    const key = kinds.keyFor(one, said, own);
    if (!key) continue;
    meant.set(one, key);
    for (const name of said) if (kinds.has(key, name)) known++;
    all += said.size;
  }
  for (const { beside } of group) for (const one of beside) if (one !== undefined && meant.has(one)) told++;
  // One kind alone needs no word for it.
  return meant.size > 1 && all >= FEWEST && told >= places * TOLD && known >= all * KNOWN ? meant : null;
}
