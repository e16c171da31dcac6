import { wrapsLiteral } from './dangling.ts';
import { osFamily } from './devices.ts';
import type { FieldData } from './fields.ts';
import type { KeyTable } from './keys.ts';
import { isLiteral, type Kind, kindOf, patternOf } from './literals.ts';

/** An operator around a name, written in the dialect's own way: `!x` is ['!', ''], `net(x)` is ['net(', ')']. */
export interface Operator {
  readonly before: string;
  readonly after: string;
}

/** A name inside a value, operators cut off: where it begins, and which of the field's names it is. */
export interface Piece {
  readonly text: string;
  readonly from: number;
  readonly token: number;
}

/** Some of a field's names, by their index in its `TokenCounts`. */
export class TokenSet {
  private readonly marks: Uint8Array;

  /** @param list each index once; @param all how many names the field has. */
  constructor(
    readonly list: readonly number[],
    all: number,
  ) {
    this.marks = new Uint8Array(all);
    for (const token of list) this.marks[token] = 1;
  }

  get size(): number {
    return this.list.length;
  }

  has(token: number): boolean {
    return this.marks[token] === 1;
  }
}

/** The distinct names of a field, with the number of places that have each. */
export class TokenCounts {
  private kindList: Kind[] | null = null;
  private patternList: string[] | null = null;

  constructor(
    readonly tokens: readonly string[],
    readonly times: readonly number[],
  ) {}

  get size(): number {
    return this.tokens.length;
  }

  /** The kind of each token, worked out when first asked for. */
  get kinds(): readonly Kind[] {
    this.kindList ??= this.tokens.map(kindOf);
    return this.kindList;
  }

  /** The form of each token, see `patternOf`; worked out when first asked for. */
  get patterns(): readonly string[] {
    this.patternList ??= this.tokens.map(patternOf);
    return this.patternList;
  }
}

/** How the values of one field are read. */
export interface Reader {
  readonly separator: RegExp | null;
  readonly operators: readonly Operator[];
  readonly counts: TokenCounts;
  /** For each distinct value of the field its names; null where every value is one name by itself. */
  readonly pieces: readonly (readonly Piece[])[] | null;
}

const MAX_LIST = 4000;
const separators: readonly RegExp[] = [/\s*,\s*/g, /\s*;\s*/g, /\s*\|\s*/g, /\s*\n\s*/g, /\s+/g];

/** Splits a value into pieces with their offsets. */
export function piecesOf(value: string, separator: RegExp | null): { text: string; from: number }[] {
  if (!separator || value.length > MAX_LIST) return [{ text: value, from: 0 }];
  const pieces: { text: string; from: number }[] = [];
  let from = 0;
  separator.lastIndex = 0;
  for (const match of value.matchAll(separator)) {
    if (match[0] === '') continue;
    if (match.index > from) pieces.push({ text: value.slice(from, match.index), from });
    from = match.index + match[0].length;
  }
  if (from < value.length) pieces.push({ text: value.slice(from), from });
  return pieces;
}

/** The separator that the field's values are lists by; null where they are single values. */
export function separatorOf(field: FieldData, keys: KeyTable, isPort: (token: string) => boolean): RegExp | null {
  for (const separator of separators) {
    const blank = separator.source === '\\s+';
    let pieces = 0;
    let plain = 0;
    let known = 0;
    let lists = 0;
    let wholeKnown = 0;
    let looked = 0;
    for (const value of field.distinct) {
      if (value.length > MAX_LIST || (value.length > 200 && !/[\n,;]/.test(value.slice(0, 200)))) continue;
      if (++looked > 500) break;
      separator.lastIndex = 0;
      if (!separator.test(value)) continue;
      if (keys.has(value, field) || isPort(value)) {
        wholeKnown++;
        continue;
      }
      lists++;
      for (const { text } of piecesOf(value, separator)) {
        pieces++;
        const kind = kindOf(text);
        const name = inner(text, keys, field);
        if (keys.has(text, field) || name || isPort(text)) known++;
        else if (osFamily(text)) known++;
        else if (kind !== 'text' && (isLiteral(kind) || kind === 'integer')) known += blank ? 0.9 : 1;
        if (kind !== 'text' && kind !== 'phrase') plain++;
        else if (keys.has(text, field) || name || isPort(text) || wrapsLiteral(text)) plain++;
      }
    }
    if (lists === 0 || wholeKnown > lists || pieces < lists * 1.5) continue;
    if (
      blank
        ? known >= pieces * 0.75
        : plain >= pieces * 0.9 && (known > 0 || pieces >= lists * 2) && known >= pieces * 0.3
    )
      return separator;
  }
  return null;
}

/** The longest key inside a token that stands between marks; null for none. */
export function inner(token: string, keys: KeyTable, field: FieldData): { text: string; from: number } | null {
  if (token.length > 80 || !/[^\p{L}\p{M}\p{N}_]/u.test(token)) return null;
  const bounds: number[] = [0];
  let before = false;
  for (let at = 0; at < token.length; at++) {
    const word = isWord(token, at);
    if (at > 0 && (word !== before || !word)) bounds.push(at);
    before = word;
  }
  bounds.push(token.length);
  if (bounds.length > 14) return null;
  let best: { text: string; from: number } | null = null;
  for (let a = 0; a < bounds.length - 1; a++) {
    for (let b = bounds.length - 1; b > a; b--) {
      if (a === 0 && b === bounds.length - 1) continue;
      const length = bounds[b]! - bounds[a]!;
      if (best && length <= best.text.length) break;
      if (!keys.mayHave(length, token.charCodeAt(bounds[a]!))) continue;
      const text = token.slice(bounds[a]!, bounds[b]!);
      if (
        isWord(text, 0) &&
        keys.has(text, field) &&
        !(/^\d+$/.test(text) && !/[([{<:!=]$/.test(token.slice(0, bounds[a])))
      ) {
        best = { text, from: bounds[a]! };
        break;
      }
    }
  }
  return best;
}

function isWord(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  if (code < 128)
    return (code >= 48 && code <= 57) || (code >= 65 && code <= 90) || (code >= 97 && code <= 122) || code === 95;
  return /[\p{L}\p{M}\p{N}]/u.test(text[at]!) || (code >= 0xd800 && code <= 0xdfff);
}

/** What may stand around a name: marks, and at most one word. No digits, as those make other names. */
function mayBeOperator({ before, after }: Operator): boolean {
  if (before.length > 16 || after.length > 16 || /\d/.test(before + after)) return false;
  const words = `${before} ${after}`.match(/[\p{L}\p{M}]+/gu) ?? [];
  return words.length <= 2 && !/\p{L}\s+\p{L}/u.test(before) && !/\p{L}\s+\p{L}/u.test(after);
}

export function operatorKey({ before, after }: Operator): string {
  return `${before}\u0000${after}`;
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
): Operator[][] {
  interface Seen {
    operator: Operator;
    keys: Set<string>;
    fields: Map<number, Set<string>>;
  }
  const seen = new Map<string, Seen>();
  const names: number[] = [];
  const direct: number[] = [];
  for (const field of fields) {
    names[field.index] = 0;
    direct[field.index] = 0;
    if (field.tag) continue;
    let tokens: Iterable<string> = field.distinct;
    if (separatorFor[field.index]) {
      const items = new Set<string>();
      for (const value of field.distinct) {
        if (value.length > MAX_LIST) continue;
        for (const { text } of piecesOf(value, separatorFor[field.index]!)) items.add(text);
      }
      tokens = items;
    }
    for (const token of tokens) {
      if (token.length > 80) {
        names[field.index]!++;
        continue;
      }
      if (keys.has(token, field)) {
        direct[field.index]!++;
        names[field.index]!++;
        continue;
      }
      const kind = kindOf(token);
      if (isLiteral(kind) || kind === 'integer' || kind === 'opaque' || isPort(token)) continue;
      names[field.index]!++;
      const cut = inner(token, keys, field);
      if (!cut) continue;
      const operator = { before: token.slice(0, cut.from), after: token.slice(cut.from + cut.text.length) };
      if (!mayBeOperator(operator)) continue;
      const id = operatorKey(operator);
      let entry = seen.get(id);
      if (!entry) {
        entry = { operator, keys: new Set(), fields: new Map() };
        seen.set(id, entry);
      }
      entry.keys.add(cut.text);
      const inField = entry.fields.get(field.index);
      if (inField) inField.add(token);
      else entry.fields.set(field.index, new Set([token]));
    }
  }
  const chosen: Operator[][] = fields.map(() => []);
  const cutIn = new Map<number, number>();
  for (const { fields: where } of seen.values()) {
    for (const [field, tokens] of where) cutIn.set(field, (cutIn.get(field) ?? 0) + tokens.size);
  }
  for (const { operator, keys: known, fields: where } of seen.values()) {
    const spaced =
      /\s/.test((operator.before + operator.after).trim()) ||
      /^\s|\s$/.test(operator.after) ||
      /\s$/.test(operator.before);
    for (const [field] of where) {
      const covered = ((cutIn.get(field) ?? 0) + direct[field]!) / Math.max(1, names[field]!);
      const marks = /^[^\p{L}\p{N}\s]*$/u.test(operator.before + operator.after);
      if (covered < (spaced ? 0.5 : 0.35)) continue;
      if (spaced && direct[field] === 0 && known.size < 3) continue;
      if (known.size >= 2 || marks || direct[field]! > 0) chosen[field]!.push(operator);
    }
  }
  // An operator that one field has, its neighbours may have too, on a name that is not there.
  const all = new Map<string, Operator>();
  for (const list of chosen) for (const operator of list) all.set(operatorKey(operator), operator);
  for (const field of fields) {
    const list = chosen[field.index]!;
    if (list.length === 0 && direct[field.index] === 0) continue;
    const own = new Set(list.map(operatorKey));
    for (const [id, operator] of all) if (!own.has(id)) list.push(operator);
  }
  for (const list of chosen) list.sort((a, b) => b.before.length + b.after.length - a.before.length - a.after.length);
  return chosen;
}

/** A piece of a value as a name: the key inside operators, one inside the other; else what the first operator leaves. */
export function strip(
  piece: string,
  operators: readonly Operator[],
  keys: KeyTable,
  field: FieldData,
  depth = 0,
): { text: string; from: number; known: boolean } {
  if (operators.length === 0 || keys.has(piece, field)) return { text: piece, from: 0, known: keys.has(piece, field) };
  let fallback: { text: string; from: number; known: boolean } | null = null;
  for (const { before, after } of operators) {
    if (piece.length <= before.length + after.length || !piece.startsWith(before) || !piece.endsWith(after)) continue;
    const text = piece.slice(before.length, piece.length - after.length);
    if (depth < 2) {
      const deeper = strip(text, operators, keys, field, depth + 1);
      if (deeper.known) return { ...deeper, from: before.length + deeper.from };
      if (deeper.text !== text && !fallback) fallback = { ...deeper, from: before.length + deeper.from };
    }
    if (!fallback && isWord(text, 0) && !/[()[\]<>]/.test(text)) fallback = { text, from: before.length, known: false };
  }
  if (fallback) return fallback;
  const cut = depth === 0 ? inner(piece, keys, field) : null;
  if (cut && mayBeOperator({ before: piece.slice(0, cut.from), after: piece.slice(cut.from + cut.text.length) })) {
    return { ...cut, known: true };
  }
  return { text: piece, from: 0, known: false };
}

export function readerOf(
  field: FieldData,
  separator: RegExp | null,
  operators: readonly Operator[],
  keys: KeyTable,
): Reader {
  if (!separator && operators.length === 0) {
    return { separator, operators, counts: new TokenCounts(field.distinct, field.times), pieces: null };
  }
  const index = new Map<string, number>();
  const tokens: string[] = [];
  const times: number[] = [];
  const pieces: (readonly Piece[])[] = [];
  for (let at = 0; at < field.distinct.length; at++) {
    const own: Piece[] = [];
    for (const piece of piecesOf(field.distinct[at]!, separator)) {
      const { text, from } = strip(piece.text, operators, keys, field);
      let token = index.get(text);
      if (token === undefined) {
        token = tokens.push(text) - 1;
        times.push(0);
        index.set(text, token);
      }
      times[token]! += field.times[at]!;
      own.push({ text, from: piece.from + from, token });
    }
    pieces.push(own);
  }
  return { separator, operators, counts: new TokenCounts(tokens, times), pieces };
}

/** Every name of a field, place by place; `from` is where it begins in the trimmed value, `token` which one it is. */
export function eachToken(
  field: FieldData,
  { pieces }: Reader,
  visit: (text: string, place: number, from: number, token: number) => void,
): void {
  const { which, values } = field;
  for (let place = 0; place < which.length; place++) {
    const own = which[place]!;
    if (pieces) for (const { text, from, token } of pieces[own]!) visit(text, place, from, token);
    else visit(values[place]!, place, 0, own);
  }
}
