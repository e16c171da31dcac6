import { append } from '../../lists.ts';
import { type FieldData, localName } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { isBuiltIn, unwrapped } from './dangling.ts';
import { deviceOperators } from './device-operators.ts';
import { Marks } from './forms.ts';
import type { HeldNames } from './held-names.ts';
import type { KindMarks } from './kind-marks.ts';
import { isOfKind, kindNames, kindsBefore, markAfterKind, wordBefore } from './kind-words.ts';
import { isLiteral, kindOf } from './literals.ts';
import { operatorsBeside } from './paired-operators.ts';
import { inner, joined, MAX_LIST, numberIn, piecesOf } from './pieces.ts';

/** An operator around a name, written in the dialect's own way: `!x` is ['!', ''], `net(x)` is ['net(', ')']. */
export interface Operator {
  readonly before: string;
  readonly after: string;
  /** True where what stands before a name is said by the records around that of the name: see held-names.ts. */
  readonly held?: boolean;
}

/** What may stand around a name: marks, and at most one word, or two before a mark: `not net:x`. No digits, as those make other names. */
export function mayBeOperator({ before, after }: Operator): boolean {
  if (before.length > 16 || after.length > 16 || /\d/.test(before + after)) return false;
  const words = `${before} ${after}`.match(/[\p{L}\p{M}]+/gu) ?? [];
  return (
    words.length <= 2 && (!/\p{L}\s+\p{L}/u.test(before) || twoWords.test(before)) && !/\p{L}\s+\p{L}/u.test(after)
  );
}

const twoWords = /^\p{L}+ \p{L}+[:=(]$/u;

export function operatorKey({ before, after }: Operator): string {
  return `${before}\u0000${after}`;
}

/** The marks and at most one word around an address: `~10.0.0.1`, `except(10.0.0.1)`; null for anything else. */
function aroundAddress(token: string): Operator | null {
  if (!holdsAddress.test(token)) return null;
  const core = unwrapped(token);
  if (core === token || kindOf(core) !== 'address') return null;
  const from = token.indexOf(core);
  const operator = { before: token.slice(0, from), after: token.slice(from + core.length) };
  return mayBeOperator(operator) ? operator : null;
}

/** What every address has: three dots or two colons. */
const holdsAddress = /\..*\..*\.|:.*:/;

/** Keys that stand as a whole in another field, by themselves or behind a mark: `exit:gw-north` has `gw-north`. */
function wholeElsewhere(fields: readonly FieldData[], keys: KeyTable): ReadonlySet<string> {
  const found = new Set<string>();
  const look = (text: string, field: FieldData) => {
    if (keys.isBestOf(text, field)) found.add(text);
  };
  for (const field of fields) {
    for (const value of field.distinct) {
      if (keys.mayHave(value, 0, value.length)) look(value, field);
      if (value.length > MAX_LIST) continue;
      between.split(value, (from, to) => {
        if (to - from < value.length && keys.mayHave(value, from, to)) look(value.slice(from, to), field);
      });
    }
  }
  return found;
}

/** True for one word that is joined on by a mark as names have it: `-old` of `yard-old`. */
export const isJoined = ({ before, after }: Operator): boolean => /^(?:\p{L}+[-.]|[-.]\p{L}+)$/u.test(before + after);

/**
 * True for a path of the document before a name, with what closes it: `/network/segments/` of `/network/segments/office`,
 * `/net[name='` and `']`; records around may be called by their names: `/quay/gate/segments/`.
 * @param tags what elements are called.
 */
function isPath({ before, after }: Operator, tags: ReadonlySet<string>, isName: (step: string) => boolean): boolean {
  if (!/[/.:'"]$/.test(before) || !/^['"\])]*$/.test(after)) return false;
  const steps = before.match(/[\p{L}_][\p{L}\p{M}\p{N}_-]*/gu) ?? [];
  return (
    steps.length > 1 &&
    (steps.every((step) => tags.has(step)) ||
      (before.startsWith('/') && tags.has(steps.at(-1)!) && steps.every((step) => tags.has(step) || isName(step))))
  );
}

/** Records that hold whole parts of a document are few. */
const FEW = 100;

/** What may stand before a name or between two. */
const between = new Marks(/[\s,;|:!@()#&$%^~*+=<>]/);

/** True for a field that has numbers of records, and no others than addresses' beside them. */
function bareNumbers(tokens: Iterable<string>, keys: KeyTable, field: FieldData): boolean {
  let bare = false;
  for (const token of tokens) if (/^\d+$/.test(token) && keys.has(token, field)) bare = true;
  if (!bare) return false;
  for (const token of tokens) if (!/\d/.test(token) && kindOf(token) !== 'address' && !isBuiltIn(token)) return false;
  return true;
}

/** So many numbers behind one mark are no accident. */
const MARKED = 3;

/** True for a field in which one mark stands before each number, as no literal has it: `@4`. Nearly all are records'. */
function markedNumbers(tokens: Iterable<string>, keys: KeyTable, field: FieldData): boolean {
  let mark = '';
  let all = 0;
  let known = 0;
  for (const token of tokens) {
    const first = token.charCodeAt(0);
    if (first >= 48 && first <= 57 && /^\d+$/.test(token)) return false;
    if (first > 64 || first < 33) continue;
    const [, before, digits] = /^([!#$%&*@]+)(\d{1,9})$/.exec(token) ?? [];
    if (before === undefined) continue;
    if (mark !== '' && before !== mark) return false;
    mark = before;
    all++;
    if (keys.has(digits!, field)) known++;
  }
  return known >= MARKED && known * 4 >= all * 3;
}

/**
 * Operators of the whole document: what is left when a known key is cut out of a value, where that happens with
 * several keys or beside bare keys in the same field.
 */
export function learnOperators(
  fields: readonly FieldData[],
  separatorFor: readonly (RegExp | null)[],
  keys: KeyTable,
  isPort: (token: string) => boolean,
  told: ReadonlyMap<number, KindMarks>,
  holders: HeldNames,
): Operator[][] {
  interface Seen {
    operator: Operator;
    keys: Set<string>;
    fields: Map<number, Set<string>>;
    /** True for a word without a mark between it and the name, or with one that stands in names. */
    glued: boolean;
    /** At how many places, of values that are no lists. */
    places: number;
  }
  const called = new Set(keys.keys.flatMap(({ field, best }) => (best ? [field.index] : [])));
  const whole = wholeElsewhere(fields, keys);
  const tags = new Set(
    fields.flatMap(({ steps }) => steps.map((step) => localName(step.replace(/[[{].*$/, '').replace(/^@/, '')))),
  );
  const kinds = kindNames(fields);
  let namesOfFew: Set<string> | null = null;
  const isName = (step: string): boolean => {
    namesOfFew ??= new Set(fields.flatMap(({ distinct }) => (distinct.length <= FEW ? distinct : [])));
    return namesOfFew.has(step);
  };
  const itemsOf = new Map<FieldData, ReadonlySet<string>>();
  const tokensOf = (field: FieldData): Iterable<string> => {
    const separator = separatorFor[field.index]!;
    if (!separator) return field.distinct;
    let items = itemsOf.get(field);
    if (!items) {
      const cut = field.distinct.flatMap((value) => (value.length > MAX_LIST ? [] : piecesOf(value, separator)));
      items = new Set(cut.map(({ text }) => text));
      itemsOf.set(field, items);
    }
    return items;
  };
  const seen = new Map<string, Seen>();
  const onAddresses = new Map<string, { field: number; operator: Operator }>();
  const names: number[] = [];
  const direct: number[] = [];
  for (const field of fields) {
    names[field.index] = 0;
    direct[field.index] = 0;
    if (field.tag || told.has(field.index)) continue;
    const tokens = tokensOf(field);
    const numbers = bareNumbers(tokens, keys, field) || markedNumbers(tokens, keys, field);
    let at = -1;
    for (const token of tokens) {
      at++;
      if (token.length > 80) {
        names[field.index]!++;
        continue;
      }
      if (keys.has(token, field)) {
        direct[field.index]!++;
        names[field.index]!++;
        continue;
      }
      const kind = tokens === field.distinct ? field.kinds[at]! : kindOf(token);
      const marksNumber = numbers && token.startsWith('-') ? numberIn(token, keys, field) : null;
      if (!marksNumber && (isLiteral(kind) || kind === 'integer' || kind === 'opaque' || isPort(token))) continue;
      names[field.index]!++;
      // A key that others name as a whole is one name, whatever is in it.
      if (called.has(field.index) && whole.has(token)) continue;
      const marked = inner(token, keys, field);
      const cut =
        marked ??
        (numbers ? numberIn(token, keys, field) : null) ??
        (called.has(field.index) ? null : joined(token, keys, field));
      if (!cut) {
        const around = aroundAddress(token);
        if (around) onAddresses.set(`${field.index} ${operatorKey(around)}`, { field: field.index, operator: around });
        continue;
      }
      const operator = { before: token.slice(0, cut.from), after: token.slice(cut.from + cut.text.length) };
      // Before a name that is known any word may stand, also one that has digits.
      const isWord = wordBefore(operator) !== null && (kindOf(cut.text) === 'opaque' || /\p{L}/u.test(cut.text));
      if (!isWord && !mayBeOperator(operator) && !isOfKind(operator, kinds) && !isPath(operator, tags, isName))
        continue;
      const id = operatorKey(operator);
      let entry = seen.get(id);
      if (!entry) {
        entry = {
          operator,
          keys: new Set(),
          fields: new Map(),
          glued: (marked === null && !numbers) || isJoined(operator),
          places: 0,
        };
        seen.set(id, entry);
      }
      entry.keys.add(cut.text);
      if (tokens === field.distinct) entry.places += field.times[at]!;
      const inField = entry.fields.get(field.index);
      if (inField) inField.add(token);
      else entry.fields.set(field.index, new Set([token]));
    }
  }
  const chosen: Operator[][] = fields.map(({ index }) => [...(told.get(index)?.marks ?? [])]);
  const cutIn = new Map<number, number>();
  for (const { fields: where } of seen.values()) {
    for (const [field, tokens] of where) cutIn.set(field, (cutIn.get(field) ?? 0) + tokens.size);
  }
  const endsName = (word: string) =>
    fields.some(({ index, distinct }) => called.has(index) && distinct.some((name) => name.endsWith(word)));
  for (const { operator, keys: known, fields: where, glued, places } of seen.values()) {
    // A word that is joined on makes another name, unless it does so again and again.
    const again = known.size >= 3 || (places >= 2 && /^_\p{L}+$/u.test(operator.after) && !endsName(operator.after));
    if (glued && !again) continue;
    // A word with digits is a part of the name rather, unless several stand behind it, or what no one thinks of does.
    const isCode = /\d/.test(operator.before) && !isOfKind(operator, kinds);
    if (isCode && known.size < 2 && [...known].some((key) => kindOf(key) !== 'opaque')) continue;
    const spaced =
      /\s/.test((operator.before + operator.after).trim()) ||
      /^\s|\s$/.test(operator.after) ||
      /\s$/.test(operator.before);
    for (const [field] of where) {
      const covered = ((cutIn.get(field) ?? 0) + direct[field]!) / Math.max(1, names[field]!);
      const bare = /^[^\p{L}\p{N}\s]*$/u.test(operator.before + operator.after);
      if (covered < (spaced ? 0.5 : 0.35)) continue;
      if (spaced && direct[field] === 0 && known.size < 3) continue;
      if (known.size >= 2 || bare || direct[field]! > 0) chosen[field]!.push(operator);
    }
  }
  for (const { index, distinct, tag } of fields) {
    const isNamed = distinct.some((value) => whole.has(value));
    const before =
      tag || isNamed || told.has(index) || direct[index]! > 0 || separatorFor[index]
        ? null
        : kindsBefore(distinct, kinds);
    for (const operator of before ?? [])
      if (!chosen[index]!.some((one) => operatorKey(one) === operatorKey(operator))) chosen[index]!.push(operator);
  }
  // Where one kind of record is told by a word and a mark before its names, others are too.
  const marks = new Set<string>();
  for (const list of chosen) for (const operator of list) marks.add(markAfterKind(operator, kinds) ?? '');
  for (const { operator, fields: where } of seen.values()) {
    const mark = markAfterKind(operator, kinds);
    if (mark === null || !marks.has(mark)) continue;
    for (const field of where.keys()) if (!chosen[field]!.includes(operator)) chosen[field]!.push(operator);
  }
  for (const field of fields)
    if (direct[field.index] === 0) append(chosen[field.index]!, deviceOperators(field, tokensOf, isPort));
  // What stands around addresses may stand around a name in the same field.
  for (const { field, operator } of onAddresses.values()) {
    const id = operatorKey(operator);
    if (!chosen[field]!.some((one) => operatorKey(one) === id)) chosen[field]!.push(operator);
  }
  // An operator that one field has, its neighbours may have too, on a name that is not there.
  const all = new Map<string, Operator>();
  for (const list of chosen)
    for (const operator of list) {
      const id = operatorKey(operator);
      if (seen.get(id)?.glued === false) all.set(id, operator);
    }
  for (const field of fields) {
    const list = chosen[field.index]!;
    if (list.length === 0 && direct[field.index] === 0) continue;
    const own = new Set(list.map(operatorKey));
    for (const [id, operator] of all) if (!own.has(id)) list.push(operator);
  }
  for (const field of fields) {
    const list = chosen[field.index]!;
    const own = new Set(list.map(operatorKey));
    for (const operator of told.has(field.index) ? [] : operatorsBeside(tokensOf(field), list, keys, field))
      if (!own.has(operatorKey(operator))) list.push(operator);
  }
  for (const [field, list] of holders.operatorsOf(
    fields.filter(({ index }) => !told.has(index)),
    tokensOf,
  ))
    append(chosen[field]!, list);
  for (const list of chosen) list.sort((a, b) => b.before.length + b.after.length - a.before.length - a.after.length);
  return chosen;
}
