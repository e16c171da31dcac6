import { append } from '../../lists.ts';
import type { Tree } from '../../xml/tree.ts';
import type { Devices } from '../devices/device-set.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import { leadOf } from '../fields/spans.ts';
import type { Collections } from '../keys/collections.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { couldName, isAny, isBuiltIn, wrapsLiteral } from '../names/dangling.ts';
import { kindOf, patternOf } from '../names/literals.ts';
import { eachToken, type Reader } from '../names/tokens.ts';
import type { Outline } from '../outline/outline.ts';
import type { Dangling, Reference, ReferenceField, Tier } from '../reading.ts';
import type { Structure } from '../shapes/structure.ts';
import { calledAlike } from './called-alike.ts';
import { rowNamed } from './named-row.ts';
import { nearestName } from './nearest.ts';
import { type IsMeant, meantForOdd } from './odd-names.ts';
import type { Target } from './references.ts';
import { type Evidence, tierOf, wordsFor } from './score.ts';

export interface Links {
  readonly fields: readonly ReferenceField[];
  readonly references: readonly Reference[];
  readonly dangling: readonly Dangling[];
}

export interface LinkSource {
  readonly tree: Tree;
  readonly outline: Outline;
  readonly structure: Structure;
  readonly fields: readonly FieldData[];
  readonly readers: readonly Reader[];
  readonly keys: KeyTable;
  readonly devices: Devices;
  readonly portFields: ReadonlySet<number>;
  readonly targets: readonly (readonly Target[])[];
  readonly collections: Collections;
}

/** References and dangling ones, place by place, from what was decided field by field. */
export function linksOf(source: LinkSource): Links {
  const { tree, outline, fields, readers, keys, targets } = source;
  const named: ReferenceField[] = [];
  const references: Reference[] = [];
  const dangling: Dangling[] = [];
  const unresolved = unresolvedCounts(source);
  const isMeant = meantForOdd(fields, readers, targets);
  const lone = loneNames(fields, targets);
  const alike = calledAlike(fields, readers, keys, targets);
  // What others name these records by is theirs, also where it equals the names of other records.
  const own = new Set(targets.flatMap((list) => list.flatMap(({ key, odds }) => (odds >= 0 ? [key.field] : []))));
  for (const field of fields) {
    const list = targets[field.index]!.length > 0 ? targets[field.index]! : alike(field);
    if (list.length === 0) continue;
    const top = list[0]!;
    const tier = tierOf(top.odds);
    if (!tier) continue;
    const index = named.length;
    named.push(describe(source, field, list, tier));
    const reader = readers[field.index]!;
    const missing = new Map<number, Missing>();
    // A mark that no name begins with stands before it.
    let marked: boolean | null = null;
    const marksOf = (text: string): number => {
      const marks = marksBefore(text);
      if (marks > 0) marked ??= list.some(({ key }) => key.field.distinct.some(isMarked));
      return marked ? 0 : marks;
    };
    // Of which kind a record was that is gone, is not always known.
    const kinds = list.filter(({ odds }) => odds >= 0);
    let names: readonly string[] | null = null;
    let usual: number | null = null;
    const amongOthers = areAmongOthers(reader, list);
    // Of most names there is one record, wherever they stand.
    const only = new Map<number, { readonly row: number; readonly target: Target } | null>();
    const { nodes, attrs, rows, at: places } = field;
    for (const [at, token] of reader.counts.tokens.entries()) {
      const known = list.some(({ tokens }) => tokens.has(at));
      const told = (reader.told?.[at] ?? -1) !== -1;
      // Where words tell what is named, one without them stands for itself.
      if (reader.told !== null && !told) continue;
      if (known || own.has(field) || !isMissing(token.slice(marksOf(token)), field, source, list, told)) continue;
      if (!told && amongOthers && kindOf(token) === 'integer') continue;
      if (list.some(({ key }) => lone.get(leafName(key.field))?.has(token))) continue;
      const often = !told && recurs(token, list, unresolved, isMeant);
      usual ??= usualTimes(reader, list);
      if (often && reader.counts.times[at]! > usual) continue;
      names ??= kinds.flatMap(({ key }) => key.field.distinct);
      const nearest = nearestName(token, names);
      missing.set(at, { nearest, tier: often ? 'possible' : kinds.length > 0 ? tier : 'likely' });
    }
    dropRemarks(reader, missing);
    const others = missing.size >= WHOLE_LIST ? listsOfOthers(field, reader, list, missing) : null;
    eachToken(field, reader, (text, place, begin, token) => {
      let hit = only.get(token);
      if (hit === undefined) {
        hit = rowNamed({ text, token }, list, keys, places[place]!);
        if (list.every(({ key }) => keys.isSingle(text, key))) only.set(token, hit);
      }
      if (hit ? hit.row === rows[place] && hit.target.key.shape === field.rowShape : !missing.has(token)) return;
      if (!hit && others?.has(rows[place]!)) return;
      const site = { node: nodes[place]!, attr: attrs[place]! };
      const from = begin + leadOf(tree, site, field);
      if (!hit) {
        const lead = marksOf(text);
        const value = text.slice(lead);
        dangling.push({ site, from: from + lead, to: from + text.length, value, field: index, ...missing.get(token)! });
      } else {
        references.push({
          site,
          from,
          value: text,
          to: outline.element[hit.row]!,
          field: index,
          tier: tierOf(hit.target.odds) ?? 'possible',
        });
      }
    });
  }
  return { fields: named, references, dangling };
}

/** So many numbers beside those of records are no mistakes. */
const SEVERAL = 2;

/** True for numbers of records, beside which so many others stand that any may be such: ports beside lists of ports. */
function areAmongOthers({ counts }: Reader, list: readonly Target[]): boolean {
  const numbers = list.filter(({ key, evidence }) => key.kind === 'integer' && evidence.reach);
  if (numbers.length === 0) return false;
  const hits = numbers.reduce((sum, { tokens }) => sum + tokens.size, 0);
  const others = counts.tokens.filter(
    (token, at) => counts.kinds[at] === 'integer' && !numbers.some(({ evidence }) => evidence.reach!.includes(token)),
  );
  return others.length >= Math.min(SEVERAL, hits / 2);
}

const isMarked = (name: string) => marksBefore(name) > 0;

/** How many marks stand before a name: 1 for `!office`. */
const marksBefore = (text: string) => /^[!~^@$%&*+=-]{1,2} ?(?=\p{L})/u.exec(text)?.[0].length ?? 0;

/** How often the field has a name that it names a record by, on average. */
function usualTimes(reader: Reader, list: readonly Target[]): number {
  const named = new Set(list.flatMap(({ tokens }) => tokens.list));
  let sum = 0;
  for (const at of named) sum += reader.counts.times[at]!;
  return sum / Math.max(1, named.size);
}

/** A name without a record, as `Dangling` has it. */
type Missing = Pick<Dangling, 'nearest' | 'tier'>;

/**
 * What the records are called that have no other of their kind, and so no key: values that stand alone in their field, by
 * what the field is called.
 */
function loneNames(
  fields: readonly FieldData[],
  targets: readonly (readonly Target[])[],
): ReadonlyMap<string, ReadonlySet<string>> {
  const names = new Map<string, Set<string>>();
  for (const field of fields) {
    if (field.values.length !== 1 || targets[field.index]!.length > 0) continue;
    const name = leafName(field);
    names.set(name, (names.get(name) ?? new Set()).add(field.values[0]!));
  }
  return names;
}

/** So many items of one list are hardly all gone. */
const WHOLE_LIST = 3;

/** Sentences of which many name nothing are remarks, some of which say what records are called. */
function dropRemarks({ counts }: Reader, missing: Map<number, unknown>): void {
  const phrases = [...missing.keys()].filter((at) => kindOf(counts.tokens[at]!) === 'phrase');
  if (phrases.length >= WHOLE_LIST && phrases.length * 3 >= counts.tokens.length)
    for (const at of phrases) missing.delete(at);
}

/** Records that list several names of which none is there, beside others that list known ones: lists of something else. */
function listsOfOthers(
  field: FieldData,
  reader: Reader,
  list: readonly Target[],
  missing: ReadonlyMap<number, unknown>,
): ReadonlySet<number> {
  const counts = new Map<number, number>();
  eachToken(field, reader, (_text, place, _from, token) => {
    const row = field.rows[place]!;
    if (list.some(({ tokens }) => tokens.has(token))) counts.set(row, -Infinity);
    else if (missing.has(token)) counts.set(row, (counts.get(row) ?? 0) + 1);
  });
  return new Set([...counts].filter(([, gone]) => gone >= WHOLE_LIST).map(([row]) => row));
}

/** How often tokens that name nothing stand in fields that name records: by token, over all of these fields. */
function unresolvedCounts({ fields, readers, targets }: LinkSource): Map<string, { times: number; fields: number }> {
  const counts = new Map<string, { times: number; fields: number }>();
  for (const field of fields) {
    const list = targets[field.index]!;
    if (list.length === 0) continue;
    const { tokens, times: places } = readers[field.index]!.counts;
    for (const [at, token] of tokens.entries()) {
      const times = places[at]!;
      if (list.some((target) => target.tokens.has(at))) continue;
      const known = counts.get(token);
      if (known) {
        known.times += times;
        known.fields++;
      } else counts.set(token, { times, fields: 1 });
    }
  }
  return counts;
}

/**
 * True for what comes back: likely a word of the dialect, but for a code made like the keys, and for the name of a record
 * misspelt.
 */
function recurs(
  token: string,
  list: readonly Target[],
  unresolved: ReadonlyMap<string, { times: number; fields: number }>,
  isMeant: IsMeant,
): boolean {
  const { times, fields } = unresolved.get(token) ?? { times: 1, fields: 1 };
  return (times >= 3 || fields >= 2) && !isCode(token, list) && !isMeant(token, times, list);
}

/**
 * A value that should name a record and does not: shaped like one, no device, no word that stands for itself.
 * @param told whether something before or beside it tells of which kind the record is.
 */
function isMissing(
  token: string,
  field: FieldData,
  { keys, devices, portFields }: LinkSource,
  list: readonly Target[],
  told: boolean,
): boolean {
  if (token === '' || (told ? isAny(token) : isBuiltIn(token)) || portFields.has(field.index)) return false;
  if (!told && devices.has(token)) return false;
  if (kindOf(token) === 'integer' && Number(token) === 0) return false;
  // Where each kind counts by itself, any number is the number of something; a name of other records may be meant as such.
  const counted =
    kindOf(token) === 'integer' &&
    list.some(({ key, evidence }) => key.kind === 'integer' && evidence.reach?.apart !== false);
  if ((!counted && !told && isOther(token, field, keys)) || wrapsLiteral(token)) return false;
  return list.some(({ key, odds, evidence }) => {
    if (evidence.reach?.nowhere) return evidence.reach.nowhere.has(token);
    if (odds < 0) return false;
    if (evidence.proof === 'kind') return couldName(token, key.field.values);
    // Records may share names with others of another kind without naming them: two of three are no custom yet.
    const names = evidence.hits + evidence.alikeMisses + evidence.otherMisses;
    const own = (evidence.ownKey && !evidence.unnamed && evidence.habit <= 0) || evidence.ownName || field.tag;
    const shared = own && names > 2 && (evidence.hits < 3 || evidence.hits * 2 <= names);
    if (shared && key.kind !== 'opaque') return false;
    // A number that is none of the keys is only amiss where the field's name says what it numbers.
    if (key.kind === 'integer' && !numbersThem(odds, evidence)) return false;
    if (key.kind === 'integer' && evidence.reach?.includes(token) === false) return false;
    return couldName(token, key.field.values);
  });
}

/** True for a name of other records than those that have the field, which go by a name of their own, or have it as their key. */
function isOther(token: string, field: FieldData, keys: KeyTable): boolean {
  if (!keys.has(token, field)) return false;
  let found = false;
  keys.each(token, (index) => {
    const { vlans, field: own, shape, best } = keys.keys[index]!;
    if (!vlans && own !== field && !(best && shape === field.rowShape)) found = true;
  });
  return found;
}

/** True where a field surely numbers the records, or is called as they are. */
const numbersThem = (odds: number, { name, fit }: Evidence) =>
  odds >= 1.2 ? name >= 0.55 || fit >= 1.2 : odds >= 0.5 && name >= 0.75;

/** True for a number, or a name with digits that one of the keys has in the same places. */
function isCode(token: string, list: readonly Target[]): boolean {
  if (!/\d/.test(token)) return false;
  const form = patternOf(token);
  return list.some(({ key }) => key.field.distinct.slice(0, 100).some((value) => patternOf(value) === form));
}

function describe(
  { structure, collections }: LinkSource,
  field: FieldData,
  list: readonly Target[],
  tier: Tier,
): ReferenceField {
  const top = list[0]!;
  const indices = new Set<number>();
  const evidence: string[] = [];
  let hits = 0;
  for (const { key, evidence: facts, tokens, total } of list) {
    for (const at of (collections.ofShape.get(key.shape) ?? []).slice(0, 20)) indices.add(at);
    hits += tokens.size;
    const name = structure.shapes[key.shape]!.step;
    const holder = structure.shapes[structure.shapes[key.shape]!.above]?.step ?? '';
    append(evidence, wordsFor(facts, Math.max(total, tokens.size), name === '*' ? holder : name));
  }
  // People call a record by its kind: `rule` of `line{rule}`.
  const step = field.rowShape === -1 ? '' : structure.shapes[field.rowShape]!.step.replace(/^.*\{(.+)\}$/, '$1');
  const item = step && `${step}/`;
  return {
    name: `${item.replace('*/', '')}${leafName(field)}`,
    template: field.template,
    targets: [...indices],
    tier,
    hits,
    total: Math.max(hits, top.total),
    evidence,
  };
}
