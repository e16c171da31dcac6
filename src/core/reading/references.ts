import { Facts, type Given } from './facts.ts';
import type { FieldData } from './fields.ts';
import type { KeyField } from './keys.ts';
import { isLiteral, type Kind, patternOf } from './literals.ts';
import { type Evidence, score, surpriseOf } from './score.ts';
import { eachToken } from './tokens.ts';

/** One kind of record that a field names. */
export interface Target {
  readonly key: KeyField;
  readonly odds: number;
  readonly evidence: Evidence;
  /** Distinct tokens that it explains. */
  readonly tokens: ReadonlySet<string>;
  readonly total: number;
}

/** Words of the trade for "no particular one": weak evidence, they only keep a miss from counting. */
const vocabulary = new Set(
  'any all none self default auto true false yes no on off enabled disabled * never always inherit local this'.split(
    ' ',
  ),
);

const PASSES = 3;
const MAX_TARGETS = 4;
const MAX_CANDIDATES = 32;

/** What stays the same from pass to pass about one key that a field may name. */
interface Candidate {
  readonly key: KeyField;
  readonly tokens: readonly string[];
  readonly fixed: Omit<
    Evidence,
    'hits' | 'surprise' | 'alikeMisses' | 'otherMisses' | 'vocabularyMisses' | 'habit' | 'referrer' | 'sameLiterals'
  >;
}

/** A token that a key may leave unexplained, and how much that says. */
interface Name {
  readonly token: string;
  readonly kind: Kind;
  readonly common: boolean;
}

interface Question {
  readonly field: FieldData;
  readonly candidates: readonly Candidate[];
  readonly names: readonly Name[];
  /** Kinds of literal that stand in the field. */
  readonly literals: ReadonlySet<Kind>;
  readonly kinds: ReadonlyMap<string, Kind>;
  readonly total: number;
}

/** Decides for every field which records it names, in passes: what is sure first, then what that makes likely. */
export function resolve(given: Given): Target[][] {
  const facts = new Facts(given);
  const questions = given.fields.flatMap((field) => questionOf(field, given, facts) ?? []);
  let results: Target[][] = given.fields.map(() => []);
  for (let pass = 0; pass < PASSES; pass++) {
    const before = results;
    const habits = new Habits(facts.leaf, before);
    const explained = new Map<string, number>();
    for (const list of before) {
      for (const { odds, tokens } of list) {
        if (odds >= 0) for (const token of tokens) explained.set(token, (explained.get(token) ?? 0) + 1);
      }
    }
    results = given.fields.map(() => []);
    for (const question of questions)
      results[question.field.index] = answer(question, facts, habits, explained, before);
  }
  return results;
}

/** The field's candidates with what is known of them; null where no key has any of its tokens. */
function questionOf(field: FieldData, given: Given, facts: Facts): Question | null {
  const found = candidatesOf(field, given);
  if (found.size === 0) return null;
  const { counts } = given.readers[field.index]!;
  const own = facts.keyOfField.get(field.index);
  const leaf = facts.leaf[field.index]!;
  const candidates = mostLikely(found, given, facts, field).map(([index, tokens]): Candidate => {
    const key = given.keys.keys[index]!;
    const fixed: Candidate['fixed'] = {
      name: facts.nameLikeness(field, key),
      freeText: key.kind === 'name' && facts.freeLeaf.has(leaf),
      strength: key.strength,
      best: key.kind === 'integer' ? key.bestOfKind : key.best,
      kind: key.kind,
      ownKey: own?.best === true && own.rows >= 2 && own.strength >= 1,
      wrongWay: own !== undefined && facts.isWrongWay(own, key),
      sameShape: key.shape === field.rowShape,
      repeats: field.values.length > counts.size * 1.5,
      sharedLabel: key.kind === 'phrase' && facts.leaf[key.field.index] === leaf,
    };
    return { key, tokens: [...tokens], fixed };
  });
  const names: Name[] = [];
  const literals = new Set<Kind>();
  const kinds = new Map<string, Kind>();
  const { kinds: kindList, times, tokens } = counts;
  let total = 0;
  for (let at = 0; at < tokens.length; at++) {
    const token = tokens[at]!;
    const kind = kindList[at]!;
    kinds.set(token, kind);
    if (isLiteral(kind) || kind === 'integer') literals.add(kind);
    if ((isLiteral(kind) && kind !== 'text') || given.devices.has(token)) continue;
    const common = vocabulary.has(token.toLowerCase()) || (times[at]! >= 3 && facts.others(token) >= 1);
    names.push({ token, kind, common });
    if (kind !== 'integer' && kind !== 'text' && !vocabulary.has(token.toLowerCase())) total++;
  }
  return { field, candidates, names, literals, kinds, total };
}

/** Where very many keys have the field's tokens, those that have most, or the field's name. */
function mostLikely(
  found: ReadonlyMap<number, ReadonlySet<string>>,
  { keys }: Given,
  facts: Facts,
  field: FieldData,
): [number, ReadonlySet<string>][] {
  const all = [...found];
  if (all.length <= MAX_CANDIDATES) return all;
  const weight = new Map(
    all.map(([index, tokens]) => [index, tokens.size * (1 + 2 * facts.nameLikeness(field, keys.keys[index]!))]),
  );
  return all.sort((a, b) => weight.get(b[0])! - weight.get(a[0])!).slice(0, MAX_CANDIDATES);
}

function answer(
  { field, candidates, names, literals, kinds, total }: Question,
  facts: Facts,
  habits: Habits,
  explained: ReadonlyMap<string, number>,
  before: readonly (readonly Target[])[],
): Target[] {
  const chosen: Target[] = [];
  const covered = new Set<string>();
  const left = new Set(candidates);
  for (let round = 0; round < MAX_TARGETS && left.size; round++) {
    let best: Target | null = null;
    let from: Candidate | null = null;
    for (const candidate of left) {
      const { key, fixed } = candidate;
      const fresh = covered.size ? candidate.tokens.filter((token) => !covered.has(token)) : candidate.tokens;
      if (fresh.length === 0) continue;
      const explains = new Set(fresh);
      let sum = 0;
      let top = 0;
      for (const token of fresh) {
        const others = Math.max(0, facts.others(token) - (explained.get(token) ?? 0) - 1);
        const surprise = surpriseOf(token, kinds.get(token)!, others);
        if (surprise > top) top = surprise;
        sum += surprise;
      }
      const patterns = facts.patternsOf(key);
      let alikeMisses = 0;
      let otherMisses = 0;
      let vocabularyMisses = 0;
      for (const { token, kind, common } of names) {
        if (explains.has(token) || covered.has(token) || (kind === 'integer' && key.kind !== 'integer')) continue;
        if (common) vocabularyMisses++;
        else if (kind === key.kind || patterns.has(patternOf(token))) alikeMisses++;
        else otherMisses++;
      }
      const evidence: Evidence = {
        ...fixed,
        hits: fresh.length,
        surprise: Math.min(6, top + 0.9 * Math.log(Math.max(1, sum / Math.max(0.3, top)))),
        alikeMisses,
        otherMisses,
        vocabularyMisses,
        habit: habits.of(field.index, key.index),
        referrer: before[key.field.index]!.some((target) => target.odds >= 0.5),
        sameLiterals: [...facts.literalsOf(key)].some((kind) => literals.has(kind) && kind !== key.kind),
      };
      const odds = score(evidence);
      if (!best || odds > best.odds || (odds === best.odds && fresh.length > best.tokens.size)) {
        best = { key, odds, evidence, tokens: explains, total };
        from = candidate;
      }
    }
    if (!best || best.odds < (round === 0 ? -1 : 0)) break;
    chosen.push(best);
    for (const token of best.tokens) covered.add(token);
    left.delete(from!);
    if (best.odds < 0) break;
  }
  return chosen;
}

/** Keys that hold tokens of the field, with those tokens; a record's own key is left out. */
function candidatesOf(field: FieldData, { keys, readers, devices }: Given): Map<number, Set<string>> {
  const candidates = new Map<number, Set<string>>();
  // A part of a key has no place of its own; a derived device's own name names nothing else.
  if (field.virtual || devices.derivations.some(({ name }) => name === field.index)) return candidates;
  const reader = readers[field.index]!;
  const add = (index: number, token: string) => {
    const known = candidates.get(index);
    if (known) known.add(token);
    else candidates.set(index, new Set([token]));
  };
  let own = false;
  for (const token of reader.counts.tokens) {
    if (token.length > 120) continue;
    keys.each(token, (index) => {
      const key = keys.keys[index]!;
      if (key.field === field) return;
      if (key.shape === field.rowShape) own = true;
      else add(index, token);
    });
  }
  if (!own) return candidates;
  eachToken(field, reader, (token, place) => {
    keys.each(token, (index, row) => {
      const key = keys.keys[index]!;
      if (key.field !== field && key.shape === field.rowShape && row !== field.rows[place]) add(index, token);
    });
  });
  return candidates;
}

/** What fields of one leaf name were found to name. */
class Habits {
  private readonly found = new Map<string, Map<number, number[]>>();

  constructor(
    private readonly leaf: readonly string[],
    results: readonly (readonly Target[])[],
  ) {
    for (const [index, list] of results.entries()) {
      for (const { key, odds } of list) {
        if (odds < 0.8) continue;
        let byKey = this.found.get(leaf[index]!);
        if (!byKey) {
          byKey = new Map();
          this.found.set(leaf[index]!, byKey);
        }
        const fields = byKey.get(key.index);
        if (!fields) byKey.set(key.index, [index]);
        else if (fields.length < 3) fields.push(index);
      }
    }
  }

  /** 1 where another field of the name names records by this key, -1 where only by other keys, 0 for nothing known. */
  of(field: number, key: number): number {
    const byKey = this.found.get(this.leaf[field]!);
    if (!byKey) return 0;
    const others = (fields: readonly number[] | undefined) => fields?.some((one) => one !== field) ?? false;
    if (others(byKey.get(key))) return 1;
    for (const fields of byKey.values()) if (others(fields)) return -1;
    return 0;
  }
}
