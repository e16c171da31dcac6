import { isAddress } from '../../values/ip.ts';
import { TEXT } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { kinOf } from './kin.ts';
import type { Candidate, Setting, TextOfSettings } from './settings-in-text.ts';
import { areBorneOut, isNamed } from './spoken-names.ts';
import { wordsOf } from './words-in-text.ts';

/** Fewer lines are no custom. */
const LEAST = 8;
/** Share of the lines that have to be such. */
const PURE = 0.7;
/** Share of a word's places at which it has to stand before what the document names. */
const LEADING = 0.6;
/** A word of so many lines is one of the manner, though something may be called like it. */
const COMMON = 0.3;
/** Lines of one list are records of one kind, whatever words they have. */
const KIND = 'phrase';
/** Elements around lines hold little else. */
const LINES = 0.5;

/** A word, or several with commas between; what stands in brackets behind it is a value of its own. */
interface Phrase {
  readonly text: string;
  readonly from: number;
  readonly inner: { readonly from: number; readonly to: number } | null;
}

/**
 * Lines that are records by themselves, made of names and of words that lead to them, with lists and remarks among them:
 * `let office(desks), yard to sea for web log  # for now`. A word that mostly stands before what the document names is what
 * the next is called by; what stands behind a value and leads to none says yes.
 * @returns by index the lines; empty where there is no such manner.
 */
export function phrasesIn(tree: Tree, group: readonly Candidate[]): Map<number, TextOfSettings> {
  const found = new Map<number, TextOfSettings>();
  if (group.length < LEAST) return found;
  const lines = group.map(({ text }) => phrasesOf(text));
  const leads = leadingWords(tree, lines);
  for (const [at, line] of lines.entries()) {
    const settings = settingsOf(line, leads, tree);
    if (settings.some(({ name }) => leads.has(name))) found.set(at, { kind: KIND, settings });
  }
  const none = found.size < group.length * PURE || !areBorneOut(tree, group, found);
  return none ? new Map() : found;
}

/** Those of some texts that are most of what the elements around them hold, and so no remarks on what stands beside them. */
export function linesAmong(tree: Tree, group: readonly Candidate[]): readonly Candidate[] {
  return group.filter(({ node, attr }) => {
    const few = tree.attrFirst[node + 1]! - tree.attrFirst[node]! < 2;
    if (attr !== TEXT || !few || tree.parent[node] === -1) return false;
    const { own, all } = kinOf(tree, node);
    return own > 1 && own > all * LINES;
  });
}

const isWord = (text: string) => /^\p{L}[\p{L}\p{M}_-]*$/u.test(text);
const isValue = (tree: Tree, { text, inner }: Phrase) =>
  inner !== null || text.includes(',') || /^\d+$/.test(text) || isAddress(text) || isNamed(tree, text);

function phrasesOf(text: string): Phrase[] {
  const remark = /\s#/.exec(text)?.index ?? text.length;
  const phrases: Phrase[] = [];
  let from = -1;
  for (const word of wordsOf(text.slice(0, remark)) ?? []) {
    if (from === -1) from = word.from;
    if (word.text.endsWith(',')) continue;
    const to = word.from + word.text.length;
    const whole = text.slice(from, to);
    const bracket = whole.endsWith(')') ? whole.indexOf('(') : -1;
    const single = bracket > 0 && whole.indexOf('(', bracket + 1) === -1;
    const inner = single ? { from: from + bracket + 1, to: to - 1 } : null;
    phrases.push({ text: single ? whole.slice(0, bracket) : whole, from, inner });
    from = -1;
  }
  return phrases;
}

/** Words that mostly stand before values, or before words that no other leads to: `any`. */
function leadingWords(tree: Tree, lines: readonly (readonly Phrase[])[]): ReadonlySet<string> {
  const before = new Map<string, Set<string>>();
  for (const line of lines)
    for (let at = 1; at < line.length; at++)
      before.set(line[at]!.text, (before.get(line[at]!.text) ?? new Set()).add(line[at - 1]!.text));
  const isLed = (phrase: Phrase) => isValue(tree, phrase) || before.get(phrase.text)!.size === 1;
  const counts = new Map<string, { all: number; leading: number }>();
  for (const line of lines) {
    for (const [at, { text, inner }] of line.entries()) {
      if (inner || !isWord(text)) continue;
      const count = counts.get(text) ?? { all: 0, leading: 0 };
      count.all++;
      if (at + 1 < line.length && isLed(line[at + 1]!)) count.leading++;
      counts.set(text, count);
    }
  }
  const leads = [...counts].filter(
    ([word, { all, leading }]) => leading >= all * LEADING && (all >= lines.length * COMMON || !isNamed(tree, word)),
  );
  return new Set(leads.map(([word]) => word));
}

function settingsOf(line: readonly Phrase[], leads: ReadonlySet<string>, tree: Tree): Setting[] {
  const settings: Setting[] = [];
  let name = 'word';
  let count = 0;
  for (let at = 0; at < line.length; at++) {
    const { text, from, inner } = line[at]!;
    const isDue = count === 0 && at > 0;
    if (!inner && !isDue && leads.has(text) && at + 1 < line.length) {
      name = text;
      count = 0;
      continue;
    }
    // What leads to nothing behind a value is a word that says yes.
    if (!isDue && !isValue(tree, line[at]!)) continue;
    count++;
    const called = count === 1 ? name : `${name}-${count}`;
    settings.push({ name: called, from, to: from + text.length });
    if (inner) settings.push({ name: `${called}()`, ...inner });
  }
  return settings;
}
