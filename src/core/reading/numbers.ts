import type { Given } from './facts.ts';
import { leafName } from './fields.ts';
import type { KeyField } from './keys.ts';
import { kindOf } from './literals.ts';
import { wordsOf } from './words.ts';

/** What is known of fields of one name that hold numbers, wherever they stand. */
interface Group {
  readonly fields: number[];
  readonly shapes: Set<number>;
  readonly values: Set<string>;
  /** Ends in the name that numbers of records have in this file: `role_id` where the keys are called `id`. */
  readonly suffixed: boolean;
  /** The name as letters alone, without that ending. */
  readonly stem: string;
  /** Of those fields that are the first number of their record, but for its own: the records' shape and what holds them. */
  readonly firsts: { readonly shape: number; readonly holder: string }[];
  /** True where they tell their own records apart. */
  distinct: boolean;
}

/** Kinds of record that numbers may name. */
interface Table {
  readonly key: KeyField;
  readonly values: ReadonlySet<string>;
  readonly names: readonly string[];
  /** The records have a name beside the number. */
  readonly called: boolean;
  /** They are devices, which few fields name by a number. */
  readonly device: boolean;
  /** They have an address and one name each: the logical networks, which most others name. */
  readonly network: boolean;
}

/** Log-odds by field and key, where the names of fields and records do not decide. */
export type NumberFit = ReadonlyMap<number, ReadonlyMap<number, number>>;
const NOTHING: ReadonlyMap<number, number> = new Map();

/**
 * Which kind of record numbers name, weighed for all fields of one name together: they all exist there, they use most of
 * it, the field's name has the records' name in it or ends as their key does, no other field fits as well. Each kind is
 * mostly named by fields of one name, so what is sure is taken first and makes the kind unlikelier for others.
 */
export function numberFit(given: Given, likeness: (field: number, key: KeyField) => number): NumberFit {
  const fit = new Map<number, ReadonlyMap<number, number>>();
  const endings = endingsOf(given);
  const tables = tablesOf(given, endings);
  if (tables.length === 0 || tables.length > MOST) return fit;
  const groups = groupsOf(given, tables, endings, fit);
  if (groups.length > MOST) return fit;
  interface Pair {
    readonly group: Group;
    readonly table: Table;
    readonly odds: number;
  }
  const pairs: Pair[] = [];
  const ofGroup = new Map<Group, Pair[]>();
  for (const group of groups) {
    const own = tables
      .map((table) => ({ group, table, odds: oddsOf(group, table, given, likeness) }))
      .filter(({ odds }) => odds > -1)
      .sort((a, b) => b.odds - a.odds)
      .slice(0, 8);
    ofGroup.set(group, own);
    pairs.push(...own);
  }
  pairs.sort((a, b) => b.odds - a.odds);
  const settled = new Set<Group>();
  const claimed = new Map<Table, Group>();
  for (const pair of pairs) {
    const { group, table } = pair;
    if (settled.has(group)) continue;
    const taken = claimed.has(table) ? CLAIMED : 0;
    // The next best kind that is not taken, and how much worse it is.
    const rival = ofGroup.get(group)!.find((other) => other !== pair && !claimed.has(other.table));
    const lead = rival ? pair.odds - taken - rival.odds : 2;
    if (taken > 0 && lead < 0) continue;
    settled.add(group);
    if (lead < 0.4) continue;
    claimed.set(table, group);
    const odds = Math.min(3, pair.odds - taken + Math.min(0.5, lead - 0.5));
    for (const field of group.fields) fit.set(field, new Map([[table.key.index, odds]]));
  }
  return fit;
}

/** With more kinds of record or more names of fields the comparison would cost more than it tells. */
const MOST = 400;
/** What it costs that fields of another name were found to name the records. */
const CLAIMED = 1.5;

function oddsOf(
  group: Group,
  table: Table,
  { fields }: Given,
  likeness: (field: number, key: KeyField) => number,
): number {
  let hits = 0;
  for (const value of group.values) if (table.values.has(value)) hits++;
  const share = hits / group.values.size;
  if (share < 0.5) return -9;
  let name = overlap(group.stem, table.names);
  for (const field of group.fields.slice(0, 8)) name = Math.max(name, likeness(field, table.key));
  const own = group.fields.some((field) => fields[field]!.rowShape === table.key.shape);
  if (
    !group.suffixed &&
    name < 0.4 &&
    (group.distinct || [...group.values].every((value) => value.length === 1 && value < '2'))
  )
    return -9;
  const size = table.values.size;
  const used = hits / size;
  return (
    -3.9 +
    5 * name +
    (group.suffixed ? 2.3 : 0) +
    Math.min(1.5, 0.4 * (group.shapes.size - 1)) +
    2 * used * Math.min(1, size / 6) +
    Math.min(1.5, 0.4 * Math.log2(1 + hits)) +
    0.9 * (hits - group.values.size) +
    (table.called ? 0.8 : 0) -
    (table.device ? 0.8 : 0) +
    (table.network && group.shapes.size >= 4 ? 0.6 : 0) +
    (belongs(group, table) ? 2.2 : 0) -
    (own ? 0.6 : 0)
  );
}

/**
 * What people call an identifier here, as plain letters: the name that keys of several kinds of record have, or the last
 * word of many fields that hold numbers.
 */
function endingsOf({ keys, fields, readers }: Given): string[] {
  const counts = new Map<string, number>();
  for (const { kind, field } of keys.keys) {
    if (kind !== 'integer' || field.tag) continue;
    const name = letters(leafName(field));
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  const endings = [...counts].filter(([name, count]) => count >= 3 && name.length >= 2).map(([name]) => name);
  if (endings.length > 0) return endings;
  const names = new Set<string>();
  const before = new Map<string, Set<string>>();
  for (const field of fields) {
    const { tokens, kinds } = readers[field.index]!.counts;
    if (field.tag || tokens.length === 0 || kinds.some((kind) => kind !== 'integer')) continue;
    names.add(letters(leafName(field)));
    const words = wordsOf(leafName(field));
    const last = words.pop();
    if (last === undefined || last.length < 2 || words.length === 0) continue;
    const heads = before.get(last) ?? new Set();
    before.set(last, heads.add(words.join(' ')));
  }
  const words = [...before].filter(([, heads]) => heads.size >= 5).map(([last]) => last);
  if (words.length > 0) return words;
  const common = commonEnding(names);
  return common === null ? [] : [common];
}

/** The letters that at least five of the names end in, where nothing in a name tells where its last word begins. */
function commonEnding(names: ReadonlySet<string>): string | null {
  let best: string | null = null;
  let most = 5;
  for (let length = 2; length <= 6; length++) {
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

/**
 * True where a field of the name is the first number of records that belong to those of the table by its name: `group_id`
 * in `group_members` names records of `groups`.
 */
function belongs({ firsts }: Group, { names, key }: Table): boolean {
  const name = names[names.length - 1];
  if (name === undefined) return false;
  return firsts.some(({ shape, holder }) => {
    if (shape === key.shape) return false;
    let common = 0;
    while (common < name.length && name[common] === holder[common]) common++;
    return common >= 4 && common >= Math.max(name.length, holder.length) * 0.4 && holder.length > common;
  });
}

/** Kinds of record that go by numbers, the best key of each. */
function tablesOf({ keys, structure, devices, fields }: Given, endings: readonly string[]): Table[] {
  const called = new Set<number>();
  for (const key of keys.keys) if (key.kind === 'name' || key.kind === 'phrase') called.add(key.shape);
  const addressed = new Set<number>();
  for (const { rowShape, distinct, several } of fields)
    if (!several && distinct.slice(0, 10).every((value) => kindOf(value) === 'address')) addressed.add(rowShape);
  const named = keys.keys.some(({ kind, field }) => kind === 'integer' && endings.includes(letters(leafName(field))));
  return keys.keys.flatMap((key): Table[] => {
    const { kind, field, best, bestOfKind } = key;
    if (kind !== 'integer') return [];
    const shape = structure.shapes[key.shape]!;
    const steps = [shape.step, shape.above === -1 ? '' : structure.shapes[shape.above]!.step];
    const names = steps.map(letters).filter((name) => name.length > 1);
    const name = letters(leafName(field));
    // Called as identifiers are; or by that and the records' own name, as `role_no` is.
    const ending = endings.find((one) => name.length > one.length && name.endsWith(one));
    const own = ending !== undefined && bestOfKind && overlap(name.slice(0, name.length - ending.length), names) >= 0.5;
    if (!field.tag && !endings.includes(name) && !own && (named || !best)) return [];
    return [
      {
        key,
        values: new Set(field.distinct),
        names,
        called: called.has(key.shape),
        network: called.has(key.shape) && addressed.has(key.shape),
        device: devices.derivations.some((derivation) => derivation.shape === key.shape),
      },
    ];
  });
}

function groupsOf(
  { fields, readers, keys, leaf, structure }: Given,
  tables: readonly Table[],
  endings: readonly string[],
  fit: Map<number, ReadonlyMap<number, number>>,
): Group[] {
  const own = new Set(tables.map(({ key }) => key.field.index));
  const unique = new Set(keys.keys.filter(({ rows }) => rows >= 3).map(({ field }) => field.index));
  const groups = new Map<string, Group>();
  const sources: { index: number; name: string; stem: string; suffixed: boolean }[] = [];
  for (const field of fields) {
    if (field.tag || field.virtual) continue;
    if (own.has(field.index)) {
      if (endings.includes(letters(leafName(field)))) fit.set(field.index, NOTHING);
      continue;
    }
    const { counts: tokens } = readers[field.index]!;
    const numbers = tokens.kinds.reduce((sum, kind) => sum + (kind === 'integer' ? 1 : 0), 0);
    if (numbers === 0 || numbers < tokens.size) continue;
    const name = letters(leafName(field));
    if (endings.includes(name)) {
      // The number of a record itself names no other.
      fit.set(field.index, NOTHING);
      continue;
    }
    const ending = endings.find((one) => name.length > one.length + 1 && name.endsWith(one));
    const stem = ending ? name.slice(0, name.length - ending.length) : name;
    sources.push({ index: field.index, name: leaf[field.index]!, stem, suffixed: ending !== undefined });
  }
  const { baseOf } = new Bases(sources.filter(({ suffixed }) => suffixed).map(({ stem }) => stem));
  const begun = new Set<number>();
  for (const { index, name, stem, suffixed } of sources) {
    const id = suffixed ? `*${baseOf(stem)}` : name;
    let group = groups.get(id);
    if (!group) {
      group = {
        fields: [],
        shapes: new Set(),
        values: new Set(),
        suffixed,
        stem: suffixed ? baseOf(stem) : stem,
        firsts: [],
        distinct: true,
      };
      groups.set(id, group);
    }
    group.fields.push(index);
    const shape = fields[index]!.rowShape;
    if (suffixed && shape !== -1 && !begun.has(shape)) {
      begun.add(shape);
      const { above } = structure.shapes[shape]!;
      const holder = above === -1 ? '' : letters(structure.shapes[above]!.step);
      group.firsts.push({ shape, holder });
    }
    group.shapes.add(fields[index]!.rowShape);
    if (!unique.has(index)) group.distinct = false;
    for (const token of readers[index]!.counts.tokens) group.values.add(token);
  }
  return [...groups.values()].filter(({ values }) => values.size > 0);
}

/**
 * Names less a beginning that says in what part the record is named: `source_role_id`, where `role_id` is a name too and
 * `source` stands before other names as well.
 */
class Bases {
  private readonly stems: readonly string[];
  private readonly heads = new Map<string, number>();

  constructor(stems: readonly string[]) {
    this.stems = [...new Set(stems)]
      .filter((stem) => stem.length >= 3)
      .sort((a, b) => a.length - b.length)
      .slice(0, MOST);
    for (const stem of this.stems) {
      for (const base of this.stems) {
        if (base === stem || !stem.endsWith(base)) continue;
        const head = stem.slice(0, stem.length - base.length);
        this.heads.set(head, (this.heads.get(head) ?? 0) + 1);
      }
    }
  }

  readonly baseOf = (stem: string): string =>
    this.stems.find(
      (base) => base !== stem && stem.endsWith(base) && this.heads.get(stem.slice(0, stem.length - base.length))! >= 2,
    ) ?? stem;
}

/** How much of a field's name, at its end, is the beginning of a record's name: 0 to 1. */
function overlap(stem: string, names: readonly string[]): number {
  let best = 0;
  for (const name of names) {
    if (stem.length >= 3 && name.endsWith(stem)) best = Math.max(best, (1 + stem.length / name.length) / 2);
    for (let length = Math.min(stem.length, name.length); length >= 3; length--) {
      if (!name.startsWith(stem.slice(stem.length - length))) continue;
      best = Math.max(best, Math.min(1, (length / stem.length + length / name.length) / 2 + 0.1));
      break;
    }
  }
  return best;
}

/** A name as plain letters and digits. */
function letters(name: string): string {
  return name
    .toLowerCase()
    .replace(/^.*[[{](.*)[\]}]$/, '$1')
    .replace(/^.*:/, '')
    .replace(/[^\p{L}\p{M}\p{N}]/gu, '');
}
