import { bareName } from '../devices/composed-devices.ts';
import { osFamily } from '../devices/os-names.ts';
import { distinctOf } from '../fields/distinct.ts';
import type { FieldData } from '../fields/fields.ts';
import { mapLong } from '../fields/long-lists.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { wrapsLiteral } from './dangling.ts';
import type { KindMarks } from './kind-marks.ts';
import type { KindsBeside } from './kinds-beside.ts';
import { isLiteral, type Kind, kindOf, patternOf } from './literals.ts';
import { isJoined, mayBeOperator, type Operator } from './operators.ts';
import { inner, isWord, joined, MAX_LIST, piecesOf } from './pieces.ts';

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
  private kindList: readonly Kind[] | null = null;
  private patterns: (string | undefined)[] | null = null;

  constructor(
    readonly tokens: readonly string[],
    readonly times: readonly number[],
    /** The field whose values these are, as they stand. */
    private readonly field: FieldData | null = null,
  ) {}

  get size(): number {
    return this.tokens.length;
  }

  /** The kind of each token, worked out when first asked for. */
  get kinds(): readonly Kind[] {
    this.kindList ??= this.field?.kinds ?? mapLong(this.tokens, kindOf);
    return this.kindList;
  }

  /** The form of one token, see `patternOf`. */
  patternOf(token: number): string {
    this.patterns ??= new Array(this.tokens.length);
    this.patterns[token] ??= patternOf(this.tokens[token]!);
    return this.patterns[token];
  }
}

/** How the values of one field are read. */
export interface Reader {
  readonly separator: RegExp | null;
  readonly operators: readonly Operator[];
  readonly counts: TokenCounts;
  /** For each distinct value of the field its names; null where every value is one name by itself. */
  readonly pieces: readonly (readonly Piece[])[] | null;
  /** By place the index of its names in `pieces`, where what stands beside it tells which they are; else null. */
  readonly which: readonly number[] | null;
  /** By token the key that a word before or beside it tells, -1 for none; null for fields without such words. */
  readonly told: readonly number[] | null;
}

const blanks = /\s+/g;
const separators: readonly RegExp[] = [/\s*,\s*/g, /\s*;\s*/g, /\s*\|\s*/g, /\s*\n\s*/g, blanks];

/** Longer texts with blanks are remarks. */
const MAX_BLANK_LIST = 200;

/** The separator that the field's values are lists by; null where they are single values. */
export function separatorOf(field: FieldData, keys: KeyTable, isPort: (token: string) => boolean): RegExp | null {
  for (const separator of separators) {
    const blank = separator.source === '\\s+';
    let pieces = 0;
    let plain = 0;
    let known = 0;
    // Identifiers are no words of a sentence: beside names they are such that are gone.
    let codes = 0;
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
        const name = inner(text, keys, field) ?? joined(text, keys, field);
        if (keys.has(text, field) || name || isPort(text)) known++;
        else if (osFamily(bareName(text))) known++;
        else if (kind !== 'text' && (isLiteral(kind) || kind === 'integer')) known += blank ? 0.9 : 1;
        else if (blank && wrapsLiteral(text)) known += 0.9;
        else if (kind === 'opaque') codes++;
        if (kind !== 'text' && kind !== 'phrase') plain++;
        else if (keys.has(text, field) || name || isPort(text) || wrapsLiteral(text)) plain++;
      }
    }
    if (lists === 0 || wholeKnown > lists || pieces < lists * 1.5) continue;
    if (
      blank
        ? known > 0 && known + codes * 0.9 >= pieces * 0.75
        : (plain >= pieces * 0.9 || known >= pieces * 0.75) &&
          (known > 0 || pieces >= lists * 2) &&
          known >= pieces * 0.3
    )
      return separator;
  }
  return null;
}

/** A piece of a value as a name: the key inside operators, one inside the other; else what the first operator leaves. */
export function strip(
  piece: string,
  operators: readonly Operator[],
  keys: KeyTable,
  field: FieldData,
  depth = 0,
): { text: string; from: number; known: boolean } {
  const isKey = keys.has(piece, field);
  if (operators.length === 0 || (isKey && !operators.some(({ held }) => held)))
    return { text: piece, from: 0, known: isKey };
  for (const { before, held } of operators)
    if (held && piece.startsWith(before) && keys.has(piece.slice(before.length), field))
      return { text: piece.slice(before.length), from: before.length, known: true };
  if (isKey) return { text: piece, from: 0, known: true };
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
  const cut = depth <= 1 ? inner(piece, keys, field) : null;
  const around = cut && { before: piece.slice(0, cut.from), after: piece.slice(cut.from + cut.text.length) };
  if (around && mayBeOperator(around) && !isJoined(around)) return { ...cut, known: true };
  return { text: piece, from: 0, known: false };
}

/**
 * The names of a value; where one is not known, but is a list by blanks of known names and addresses, each of these.
 * @param beside what stands beside names and is none.
 */
function namesIn(
  value: string,
  separator: RegExp | null,
  operators: readonly Operator[],
  keys: KeyTable,
  field: FieldData,
  beside: ReadonlySet<string> | null,
): { text: string; from: number }[] {
  const stripped = ({ text, from }: { text: string; from: number }) => {
    const name = strip(text, operators, keys, field);
    return { ...name, from: from + name.from };
  };
  return piecesOf(value, separator).flatMap((piece, _at, all) => {
    if (beside?.has(piece.text) && all.length > 1 && !keys.has(piece.text, field)) return [];
    const whole = stripped(piece);
    if (whole.known || piece.text.length > MAX_BLANK_LIST || !/\S\s+\S/.test(piece.text)) return whole;
    const items = piecesOf(piece.text, blanks).map(({ text, from }) => stripped({ text, from: piece.from + from }));
    const isList =
      items.some(({ known }) => known) && items.every(({ known, text }) => known || kindOf(text) === 'address');
    return isList ? items : whole;
  });
}

export function readerOf(
  field: FieldData,
  separator: RegExp | null,
  operators: readonly Operator[],
  keys: KeyTable,
): Reader {
  if (!separator && operators.length === 0) {
    const counts = new TokenCounts(field.distinct, field.times, field);
    return { separator, operators, counts, pieces: null, which: null, told: null };
  }
  // Of a list by blanks, what an operator has on the other side of one is no name.
  const beside =
    separator === blanks
      ? new Set(operators.flatMap(({ before, after }) => [before.trimEnd(), after.trimStart()]))
      : null;
  const { counts, pieces } = read(field, (value) => namesIn(value, separator, operators, keys, field, beside));
  return { separator, operators, counts, pieces, which: null, told: null };
}

/** The same of names behind words for their kinds: one name behind two words is two. */
export function markedReader(field: FieldData, { separator, marks }: KindMarks): Reader {
  const told: number[] = [];
  const { counts, pieces } = read(
    field,
    (value) =>
      piecesOf(value, separator).flatMap(({ text, from }) => {
        const mark = marks.find(({ before, after }) => text.startsWith(before) && text.endsWith(after));
        if (!mark) return [];
        const { before, after, key } = mark;
        return { text: text.slice(before.length, text.length - after.length), from: from + before.length, key };
      }),
    (key) => told.push(key),
  );
  return { separator, operators: marks, counts, pieces, which: null, told };
}

/** The same of names whose kind a word beside them tells: values are told apart by it, too. */
export function besideReader(field: FieldData, { separator, keys }: KindsBeside): Reader {
  // Keys are numbers, so the first blank ends one.
  const { distinct, times, which } = distinctOf(mapLong(field.values, (value, place) => `${keys[place]!} ${value}`));
  const told: number[] = [];
  const { counts, pieces } = read(
    { distinct, times },
    (keyed) => {
      const end = keyed.indexOf(' ');
      const key = Number(keyed.slice(0, end));
      return piecesOf(keyed.slice(end + 1), separator).map((piece) => ({ ...piece, key }));
    },
    (key) => told.push(key),
  );
  return { separator, operators: [], counts, pieces, which, told };
}

/** @param add called for each new token with what its name has as `key`: names with other ones are others. */
function read(
  field: Pick<FieldData, 'distinct' | 'times'>,
  namesOf: (value: string) => readonly { text: string; from: number; key?: number }[],
  add?: (key: number) => void,
): Pick<Reader, 'counts'> & { pieces: readonly (readonly Piece[])[] } {
  const index = new Map<string, number>();
  const tokens: string[] = [];
  const times: number[] = [];
  const pieces: (readonly Piece[])[] = [];
  for (let at = 0; at < field.distinct.length; at++) {
    const own: Piece[] = [];
    for (const { text, from, key } of namesOf(field.distinct[at]!)) {
      const id = key === undefined ? text : `${key} ${text}`;
      let token = index.get(id);
      if (token === undefined) {
        token = tokens.push(text) - 1;
        times.push(0);
        index.set(id, token);
        if (key !== undefined) add?.(key);
      }
      times[token]! += field.times[at]!;
      own.push({ text, from, token });
    }
    pieces.push(own);
  }
  return { counts: new TokenCounts(tokens, times), pieces };
}

/** The one name that a place holds, operators cut off, and where it begins in the value; the whole value where it is a list. */
export function nameAt(field: FieldData, { pieces, which }: Reader, place: number): Piece {
  const at = (which ?? field.which)[place]!;
  const own = pieces?.[at];
  return own?.length === 1 ? own[0]! : { text: field.values[place]!, from: 0, token: pieces ? -1 : at };
}

/** All names that a place holds. */
export function namesAt(field: FieldData, { pieces, which }: Reader, place: number): readonly Piece[] {
  const at = (which ?? field.which)[place]!;
  return pieces?.[at] ?? [{ text: field.values[place]!, from: 0, token: at }];
}

/** Every name of a field, place by place; `from` is where it begins in the trimmed value, or in the text that this is a part of, `token` which one it is. */
export function eachToken(
  field: FieldData,
  { pieces, which: told }: Reader,
  visit: (text: string, place: number, from: number, token: number) => void,
): void {
  const { values, begins } = field;
  const which = told ?? field.which;
  for (let place = 0; place < which.length; place++) {
    const own = which[place]!;
    const begin = begins === null ? 0 : begins[place]!;
    if (pieces) for (const { text, from, token } of pieces[own]!) visit(text, place, begin + from, token);
    else visit(values[place]!, place, begin, own);
  }
}
