import { deviceKeys } from '../devices/device-keys.ts';
import { type FieldData, isOneEach } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import { isBuiltIn, wrapsLiteral } from '../names/dangling.ts';
import { isLiteral, type Kind } from '../names/literals.ts';
import { type TokenCounts, TokenSet } from '../names/tokens.ts';
import type { Reach } from '../numbers/number-chance.ts';
import { isInSteps, isOwnCount } from '../numbers/number-counts.ts';
import { withLeftovers } from '../numbers/number-leftovers.ts';
import { type NumberFit, numberFit } from '../numbers/numbers.ts';
import { candidatesOf } from './candidates.ts';
import { CommonEnds } from './common-ends.ts';
import { Facts, type Given } from './facts.ts';
import { areKin, kinOf } from './families.ts';
import { LongestNames, wordsIn } from './free-text.ts';
import { Habits, Uses } from './habits.ts';
import { type Misses, missesOf, type Name } from './misses.ts';
import { areOfSeveralWords, partsOf } from './parts.ts';
import { type Evidence, score, surpriseOf } from './score.ts';

/** One kind of record that a field names. */
export interface Target {
  readonly key: KeyField;
  readonly odds: number;
  readonly evidence: Evidence;
  /** Distinct tokens that it explains. */
  readonly tokens: TokenSet;
  readonly total: number;
}

/** More words of the trade for what stands for itself: weak evidence, they only keep a miss from counting. */
const vocabulary = new Set(['inherit', 'local']);

/** Units in the longest of all such words. */
const LONGEST_WORD = 16;

const PASSES = 3;
const MAX_TARGETS = 4;

/** One key that a field may name. */
interface Candidate {
  readonly key: KeyField;
  /** Indices of the field's tokens. */
  readonly tokens: readonly number[];
  /** Others that keys of its family hold: they are no misses. */
  readonly kin: readonly number[];
  /** What hangs on other fields is filled in anew in each pass: a copy each time would cost more than all the rest. */
  readonly evidence: Evidence;
  /** What it leaves unexplained where it stands alone. */
  readonly misses: Misses;
}

interface Question {
  readonly field: FieldData;
  readonly candidates: readonly Candidate[];
  readonly names: readonly Name[];
  readonly counts: TokenCounts;
  readonly total: number;
  /** Identifiers of several kinds of record, of each some, that the field's names are. */
  readonly parts: ReadonlySet<number> | null;
}

/** Decides for every field which records it names, in passes: what is sure first, then what that makes likely. */
export function resolve(given: Given): Target[][] {
  const facts = new Facts(given);
  const fit = numberFit(
    given,
    (field, key) => facts.nameLikeness(given.fields[field]!, key),
    (key) => facts.literalsOf(key),
  );
  const longest = new LongestNames();
  const ends = new CommonEnds();
  const isDevices = deviceKeys(given);
  const questions = given.fields.flatMap(
    (field) => questionOf(field, given, facts, fit, longest, ends, isDevices) ?? [],
  );
  // What names a kind of record among others is not named by it.
  const parts = new Map(questions.flatMap((one) => (one.parts ? [[one.field.index, one.parts] as const] : [])));
  for (const { field, candidates } of questions) {
    const own = facts.keyOfField.get(field.index)?.index ?? -1;
    for (const { key, evidence } of candidates) if (parts.get(key.field.index)?.has(own)) evidence.wrongWay = true;
  }
  let results: Target[][] = given.fields.map(() => []);
  for (let pass = 0; pass < PASSES; pass++) {
    const before = results;
    const habits = new Habits(facts.leaf, before);
    const uses = new Uses(given.keys, given.fields, facts.leaf, before);
    const explained = new Int32Array(facts.held.length);
    for (const [index, list] of before.entries()) {
      const ids = facts.ids[index]!;
      for (const { odds, tokens } of list) {
        if (odds >= 0) for (const token of tokens.list) explained[ids[token]!]!++;
      }
    }
    results = given.fields.map(() => []);
    for (const question of questions)
      results[question.field.index] = answer(question, facts, habits, uses, explained, before);
  }
  return withLeftovers(results, given);
}

/** No more names of a field are looked at where a few tell enough. */
const ENOUGH = 400;
/** The field's candidates with what is known of them; null where no key has any of its tokens. */
function questionOf(
  field: FieldData,
  given: Given,
  facts: Facts,
  fit: NumberFit,
  longest: LongestNames,
  ends: CommonEnds,
  isDevices: (key: KeyField) => boolean,
): Question | null {
  const found = candidatesOf(field, given, facts);
  if (found.length === 0) return null;
  const { counts } = given.readers[field.index]!;
  const names: Name[] = [];
  // Kinds of literal that stand in the field.
  const literals = new Set<Kind>();
  const { kinds, times, tokens } = counts;
  let total = 0;
  let wordiest = 0;
  for (let at = 0; at < tokens.length; at++) {
    const token = tokens[at]!;
    const kind = kinds[at]!;
    if (kind === 'phrase') wordiest = Math.max(wordiest, wordsIn(token));
    if (isLiteral(kind) || kind === 'integer') literals.add(kind);
    if ((isLiteral(kind) && kind !== 'text') || given.devices.has(token) || wrapsLiteral(token)) continue;
    const word = token.length <= LONGEST_WORD && (vocabulary.has(token.toLowerCase()) || isBuiltIn(token));
    const common = word || (times[at]! >= 3 && facts.others(field.index, at) >= 1);
    names.push({ token: at, kind, common });
    if (kind !== 'integer' && kind !== 'text' && !word) total++;
  }
  // What lists several names is what no record is called by.
  const own = given.readers[field.index]!.separator === null ? facts.keyOfField.get(field.index) : undefined;
  const leaf = facts.leaf[field.index]!;
  const called = names.slice(0, ENOUGH).flatMap(({ token, kind }) => (kind === 'name' ? [tokens[token]!] : []));
  const explained = new Uint8Array(counts.size);
  const free = facts.freeShare.get(leaf)!;
  // What repeats is no label of its own records.
  const tellsApart = field.values.length === field.distinct.length;
  const areCodes = kinds.every((kind) => kind === 'opaque');
  const parts = own === undefined && !areCodes ? null : partsOf(field, found, given, facts, counts.size);
  const candidates = found.map(([index, tokens]): Candidate => {
    const key = given.keys.keys[index]!;
    const { odds, reach } = fitOf(fit, field, key);
    const isPart = parts?.has(index) === true;
    const kin = isPart
      ? found.flatMap(([other, names]) => (other !== index && parts!.has(other) ? names : []))
      : kinOf(index, tokens, found, facts, given.keys.keys);
    // Without spreads, which cost many times as much in an object of so many properties.
    const evidence: Evidence = {
      hits: 0,
      surprise: 0,
      alikeMisses: 0,
      otherMisses: 0,
      vocabularyMisses: 0,
      habit: 0,
      referrer: false,
      relay: false,
      rival: false,
      usual: false,
      unnamed: false,
      companion: false,
      answered: false,
      beside: false,
      name: facts.nameLikeness(field, key),
      fit: odds,
      reach,
      freeText: free > (key.kind === 'phrase' || longest.areSeveralWords(key) ? 0.6 : 0.39) && isText(key.kind),
      strength: key.strength,
      best: facts.mayBeMeant(key),
      device: tokens.some((token) => given.devices.has(counts.tokens[token]!)) && isDevices(key),
      kind: key.kind,
      ownKey:
        own?.best === true &&
        own.rows >= 2 &&
        own.strength >= 1 &&
        (own.rows >= 4 || own.strength >= key.strength - 0.2),
      // A record that stands alone in its kind is one of many where others of its family are.
      wrongWay:
        (given.devices.tables.has(field) && !given.devices.tables.has(key.field)) ||
        (own !== undefined && !isPart && !(kin.length > 0 && key.rows === 1) && facts.directions.isWrongWay(own, key)),
      sameShape: key.shape === field.rowShape,
      ownCount: !field.several && (isOwnCount(field.values) || (own?.best === true && isInSteps(field.values))),
      repeats: field.values.length > counts.size * 1.5,
      lone: field.values.length === 1 && (key.rows === 1 || (counts.size === 1 && wordiest > 1 && key.kind === 'name')),
      sharedLabel:
        key.kind === 'phrase' &&
        facts.leaf[key.field.index] === leaf &&
        tellsApart &&
        !facts.directions.isAtHome(key, field.rowShape),
      proof: given.proofs.get(field.index)?.get(index) ?? null,
      ownName: own !== undefined && key.kind === 'name' && facts.leaf[key.field.index] === leaf,
      oneForm: hasOneForm(facts.patternsOf(key)) || ends.have(key, called),
      secondLabel: facts.isSecondLabel(key),
      remarks: key.kind === 'phrase' && wordiest > longest.of(key),
      sameLiterals: [...facts.literalsOf(key)].some((kind) => literals.has(kind) && kind !== key.kind),
    };
    for (const token of tokens) explained[token] = 1;
    for (const token of kin) explained[token] = 1;
    const misses = missesOf(key, evidence.reach, names, counts, facts, explained);
    explained.fill(0);
    return { key, tokens, kin, evidence, misses };
  });
  return { field, candidates, names, counts, total, parts: areCodes || areOfSeveralWords(tokens) ? parts : null };
}

const isText = (kind: Kind) => kind === 'name' || kind === 'phrase';

/** True for names that differ in numbers alone. */
const hasOneForm = (patterns: ReadonlySet<string>) => patterns.size === 1 && [...patterns][0]!.includes('#');

/** Log-odds by all fields of the name; negative where they rather name other records, 0 where that is not known. */
function fitOf(fit: NumberFit, field: FieldData, key: KeyField): { odds: number; reach: Reach | null } {
  const byKey = key.kind === 'integer' ? fit.get(field.index) : undefined;
  const own = byKey?.get(key.index);
  return { odds: own?.odds ?? (byKey ? (byKey.size > 0 ? -1.5 : -9) : 0), reach: own?.reach ?? null };
}

/** The only candidate whose records go by the key, where its names are not rather such as the field's own. */
function soleOf(candidates: readonly Candidate[], field: FieldData, { leaf }: Facts): Candidate | null {
  const [sole, ...more] = candidates.filter(({ evidence }) => evidence.best);
  const isSole = sole?.key.kind === 'name' && more.length === 0;
  return isSole && leaf[sole.key.field.index] !== leaf[field.index] ? sole : null;
}

function answer(
  { field, candidates, names, counts, total }: Question,
  facts: Facts,
  habits: Habits,
  uses: Uses,
  explained: Int32Array,
  before: readonly (readonly Target[])[],
): Target[] {
  const chosen: Target[] = [];
  const tells = isOneEach(field);
  const own = before[field.index]!;
  const { kinds, tokens: texts } = counts;
  const ids = facts.ids[field.index]!;
  const covered = new Uint8Array(counts.size);
  const left = new Set(candidates);
  for (const { key, evidence } of candidates) evidence.best = facts.mayBeMeant(key) || uses.isInstead(key);
  const sole = soleOf(candidates, field, facts);
  for (let round = 0; left.size && (round < MAX_TARGETS || chosen[0]!.evidence.proof !== null); round++) {
    let best: Candidate | null = null;
    let bestOdds = 0;
    let found: readonly number[] = [];
    for (const candidate of left) {
      const { key, evidence } = candidate;
      const fresh = round > 0 ? candidate.tokens.filter((token) => covered[token] === 0) : candidate.tokens;
      if (fresh.length === 0) {
        left.delete(candidate);
        continue;
      }
      let sum = 0;
      let top = 0;
      for (const token of [...fresh, ...(round === 0 ? candidate.kin : [])]) {
        const id = ids[token]!;
        const others = Math.max(0, facts.held[id]! - explained[id]! - 2);
        const surprise = surpriseOf(texts[token]!, kinds[token]!, others);
        if (surprise > top) top = surprise;
        sum += surprise;
      }
      let { misses } = candidate;
      if (round > 0) {
        const open = [...fresh, ...candidate.kin].filter((token) => covered[token] === 0);
        for (const token of open) covered[token] = 1;
        misses = missesOf(key, evidence.reach, names, counts, facts, covered);
        for (const token of open) covered[token] = 0;
      }
      evidence.alikeMisses = misses.alikeMisses;
      evidence.otherMisses = misses.otherMisses;
      evidence.vocabularyMisses = misses.vocabularyMisses;
      evidence.hits = fresh.length;
      evidence.surprise = Math.min(6, top + 0.9 * Math.log(Math.max(1, sum / Math.max(0.3, top))));
      evidence.habit = habits.of(field.index, key.index);
      evidence.referrer = before[key.field.index]!.some((target) => target.odds >= 0.5);
      evidence.relay = before[key.field.index]!.some(
        (target) =>
          target.odds >= 2 && candidates.some((one) => one.key === target.key && one.tokens.length >= fresh.length),
      );
      evidence.rival = uses.hasRival(key, own);
      evidence.usual = uses.isUsual(key);
      evidence.unnamed = candidate === sole && uses.areUnnamed(key.shape, own);
      evidence.beside = round === 0 && uses.besideOf(field, key);
      // Remarks in the records that those name, some of which say what they are called.
      const isLabel = evidence.ownName || (tells && misses.alikeMisses + misses.otherMisses >= fresh.length);
      evidence.answered = isLabel && key.shape !== field.rowShape && uses.leads(key.shape, field.rowShape);
      evidence.companion =
        round > 0 && (areKin(facts.family, chosen[0]!.key, key) || uses.together(field, chosen[0]!.key, key));
      const odds = score(evidence);
      const more = () => fresh.length - found.length || uses.others(key, own) - uses.others(best!.key, own);
      if (!best || odds > bestOdds || (odds === bestOdds && more() > 0)) {
        best = candidate;
        bestOdds = odds;
        found = fresh;
      }
    }
    if (!best || bestOdds < (round === 0 ? -1 : 0)) break;
    const { key, evidence } = best;
    if (round >= MAX_TARGETS && evidence.proof === null) break;
    chosen.push({ key, odds: bestOdds, evidence: { ...evidence }, tokens: new TokenSet(found, counts.size), total });
    for (const token of found) covered[token] = 1;
    left.delete(best);
    if (bestOdds < 0) break;
  }
  return chosen;
}
