import type { Devices } from './devices.ts';
import { type FieldData, leafName, localName } from './fields.ts';
import type { KeyField, KeyTable } from './keys.ts';
import { isLiteral, type Kind, kindOf, patternOf } from './literals.ts';
import { type Evidence, score, surpriseOf } from './score.ts';
import type { Structure } from './structure.ts';
import { type Reader, tokensOf } from './tokens.ts';
import { NameScale, wordsOf } from './words.ts';

/** One kind of record that a field names. */
export interface Target {
  readonly key: KeyField;
  readonly odds: number;
  readonly evidence: Evidence;
  /** Distinct tokens that it explains. */
  readonly tokens: ReadonlySet<string>;
  readonly total: number;
}

export interface Given {
  readonly fields: readonly FieldData[];
  readonly readers: readonly Reader[];
  readonly keys: KeyTable;
  readonly structure: Structure;
  readonly devices: Devices;
  /** Fields whose values are devices. */
  readonly portFields: ReadonlySet<number>;
}

/** Words of the trade for "no particular one": weak evidence, they only keep a miss from counting. */
const vocabulary = new Set([
  'any',
  'all',
  'none',
  'self',
  'default',
  'auto',
  'true',
  'false',
  'yes',
  'no',
  'on',
  'off',
  'enabled',
  'disabled',
  '*',
  'never',
  'always',
  'inherit',
  'local',
  'this',
]);

const MAX_TARGETS = 4;

/** Decides for every field which records it names, in passes: what is sure first, then what that makes likely. */
export function resolve(given: Given): Target[][] {
  const { fields, readers, keys, structure } = given;
  const kinds = new Map<string, Kind>();
  const kind = (token: string): Kind => {
    let known = kinds.get(token);
    if (known === undefined) {
      known = kindOf(token);
      kinds.set(token, known);
    }
    return known;
  };
  const held = new Map<string, number>();
  for (const reader of readers)
    for (const token of reader.counts.keys()) if (token.length <= 64) held.set(token, (held.get(token) ?? 0) + 1);
  const scale = new NameScale();
  for (const field of fields) scale.add(leafName(field));
  const firstOf = new Map<number, number>();
  for (const field of fields) if (!firstOf.has(field.rowShape)) firstOf.set(field.rowShape, field.index);
  // A key with a name of its own, as `role_no` is, is named by fields of that name.
  const isSpecific = (key: KeyField) => !key.field.tag && key.kind === 'integer' && firstOf.get(key.shape) === key.field.index;
  const firsts = new Map<string, number>();
  for (const key of keys.keys) {
    if (isSpecific(key)) firsts.set(leafName(key.field), (firsts.get(leafName(key.field)) ?? 0) + 1);
  }
  const specificLeaf = (key: KeyField) => firsts.get(leafName(key.field)) === 1;
  const keyWords = keys.keys.map((key) => targetWords(key, structure, isSpecific(key) && specificLeaf(key)));
  const keyPatterns = keys.keys.map((key) => patternsOf(key));
  const literals = keys.keys.map((key) => literalsOf(key, fields, readers, kind));
  const keyOfField = new Map<number, KeyField>();
  for (const key of keys.keys) if (!keyOfField.has(key.field.index)) keyOfField.set(key.field.index, key);
  const freeLeaf = freeLeavesOf(fields, readers, kind);
  let results: Target[][] = fields.map(() => []);
  for (let pass = 0; pass < 3; pass++) {
    const habits = habitsOf(fields, results);
    const explained = new Map<string, number>();
    for (const field of fields)
      for (const target of results[field.index]!)
        if (target.odds >= 0) for (const token of target.tokens) explained.set(token, (explained.get(token) ?? 0) + 1);
    const before = results;
    results = fields.map((field) => {
      const reader = readers[field.index]!;
      const candidates = candidatesOf(field, reader, given);
      if (candidates.size === 0) return [];
      const chosen: Target[] = [];
      const covered = new Set<string>();
      const total = nameTokens(reader, kind, given.devices).length;
      for (let round = 0; round < MAX_TARGETS && candidates.size; round++) {
        let best: Target | null = null;
        for (const [index, tokens] of candidates) {
          const key = keys.keys[index]!;
          const fresh = new Set([...tokens].filter((token) => !covered.has(token)));
          if (fresh.size === 0) continue;
          const evidence: Evidence = {
            hits: fresh.size,
            surprise: 0,
            alikeMisses: 0,
            otherMisses: 0,
            vocabularyMisses: 0,
            name: nameLikeness(scale, field, key, keyWords[index]!.flat(), keyWords[index]!, isSpecific(key) && specificLeaf(key)),
            freeText: key.kind === 'name' && freeLeaf.has(leafName(field)),
            habit: habitFor(habits, field, index),
            strength: key.strength,
            best: key.kind === 'integer' ? key.bestOfKind : key.best,
            kind: key.kind,
            ownKey: false,
            wrongWay: false,
            referrer: before[key.field.index]!.some((target) => target.odds >= 0.5),
            sameShape: key.shape === field.rowShape,
            repeats: field.values.length > reader.counts.size * 1.5,
            sameLiterals: false,
            sharedLabel: key.kind === 'phrase' && leafName(key.field) === leafName(field),
          };
          const own = keyOfField.get(field.index);
          if (own && own.best && own.rows >= 2) evidence.ownKey = true;
          evidence.wrongWay = !!own && isWrongWay(own, key, reader, readers[key.field.index]!, held, given);
          let sum = 0;
          let top = 0;
          for (const token of fresh) {
            const others = Math.max(0, (held.get(token) ?? 1) - 1 - (explained.get(token) ?? 0) - 1);
            const surprise = surpriseOf(token, kind(token), others);
            top = Math.max(top, surprise);
            sum += surprise;
          }
          evidence.surprise = Math.min(6, top + 0.9 * Math.log(Math.max(1, sum / Math.max(0.3, top))));
          const mine = new Set<string>();
          for (const [token, times] of reader.counts) {
            if (covered.has(token) || fresh.has(token)) continue;
            const form = kind(token);
            mine.add(form);
            if (isLiteral(form) && form !== 'text') continue;
            if (form === 'integer' && key.kind !== 'integer') continue;
            if (given.devices.has(token)) continue;
            if (vocabulary.has(token.toLowerCase()) || (times >= 3 && (held.get(token) ?? 0) >= 2))
              evidence.vocabularyMisses++;
            else if (form === key.kind || keyPatterns[index]!.has(patternOf(token))) evidence.alikeMisses++;
            else evidence.otherMisses++;
          }
          evidence.sameLiterals = [...literals[index]!].some((form) => mine.has(form));
          const odds = score(evidence);
          if (pass === 2) (globalThis as any).__trace?.(field, key, evidence, odds, round);
          if (!best || odds > best.odds || (odds === best.odds && fresh.size > best.tokens.size))
            best = { key, odds, evidence, tokens: fresh, total };
        }
        if (!best || best.odds < (round === 0 ? -1 : 0)) break;
        chosen.push(best);
        for (const token of best.tokens) covered.add(token);
        candidates.delete(best.key.index);
        if (round === 0 && best.odds < 0) break;
      }
      return chosen;
    });
  }
  return results;
}

/** Keys that hold tokens of the field, with those tokens; a record's own key and words in too many keys are left out. */
function candidatesOf(field: FieldData, reader: Reader, { keys }: Given): Map<number, Set<string>> {
  const candidates = new Map<number, Set<string>>();
  let own = false;
  if (field.virtual) return candidates;
  for (const token of reader.counts.keys()) {
    if (token.length > 120) continue;
    keys.each(token, (index) => {
      const key = keys.keys[index]!;
      if (key.field === field) return;
      if (key.shape === field.rowShape) {
        own = true;
        return;
      }
      const known = candidates.get(index);
      if (known) known.add(token);
      else candidates.set(index, new Set([token]));
    });
  }
  if (own) {
    for (const { text, place } of tokensOf(field, reader, keys)) {
      keys.each(text, (index, row) => {
        const key = keys.keys[index]!;
        if (key.field === field || key.shape !== field.rowShape || row === field.rows[place]) return;
        const known = candidates.get(index);
        if (known) known.add(text);
        else candidates.set(index, new Set([text]));
      });
    }
  }
  return candidates;
}

function nameTokens(reader: Reader, kind: (token: string) => Kind, devices: Devices): string[] {
  return [...reader.counts.keys()].filter((token) => {
    const form = kind(token);
    return !isLiteral(form) && form !== 'integer' && !vocabulary.has(token.toLowerCase()) && !devices.has(token);
  });
}

/** Words around a key: its records' tag, what holds them, the file's own word for the kind. */
function targetWords(key: KeyField, structure: Structure, specific: boolean): string[][] {
  const shape = structure.shapes[key.shape]!;
  const names: string[][] = [];
  if (shape.step !== '*') names.push(wordsOf(localName(shape.step.replace(/^.*\{(.*)\}$/, '$1'))));
  const above = shape.above === -1 ? null : structure.shapes[shape.above]!;
  if (above && above.above !== -1 && above.step !== '*') names.push(wordsOf(localName(above.step.replace(/^.*\{(.*)\}$/, '$1'))));
  if (specific) names.push(wordsOf(leafName(key.field)));
  return names.filter((words) => words.length > 0);
}

function patternsOf(key: KeyField): Set<string> {
  const patterns = new Set<string>();
  for (const value of key.field.values) {
    patterns.add(patternOf(value));
    if (patterns.size > 50) break;
  }
  return patterns;
}

/** Kinds of literal that the target's records hold in lists: a set of addresses is named where addresses stand. */
function literalsOf(
  key: KeyField,
  fields: readonly FieldData[],
  readers: readonly Reader[],
  kind: (token: string) => Kind,
): Set<string> {
  const forms = new Map<string, number>();
  for (const field of fields) {
    if (field.rowShape !== key.shape || field === key.field) continue;
    const counts = readers[field.index]!.counts;
    if (!field.several && readers[field.index]!.separator === null) continue;
    let seen = 0;
    for (const token of counts.keys()) {
      const form = kind(token);
      if (form === 'address' || form === 'integer' || form === 'number') forms.set(form, (forms.get(form) ?? 0) + 1);
      if (++seen > 50) break;
    }
  }
  const all = [...forms.values()].reduce((a, b) => a + b, 0);
  return new Set([...forms].filter(([, count]) => count >= all * 0.3).map(([form]) => form));
}

/** For leaf names, the keys that fields of that name were found to name: name → key → odds of the best field. */
function habitsOf(
  fields: readonly FieldData[],
  results: readonly Target[][],
): Map<string, Map<number, { odds: number; field: number }[]>> {
  const habits = new Map<string, Map<number, { odds: number; field: number }[]>>();
  for (const field of fields) {
    for (const { key, odds } of results[field.index]!) {
      if (odds < 0.8) continue;
      const name = leafName(field);
      let byKey = habits.get(name);
      if (!byKey) {
        byKey = new Map();
        habits.set(name, byKey);
      }
      const list = byKey.get(key.index);
      if (list) list.push({ odds, field: field.index });
      else byKey.set(key.index, [{ odds, field: field.index }]);
    }
  }
  return habits;
}

function habitFor(
  habits: Map<string, Map<number, { odds: number; field: number }[]>>,
  field: FieldData,
  key: number,
): number {
  const byKey = habits.get(leafName(field));
  if (!byKey) return 0;
  if (byKey.get(key)?.some((one) => one.field !== field.index)) return 1;
  for (const list of byKey.values()) if (list.some((one) => one.field !== field.index)) return -1;
  return 0;
}

/**
 * Both fields tell records apart and share values: true where the other one's records rather name this one's. What other
 * fields name decides: the values that only one of the two has, and that stand elsewhere too, are on the side of the key.
 */
function isWrongWay(
  own: KeyField,
  key: KeyField,
  reader: Reader,
  other: Reader,
  held: ReadonlyMap<string, number>,
  { keys, devices }: Given,
): boolean {
  let common = 0;
  let support = 0;
  for (const token of other.counts.keys()) {
    if (reader.counts.has(token)) common++;
    else if ((held.get(token) ?? 0) > 1) support++;
  }
  if (common < Math.min(reader.counts.size, other.counts.size) * 0.6) return false;
  for (const token of reader.counts.keys()) {
    if (other.counts.has(token) || (held.get(token) ?? 0) < 2) continue;
    // What names records of a third kind, or a device, says nothing about these two.
    if (!keys.has(token, own.field) && !devices.has(token)) support--;
  }
  if (support !== 0) return support < 0;
  if (own.best !== key.best) return own.best;
  const strength = (one: KeyField) => one.strength - (one.field.tag ? 2 : 0);
  if (strength(own) !== strength(key)) return strength(own) > strength(key);
  return reader.counts.size > other.counts.size;
}

/**
 * How much a field's name says that it names these records. Words that the key's own field has as well (`id`, `number`)
 * say nothing. For numbers both sides count: all of what the records are called should be there.
 */
function nameLikeness(
  scale: NameScale,
  field: FieldData,
  key: KeyField,
  target: readonly string[],
  parts: readonly (readonly string[])[],
  specific: boolean,
): number {
  const common = new Set(key.field.tag || specific ? [] : wordsOf(leafName(key.field)));
  const words = wordsOf(leafName(field)).map((word) => withoutEnding(word, common));
  const own = words.filter((word) => !common.has(word));
  if (own.length === 0) return key.kind === 'integer' ? 0 : scale.similarity(words, target) * 0.5;
  const forward = scale.similarity(own, target);
  if (key.kind !== 'integer') return forward;
  const back = Math.max(...parts.map((part) => scale.similarity(part, own)));
  return (forward + back) / 2;
}

/** A word less an ending that the key's own name is: `gatewayid` where keys are called `id`. */
function withoutEnding(word: string, endings: ReadonlySet<string>): string {
  for (const ending of endings) {
    if (ending.length >= 2 && word.length > ending.length + 1 && word.endsWith(ending)) return word.slice(0, -ending.length);
  }
  return word;
}

/** Leaf names whose values are mostly several words. */
function freeLeavesOf(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  kind: (token: string) => Kind,
): Set<string> {
  const counts = new Map<string, { all: number; free: number }>();
  for (const field of fields) {
    const name = leafName(field);
    let count = counts.get(name);
    if (!count) {
      count = { all: 0, free: 0 };
      counts.set(name, count);
    }
    for (const token of readers[field.index]!.counts.keys()) {
      const form = kind(token);
      count.all++;
      if (form === 'phrase' || form === 'text') count.free++;
    }
  }
  return new Set([...counts].filter(([, { all, free }]) => free >= all * 0.4).map(([name]) => name));
}
