/** Words inside a name: split at marks, at case changes and at digits; lower case; plural endings kept. */
export function wordsOf(name: string): string[] {
  if (/^[a-z]+$/.test(name)) return [name];
  const spaced = name
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1 $2')
    .toLowerCase();
  return spaced.match(/[\p{L}\p{M}]+/gu) ?? [];
}

/** How alike two words are, 0 to 1: equal, plural, one inside the other, abbreviation. One letter says nothing. */
export function likeness(a: string, b: string): number {
  if (a === b) return a.length > 1 || a > '\u024f' ? 1 : 0;
  const [short, long] = a.length <= b.length ? [a, b] : [b, a];
  if (/[^ -\u024f]/.test(short)) return short.length >= 2 && long.includes(short) ? 0.8 : 0;
  if (short.length < 2) return 0;
  if (long.startsWith(short)) return long.length - short.length <= 2 ? 0.95 : short.length >= 3 ? 0.75 : 0.4;
  if (short.length >= 4 && long.includes(short)) return 0.7;
  let common = 0;
  while (common < short.length && short[common] === long[common]) common++;
  // `certificato` and `certificati`: in some languages a plural has another last letter.
  if (common >= 5 && common === short.length - 1 && long.length === short.length) return 0.9;
  if (common >= 4 && common >= short.length - 2) return 0.75;
  if (short.length >= 2 && short[0] === long[0] && isSubsequence(short, long)) return short.length >= 3 ? 0.5 : 0.3;
  return 0;
}

function isSubsequence(short: string, long: string): boolean {
  let at = 0;
  for (const char of long) if (char === short[at]) at++;
  return at === short.length;
}

/** True for one word that is made of the beginnings of several, perhaps without their vowels: `ugrp` of `user group`. */
export function areMadeOf([short, more]: readonly string[], words: readonly string[]): boolean {
  if (short === undefined || more !== undefined || words.length < 2 || short.length <= words.length) return false;
  const isMade = (from: number, word: number): boolean => {
    if (word === words.length) return from === short.length;
    let at = from;
    for (const letter of words[word]!) {
      if (letter === short[at]) {
        if (isMade(++at, word + 1)) return true;
      } else if (at === from || !/[aeiouy]/.test(letter)) return false;
    }
    return false;
  };
  return isMade(0, 0);
}

/** A word with so many different numbers behind it, and nothing else, names nothing by itself. */
const STEM = 5;

/** Compares names by their words, rare words counting more. */
export class NameScale {
  private readonly counts = new Map<string, number>();
  private readonly numbers = new Map<string, Set<string>>();
  private total = 0;

  /** Counts the words of one name, once for each field or shape that has it. */
  add(name: string): void {
    this.total++;
    const [, stem, number] = /^(\p{L}+)(\d+)$/u.exec(name.toLowerCase()) ?? [];
    if (stem !== undefined && number !== undefined)
      this.numbers.set(stem, (this.numbers.get(stem) ?? new Set()).add(number));
    for (const word of new Set(wordsOf(name))) this.counts.set(word, (this.counts.get(word) ?? 0) + 1);
  }

  private weight(word: string): number {
    if ((this.numbers.get(word)?.size ?? 0) >= STEM) return 0;
    return Math.log((this.total + 1) / ((this.counts.get(word) ?? 0) + 0.5));
  }

  /** Share of the first name's words, by weight, that the other names have too: 0 to 1. */
  similarity(words: readonly string[], others: readonly string[]): number {
    let sum = 0;
    let all = 0;
    for (const word of words) {
      let best = 0;
      for (const other of others) best = Math.max(best, likeness(word, other));
      const weight = this.weight(word);
      sum += weight * best;
      all += weight;
    }
    return all > 0 ? sum / all : 0;
  }
}
