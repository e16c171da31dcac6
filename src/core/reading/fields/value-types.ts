import { isBooleanPair, parseBoolean } from '../../values/booleans.ts';
import { classify, isOfKind, kindOrder, type ValueKind } from '../../values/classify.ts';
import { wordsOf } from '../../values/name-words.ts';
import { type Field, type FieldData, leafName } from './fields.ts';

/** `enumeration`: a few words that come again and again. */
export type FieldKind = ValueKind | 'enumeration';

export interface FieldType {
  readonly kind: FieldKind;
  /** Places whose value is not of that kind, among those that are no words such as `any`; at most a tenth. */
  readonly outliers: readonly number[];
}

const SAMPLE = 16;
/** Kinds that a number takes from the field's name alone. */
const named: Partial<Record<ValueKind, ReadonlySet<string>>> = {
  vlan: new Set('vlan vlans vid tag tagid vlanid vlantag dot1q qtag'.split(' ')),
  port: new Set('port ports dport sport listenport dstport srcport portnumber puerto porta порт 端口'.split(' ')),
  epoch: new Set(
    'time at created changed modified saved updated timestamp stamp date expires last epoch since until'.split(' '),
  ),
};

/**
 * What a field holds, by consensus of its values: the most telling kind that at least nine of ten have, words such as
 * `any` and `auto` left aside. Numbers are VLAN IDs, ports or times only where the name says so, ten-digit times apart.
 */
export function fieldType(field: FieldData): FieldType {
  for (const kind of candidatesOf(field)) {
    const outliers = missesOf(field, kind);
    const few = field.values.length >= 5 && outliers.length <= Math.max(1, field.values.length * 0.1);
    if (outliers.length === 0 || few) return { kind, outliers };
  }
  return wordy(field.values);
}

/** The kinds that a sample of the values allows, the most telling first; empty for texts and words. */
export function candidatesOf(field: Field): readonly ValueKind[] {
  const votes = new Map<ValueKind, number>();
  let voters = 0;
  for (const value of sampleOf(field.values)) {
    if (isWord(value)) continue;
    voters++;
    for (const kind of classify(value)) votes.set(kind, (votes.get(kind) ?? 0) + 1);
  }
  const words = new Set(wordsOf(leafName(field)));
  return [...votes.keys()]
    .filter((kind) => kind !== 'text' && votes.get(kind)! >= voters * 0.8 && allowed(kind, words, field.values))
    .sort((a, b) => rank(a) - rank(b));
}

const rank = (kind: ValueKind) => kindOrder.indexOf(kind);

function allowed(kind: ValueKind, words: ReadonlySet<string>, values: readonly string[]): boolean {
  if (kind === 'boolean') return isBooleans(values);
  const names = named[kind];
  if (!names) return true;
  if (kind === 'epoch' && values[0]!.length === 10) return true;
  for (const word of words) if (names.has(word)) return true;
  return false;
}

function isBooleans(values: readonly string[]): boolean {
  const distinct = [...new Set(values.slice(0, 1000))];
  if (distinct.length === 1) return parseBoolean(distinct[0]!) !== null && !/^\d$/.test(distinct[0]!);
  return distinct.length === 2 && isBooleanPair(distinct[0]!, distinct[1]!);
}

function wordy(values: readonly string[]): FieldType {
  if (isBooleans(values)) return { kind: 'boolean', outliers: [] };
  const seen = new Set<string>();
  const most = Math.max(3, values.length / 4);
  for (const value of values) {
    seen.add(value);
    if (seen.size > most) return { kind: 'text', outliers: [] };
  }
  return { kind: values.length >= 4 ? 'enumeration' : 'text', outliers: [] };
}

/** Letters alone, or a mark that stands for anything: says nothing about what the rest of the field holds. */
function isWord(value: string): boolean {
  return value === '*' || value === '-' || (value.length <= 16 && /^\p{L}[\p{L}_-]*$/u.test(value));
}

function sampleOf(values: readonly string[]): readonly string[] {
  const step = Math.max(1, Math.floor(values.length / SAMPLE));
  const sample: string[] = [];
  for (let at = 0; at < values.length && sample.length < SAMPLE; at += step) sample.push(values[at]!);
  return sample;
}

function missesOf({ values, distinct, which }: FieldData, kind: ValueKind): number[] {
  const misses: number[] = [];
  const most = Math.max(1, values.length * 0.1);
  // What repeats is judged once.
  const fits = judgeOnce(distinct, (value) => isOfKind(value, kind) || isWord(value));
  for (let place = 0; place < values.length && misses.length <= most; place++) {
    if (!fits(which[place]!)) misses.push(place);
  }
  return misses;
}

/** A judgement of values by their index, made when first asked for. */
export function judgeOnce(values: readonly string[], judge: (value: string) => boolean): (index: number) => boolean {
  const known = new Uint8Array(values.length);
  return (index) => {
    if (known[index] === 0) known[index] = judge(values[index]!) ? 1 : 2;
    return known[index] === 1;
  };
}
