import { type FieldData, leafName } from '../fields/fields.ts';
import { namesOwn } from '../keys/key-signs.ts';
import { wordsOf } from '../names/words.ts';
import type { Given } from '../references/facts.ts';
import type { Structure } from '../shapes/structure.ts';

/**
 * What people call an identifier here, as plain letters: the name that keys of several kinds of record have, or the last
 * word of many fields that hold numbers.
 */
export function endingsOf({
  keys,
  fields,
  readers,
  structure,
}: Pick<Given, 'keys' | 'fields' | 'readers' | 'structure'>): string[] {
  const counts = new Map<string, number>();
  const several = new Map<string, number>();
  // `role_id` in the table of roles is theirs wherever else it stands, and no word for identifiers; nor is what records are called.
  const own = new Set(keys.keys.map(({ shape }) => letters(structure.shapes[shape]!.step)));
  for (const { kind, field, rows } of keys.keys) {
    if (kind !== 'integer' || field.tag) continue;
    const name = letters(leafName(field));
    counts.set(name, (counts.get(name) ?? 0) + 1);
    if (rows > 1) several.set(name, (several.get(name) ?? 0) + 1);
    if (namesOwn(field, structure)) own.add(name);
  }
  // What stands again and again in records of as many kinds as it tells apart names others.
  const repeating = new Map<string, number>();
  for (const { tag, distinct, values, kinds, steps } of fields) {
    if (tag || distinct.length === values.length || kinds[0] !== 'integer') continue;
    const name = letters(leafName({ steps }));
    repeating.set(name, (repeating.get(name) ?? 0) + 1);
  }
  const mostlyTells = (name: string) => !repeating.has(name) || (several.get(name) ?? 0) > repeating.get(name)!;
  const endings = [...counts]
    .filter(([name, count]) => count >= 3 && mostlyTells(name) && name.length >= 2 && !own.has(name))
    .map(([name]) => name);
  const known = new Set(keys.keys.flatMap(({ kind, field }) => (kind === 'integer' ? field.distinct : [])));
  const names = new Set<string>();
  const lasts = new Set<string>();
  const before = new Map<string, { heads: Set<string>; numbers: number; known: number }>();
  for (const field of fields) {
    const { tokens, kinds } = readers[field.index]!.counts;
    if (field.tag || tokens.length === 0 || kinds.some((kind) => kind !== 'integer')) continue;
    const name = nameBelow(field, structure);
    if (endings.some((ending) => letters(name).endsWith(ending))) continue;
    names.add(letters(name));
    const words = wordsOf(name);
    const last = words.pop();
    if (last === undefined || last.length < 2 || words.length === 0) continue;
    lasts.add(letters(last));
    const found = before.get(last) ?? { heads: new Set(), numbers: 0, known: 0 };
    found.heads.add(words.join(' '));
    found.numbers += tokens.length;
    for (const token of tokens) if (known.has(token)) found.known++;
    before.set(last, found);
  }
  for (const [last, { heads, numbers, known }] of before)
    if (heads.size >= 5 && (endings.length === 0 || known >= numbers * 0.8)) endings.push(lastOf(heads) + last);
  if (endings.length > 0) return endings;
  const common = commonEnding(names);
  if (common === null) return [];
  // Where marks or capitals tell words apart, a part of one is no word.
  const isPart = [...lasts].some((last) => last !== common && last.endsWith(common));
  return isPart ? [] : [common];
}

/** The word that nearly all of several names end in; empty for none: `object` where all are called `role object id` and so on. */
function lastOf(names: ReadonlySet<string>): string {
  const counts = new Map<string, number>();
  for (const name of names) {
    const [last] = / (\S+)$/.exec(name)?.slice(1) ?? [''];
    counts.set(last!, (counts.get(last!) ?? 0) + 1);
  }
  const [[word, count]] = [...counts].sort((a, b) => b[1] - a[1]) as [[string, number]];
  return count >= names.size * 0.9 ? word : '';
}

/** Words for a number or an identifier are seldom longer. */
const LONGEST_ENDING = 12;

/** The letters that at least five of the names end in, where nothing in a name tells where its last word begins. */
function commonEnding(names: ReadonlySet<string>): string | null {
  let best: string | null = null;
  let most = 5;
  for (let length = 2; length <= LONGEST_ENDING; length++) {
    const counts = new Map<string, number>();
    for (const name of names) {
      if (name.length <= length || (best !== null && !name.endsWith(best))) continue;
      const ending = name.slice(-length);
      counts.set(ending, (counts.get(ending) ?? 0) + 1);
    }
    const top = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), ['', 0] as [string, number]);
    if (top[1] < most * (best === null ? 1 : 0.9)) break;
    [best, most] = top;
  }
  return best;
}

/** True for enough letters to be a word: three, or one sign of a script whose signs are words (Unicode: East Asian ideographs). */
export const isWord = (letters: string): boolean => letters.length >= 3 || /\p{Ideographic}/u.test(letters);

/** How much of a field's name, at its end, is the beginning of a record's name: 0 to 1. */
export function overlap(stem: string, names: readonly string[]): number {
  let best = 0;
  for (const name of names) {
    if (isWord(stem) && name.endsWith(stem)) best = Math.max(best, (1 + stem.length / name.length) / 2);
    for (let length = Math.min(stem.length, name.length); length >= 1; length--) {
      const end = stem.slice(stem.length - length);
      if (!isWord(end)) break;
      if (!name.startsWith(end)) continue;
      best = Math.max(best, Math.min(1, (length / stem.length + length / name.length) / 2 + 0.1));
      break;
    }
  }
  return best;
}

/** What a field is called from its record down: `area.id` where a list of properties opens into `area` and `id`. */
export function nameBelow(field: FieldData, { shapes }: Structure): string {
  const depth = field.rowShape === -1 ? -1 : shapes[field.rowShape]!.depth;
  const below = depth === -1 ? [] : field.steps.slice(depth + 1);
  if (below.length < 2 || below.some((step) => !/^[\p{L}_][\p{L}\p{M}\p{N}_-]*$/u.test(step))) return leafName(field);
  return below.join('.');
}

/** What the list around a field's values is called, where each is an element of its own and it holds no others; null for none. */
export function listAround({ shape, rowShape, steps }: FieldData, { shapes }: Structure): string | null {
  const above = shapes[shape]?.above ?? -1;
  if (above === -1 || above === rowShape) return null;
  if (shapes[above]!.below.some((one) => one !== shape && !shapes[one]!.step.startsWith('@'))) return null;
  return leafName({ steps: steps.slice(0, -1) });
}

/** Names that only say that something is an item: what lists hold that are called as numbers of records are. */
export function itemNames(
  fields: readonly FieldData[],
  structure: Structure,
  isNumbers: (list: string) => boolean,
): ReadonlySet<string> {
  const names = new Set<string>();
  for (const field of fields) {
    const list = field.several ? listAround(field, structure) : null;
    if (list !== null && isNumbers(list) && !isNumbers(leafName(field))) names.add(leafName(field));
  }
  return names;
}

/** A name as plain letters and digits. */
export function letters(name: string): string {
  return name
    .toLowerCase()
    .replace(/^.*[[{](.*)[\]}]$/, '$1')
    .replace(/^.*:/, '')
    .replace(/[^\p{L}\p{M}\p{N}]/gu, '');
}

/**
 * Names less a beginning that says in what part the record is named: `source_role_id`, where `role_id` or `target_role_id`
 * is a name too, and the same beginnings stand before other names as well.
 */
export function basesOf(all: readonly string[], most: number): (name: string) => string {
  const names = [...new Set(all)].filter(isWord).slice(0, most);
  const found = new Map<string, Map<string, [string, string][]>>();
  for (const [at, one] of names.entries()) {
    for (const other of names.slice(0, at)) {
      const base = commonEnd(one, other);
      if (!isWord(base)) continue;
      const heads = [one, other].map((name) => name.slice(0, name.length - base.length)).sort();
      const id = heads.join(' ');
      const bases = found.get(id) ?? new Map();
      found.set(id, bases.set(base, [...(bases.get(base) ?? []), [one, other]]));
    }
  }
  const baseOf = new Map<string, string>();
  for (const bases of found.values()) {
    if (bases.size < 2) continue;
    for (const [base, pairs] of bases) {
      for (const name of pairs.flat()) {
        const known = baseOf.get(name);
        if (known === undefined || base.length < known.length) baseOf.set(name, base);
      }
    }
  }
  return (name) => baseOf.get(name) ?? name;
}

function commonEnd(one: string, other: string): string {
  let length = 0;
  while (length < one.length && length < other.length && one.at(-1 - length) === other.at(-1 - length)) length++;
  return one.slice(one.length - length);
}
