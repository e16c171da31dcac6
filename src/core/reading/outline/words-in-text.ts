import type { Tree } from '../../xml/tree.ts';
import { kinOf } from './kin.ts';
import type { Candidate, Setting, TextOfSettings } from './settings-in-text.ts';
import { areBorneOut } from './spoken-names.ts';

/** A custom of so few lines is none. */
const LEAST = 8;
/** Where the names that they say are those of the document. */
const LEAST_BORNE = 4;
/** Longer lines are sentences. */
const MOST_WORDS = 40;
/** Share of the lines that have to be commands. */
const PURE = 0.7;

interface Word {
  readonly text: string;
  readonly from: number;
}

/** Lines that begin with the same word, or all of them where the first word is a name. */
interface Kind {
  readonly word: string | null;
  readonly lines: readonly number[];
}

const isWord = (text: string) => /^\p{L}[\p{L}\p{M}_-]*$/u.test(text);

/**
 * Texts that are commands of words, each a record by itself: `zone office device eth1 address 10.0.0.1/24`. What stands at
 * the same place in all lines of a kind, or again and again where a name is due, names the word behind it.
 * @returns by index the lines that could be told apart; empty where such lines are no custom.
 */
export function commandsIn(tree: Tree, group: readonly Candidate[]): Map<number, TextOfSettings> {
  const none = new Map<number, TextOfSettings>();
  const alone = standAlone(tree, group);
  if (group.length < (alone ? LEAST : LEAST_BORNE) || areSentences(group)) return none;
  // A command says something of its own; what comes again and again is a name.
  if (new Set(group.map(({ text }) => text)).size < group.length * PURE) return none;
  const lines = group.map(({ text }) => wordsOf(text));
  // Two words may be a name as well.
  if (lines.filter((words) => words && words.length > 2).length * 2 < group.length) return none;
  const kinds = kindsOf(lines);
  const names = new Set(kinds.flatMap(({ word, lines: own }) => (word !== null && own.length > 1 ? [word] : [])));
  for (const kind of kinds) for (const name of fixedNames(kind, lines)) names.add(name);
  const found = new Map<number, TextOfSettings>();
  let several = 0;
  for (const kind of kinds) {
    for (const [at, settings] of settingsOf(kind, lines, names)) {
      found.set(at, { kind: kind.word, settings });
      if (settings.length > 1) several++;
    }
  }
  if (found.size < group.length * PURE || several * 2 < group.length) return none;
  return alone || areBorneOut(tree, group, found) ? found : none;
}

/** Whether texts are remarks: most have several lines, or marks that end a sentence. */
function areSentences(group: readonly Candidate[]): boolean {
  const sentences = group.filter(({ text }) => text.trim().includes('\n') || /[.,!?](?:\s|$)/.test(text));
  return sentences.length > group.length * (1 - PURE);
}

/** Whether texts are the records themselves, and not remarks on what stands beside them. */
export function standAlone(tree: Tree, group: readonly Candidate[]): boolean {
  for (const { node, attr } of group) {
    const [first, end] = [tree.attrFirst[node]!, tree.attrFirst[node + 1]!];
    if (end - first !== (attr >= 0 ? 1 : 0)) return false;
    if (tree.parent[node] === -1) continue;
    const { own, all } = kinOf(tree, node);
    if (own < all) return false;
  }
  return true;
}

/** The words of a line, quotation marks left out; null for a text of several lines, or of too many words. */
export function wordsOf(line: string): Word[] | null {
  const words: Word[] = [];
  const end = line.length;
  for (let at = 0; at < end; at++) {
    const unit = line.charCodeAt(at);
    if (unit === 32 || unit === 9) continue;
    if (unit === 10 || unit === 13) {
      if (words.length > 0 && line.slice(at).trim() !== '') return null;
      continue;
    }
    const closing = unit === 34 || unit === 39 ? line.indexOf(line[at]!, at + 1) : -1;
    let to = closing;
    if (closing === -1) for (to = at + 1; to < end && line.charCodeAt(to) > 32; ) to++;
    const from = closing === -1 ? at : at + 1;
    words.push({ text: line.slice(from, to), from });
    if (words.length > MOST_WORDS) return null;
    at = to;
  }
  return words.length > 1 ? words : null;
}

function kindsOf(lines: readonly (readonly Word[] | null)[]): Kind[] {
  const kinds = new Map<string, number[]>();
  const all: number[] = [];
  for (const [at, words] of lines.entries()) {
    if (!words) continue;
    all.push(at);
    const own = kinds.get(words[0]!.text);
    if (own) own.push(at);
    else kinds.set(words[0]!.text, [at]);
  }
  const again = [...kinds].filter(([word, own]) => own.length > 1 && isWord(word)).flatMap(([, own]) => own).length;
  if (again < all.length * PURE) return [{ word: null, lines: all }];
  return [...kinds].flatMap(([word, own]) => (isWord(word) ? [{ word, lines: own }] : []));
}

const textsAt = (kind: Kind, lines: readonly (readonly Word[] | null)[], place: number) =>
  new Set(kind.lines.map((at) => lines[at]![place]?.text ?? ''));

/** The word that all lines have at a place; null where they differ, or it is none. */
function onlyAt(kind: Kind, lines: readonly (readonly Word[] | null)[], place: number): string | null {
  const texts = textsAt(kind, lines, place);
  const [text] = texts;
  return texts.size === 1 && isWord(text!) ? text! : null;
}

/** Whether a few words of a kind's lines stand before many: names, of which each line has another one. */
function areNames(kind: Kind, lines: readonly (readonly Word[] | null)[], place: number): boolean {
  const texts = textsAt(kind, lines, place);
  return (
    [...texts].every(isWord) && texts.size * 3 <= kind.lines.length && textsAt(kind, lines, place + 1).size > texts.size
  );
}

const shortest = ({ lines: own }: Kind, lines: readonly (readonly Word[] | null)[]) =>
  own.reduce((least, at) => Math.min(least, lines[at]!.length), MOST_WORDS);

/** Words that stand at one place in all lines of a kind, another word behind them in each. */
function fixedNames(kind: Kind, lines: readonly (readonly Word[] | null)[]): string[] {
  const names: string[] = [];
  if (kind.lines.length < 2) return names;
  const end = shortest(kind, lines);
  for (let place = kind.word === null ? 0 : 1; place + 1 < end; place++) {
    const text = onlyAt(kind, lines, place);
    if (text === null) continue;
    // A word before a name that is there in all lines, too, is a value that all have.
    if (place + 2 < end && onlyAt(kind, lines, place + 1) !== null && textsAt(kind, lines, place + 2).size > 1)
      continue;
    names.push(text);
    place++;
  }
  return names;
}

/** The settings of a kind's lines, by line; lines that say something else are left out. */
function settingsOf(
  kind: Kind,
  lines: readonly (readonly Word[] | null)[],
  names: ReadonlySet<string>,
): Map<number, Setting[]> {
  const found = new Map<number, Setting[]>(kind.lines.map((at) => [at, []]));
  const add = (at: number, name: string, place: number) => {
    const { text, from } = lines[at]![place]!;
    if (text !== '') found.get(at)!.push({ name, from, to: from + text.length });
  };
  const end = shortest(kind, lines);
  let place = kind.word === null ? 0 : 1;
  let named = false;
  let justNamed = false;
  // What all lines have: names with a value behind, and values that their place tells.
  for (let count = 1; place < end; ) {
    const texts = textsAt(kind, lines, place);
    const isName = [...texts].every((text) => names.has(text)) && place + 1 < end;
    if ((isName && texts.size > 1) || (justNamed && !isName && place + 1 < end && areNames(kind, lines, place))) break;
    justNamed = isName;
    if (isName) {
      const [name] = texts;
      for (const at of kind.lines) add(at, name!, place + 1);
      named = true;
      place += 2;
      continue;
    }
    for (const at of kind.lines)
      add(at, count === 1 ? (kind.word ?? 'word') : `${kind.word ?? 'word'}-${count}`, place);
    count++;
    place++;
  }
  const due = new Map<string, number>();
  for (const at of kind.lines) {
    const words = lines[at]!;
    for (let next = place; next + 1 < words.length; next += 2)
      due.set(words[next]!.text, (due.get(words[next]!.text) ?? 0) + 1);
  }
  for (const at of kind.lines) {
    const words = lines[at]!;
    for (let next = place; next < words.length; next += 2) {
      const { text } = words[next]!;
      const told = names.has(text) || due.get(text)! > 1 || /^\d+$/.test(words[next + 1]?.text ?? '');
      if (next + 1 === words.length || !isWord(text) || !told) {
        found.delete(at);
        break;
      }
      add(at, text, next + 1);
    }
  }
  // One line alone, of words that no other line has, says nothing of how it is built.
  if (kind.lines.length === 1 && !named && end > 2) found.clear();
  return found;
}
