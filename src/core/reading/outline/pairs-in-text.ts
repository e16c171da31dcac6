import { largestOf } from '../../lists.ts';
import { settingsOfJson } from './json-in-text.ts';
import type { Setting } from './settings-in-text.ts';

/** How a text writes its settings: what stands between two of them, then between name and value. */
export type PairForm = `${Between} ${Mark}` | 'json';
type Between = 'line' | ';' | '|' | '&' | 'blank' | ',';
type Mark = '=' | ':';

const forms: readonly PairForm[] = [
  'json',
  'line =',
  'line :',
  '; =',
  '| =',
  '& =',
  'blank =',
  ', =',
  '; :',
  '| :',
  'blank :',
  ', :',
];

/** Share of the texts that have to be settings from end to end. */
const PURE = 0.9;
/** Texts that the form is told by. */
const SAMPLE = 60;

/** So many lines are a custom by themselves where texts have several each. */
const LINES = 8;

const name = '([\\p{L}_][\\p{L}\\p{M}\\p{N}_-]*)';
const pair: Record<Mark, RegExp> = {
  '=': new RegExp(`^\\s*${name}\\s*=\\s*`, 'u'),
  // What follows a colon at once may be part of an address.
  ':': new RegExp(`^\\s*${name}\\s*:\\s*(?![:/\\s])`, 'u'),
};

/** A name of several steps, as only lines have: `client.1.address = 10.0.0.2`. */
const stepped = /^\s*([\p{L}_][\p{L}\p{M}\p{N}_-]*(?:\.[\p{L}\p{M}\p{N}_-]+)+)\s*=\s*/u;

/** Lines that say nothing of their own, `[section]` among them, and those that are a word and what it is about: fewer than there are pairs. */
const comment = /^\s*(?:#|\/\/|;|\[[^[\]=]+\]\s*$)/;
const command = new RegExp(`^\\s*${name}[^\\S\\n]+(?=\\S)`, 'u');

/** The settings of a text in a form; null where some of it is something else, or one name stands twice in a line. */
export function pairsIn(text: string, form: PairForm): Setting[] | null {
  if (form === 'json') return settingsOfJson(text);
  const [between, mark] = form.split(' ') as [Between, Mark];
  const settings: Setting[] = [];
  const names = new Set<string>();
  let bare = 0;
  for (const [piece, at] of piecesOf(text, between)) {
    if (between === 'line' && comment.test(piece)) continue;
    let found = pair[mark].exec(piece);
    if (!found && form === 'line =') found = stepped.exec(piece);
    if (!found && between === 'line') {
      found = command.exec(piece);
      bare++;
    }
    if (!found) return null;
    const [before, own] = found as unknown as [string, string];
    const value = piece.slice(before.length).trimEnd();
    // An equals sign further on belongs to the value of a line, but shows that what was cut was none.
    if (between !== 'line' && (names.has(own) || value.includes('='))) return null;
    names.add(own);
    const quoted = /^(["']).*\1$/su.test(value) && value.length > 1 ? 1 : 0;
    const from = at + before.length + quoted;
    const to = at + before.length + value.length - quoted;
    if (to > from) settings.push({ name: own, from, to });
  }
  return settings.length > bare * 2 ? settings : null;
}

/** The form in which texts of one name are several settings, with names that come again; null for none. */
export function pairFormOf(texts: readonly string[], least: number): PairForm | null {
  const step = Math.max(1, Math.floor(texts.length / SAMPLE));
  const sample = texts.filter((_, at) => at % step === 0);
  if (!sample.some((text) => /[=:]/.test(text))) return null;
  return forms.find((form) => bearsOut(sample, form, least)) ?? null;
}

function bearsOut(texts: readonly string[], form: PairForm, least: number): boolean {
  const times = new Map<string, number>();
  const pure: Setting[][] = [];
  for (const text of texts) {
    const settings = pairsIn(text, form);
    if (!settings) continue;
    pure.push(settings);
    for (const { name: own } of settings) times.set(own, (times.get(own) ?? 0) + 1);
  }
  const several = pure.filter(({ length }) => length > 1).length;
  if (several === 0 || pure.length < texts.length * PURE || several * 2 < pure.length) return false;
  const all = pure.reduce((sum, { length }) => sum + length, 0);
  if (form === 'line =' && all >= Math.max(LINES, pure.length * 3)) return true;
  if (several < least) return false;
  // No chance makes an object: names that it has in common with others are enough.
  const most = largestOf(times.values());
  if (form === 'json') return most >= pure.length * 0.5;
  const comesAgain = ({ name: own }: Setting) => times.get(own)! > 1;
  // Behind a colon stands, more often than a value, what one of several kinds is called: `zone:office host:desk`.
  if (form.endsWith(':') && !form.startsWith('line') ? most < pure.length * 0.9 : !isCommon(pure, comesAgain))
    return false;
  const alone = [...times.values()].filter((count) => count === 1).length;
  return pure.length === 1 || alone * 2 <= times.size;
}

/** Texts of several kinds have few names in common with all others, but most of them have some with others of their kind. */
function isCommon(texts: readonly Setting[][], comesAgain: (setting: Setting) => boolean): boolean {
  return texts.length === 1 || texts.filter((settings) => settings.some(comesAgain)).length * 2 >= texts.length;
}

/** The pieces of a text with their offsets; what stands in quotation marks is not cut. */
function* piecesOf(text: string, between: Between): Generator<readonly [piece: string, at: number]> {
  const cut = between === 'line' ? /\n+/g : between === 'blank' ? /[^\S\n]+/g : new RegExp(`\\${between}\\s*`, 'g');
  const quotes = between === 'line' ? [] : [...text.matchAll(/=\s*(["'])[^"'\n]*\1/g)];
  let from = 0;
  for (const { 0: mark, index } of text.matchAll(cut)) {
    if (quotes.some((quote) => quote.index < index && index < quote.index + quote[0].length)) continue;
    if (text.slice(from, index).trim() !== '') yield [text.slice(from, index), from];
    from = index + mark.length;
  }
  if (text.slice(from).trim() !== '') yield [text.slice(from), from];
}
