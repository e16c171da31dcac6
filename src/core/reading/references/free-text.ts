import type { KeyField } from '../keys/key-table.ts';
import { kindOf } from '../names/literals.ts';
import type { Given } from './facts.ts';

/** No more distinct values are looked at where a few tell enough. */
const ENOUGH = 400;

/** For each leaf name the share of its values that are several words, or a text, and name nothing. */
export function freeShareOf(leaf: readonly string[], { fields, readers, keys }: Given): Map<string, number> {
  const counts = new Map<string, { all: number; free: number }>();
  for (const [index, name] of leaf.entries()) {
    let count = counts.get(name);
    if (!count) {
      count = { all: 0, free: 0 };
      counts.set(name, count);
    }
    for (const token of readers[index]!.counts.tokens.slice(0, ENOUGH)) {
      const form = kindOf(token);
      count.all++;
      if (form === 'text' || (form === 'phrase' && !keys.has(token, fields[index]!))) count.free++;
    }
  }
  return new Map([...counts].map(([name, { all, free }]) => [name, free / Math.max(1, all)]));
}

/** Share of names of several words from which on they are the way in which records are called. */
const USUAL = 0.2;

/** By key, how many words the longest of its names has. */
export class LongestNames {
  private readonly known = new Map<number, number>();
  private readonly usual = new Map<number, boolean>();

  /** True where not only a few of a key's names are of several words: such a name is no free text. */
  areSeveralWords({ index, field: { distinct } }: KeyField): boolean {
    let usual = this.usual.get(index);
    if (usual === undefined) {
      const names = distinct.slice(0, ENOUGH);
      usual = names.filter((name) => kindOf(name) === 'phrase').length >= Math.max(2, names.length * USUAL);
      this.usual.set(index, usual);
    }
    return usual;
  }

  of({ index, field }: KeyField): number {
    let words = this.known.get(index);
    if (words === undefined) {
      words = field.distinct.slice(0, ENOUGH).reduce((most, name) => Math.max(most, wordsIn(name)), 0);
      this.known.set(index, words);
    }
    return words;
  }
}

export const wordsIn = (text: string) => text.split(' ').length;
