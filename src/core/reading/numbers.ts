import type { Given } from './facts.ts';
import type { KeyField } from './keys.ts';
import type { Kind } from './literals.ts';
import { NumberCompany } from './number-company.ts';
import { type Group, groupsOf, NOTHING } from './number-groups.ts';
import { endingsOf, overlap } from './number-names.ts';
import { type Table, tablesOf } from './number-tables.ts';

/** Log-odds by field and key, where the names of fields and records do not decide. */
export type NumberFit = ReadonlyMap<number, ReadonlyMap<number, number>>;

/**
 * Which kind of record numbers name, weighed for all fields of one name together: they all exist there, they use most of
 * it, the field's name has the records' name in it or ends as their key does, no other field fits as well. Each kind is
 * mostly named by fields of one name, so what is sure is taken first and makes the kind unlikelier for others.
 */
export function numberFit(
  given: Given,
  likeness: (field: number, key: KeyField) => number,
  literalsOf: (key: KeyField) => ReadonlySet<Kind>,
): NumberFit {
  const fit = new Map<number, ReadonlyMap<number, number>>();
  const endings = endingsOf(given);
  const tables = tablesOf(given, endings, literalsOf);
  if (tables.length === 0 || tables.length > MOST) return fit;
  const groups = groupsOf(given, tables, endings, MOST, fit);
  if (groups.length > MOST) return fit;
  const widest = groups.reduce((most, { shapes }) => Math.max(most, shapes.size), 3);
  const apart = areApart(tables);
  const company = new NumberCompany(given.fields);
  const wanted = new Map(tables.map((table) => [table, kindsNaming(table, groups)]));
  const open = new Map<Group, Pair[]>();
  const rest = new Set<Group>();
  for (const group of groups) {
    const own = tables
      .map((table) => ({
        table,
        odds: oddsOf(group, table, tables, apart, widest, given, likeness, company, wanted.get(table)!),
      }))
      .filter(({ odds }) => odds > -1)
      .sort((a, b) => b.odds - a.odds)
      .slice(0, 8);
    if (own.length > 0) open.set(group, own);
    else rest.add(group);
    if (own.length > 0) continue;
    // Where numbers of records end alike, what does not is another number.
    if (!group.suffixed && endings.length > 0) for (const field of group.fields) fit.set(field, NOTHING);
  }
  const claimed = new Set<Table>();
  while (open.size > 0) {
    let surest: { group: Group; table: Table; odds: number; lead: number } | null = null;
    for (const [group, pairs] of open) {
      const { table, odds, lead } = bestOf(pairs, claimed);
      if (!surest || Math.min(3, odds) + lead > Math.min(3, surest.odds) + surest.lead)
        surest = { group, table, odds, lead };
    }
    const { group, table, odds, lead } = surest!;
    open.delete(group);
    if (lead < 0.4) continue;
    if (odds > 0) claimed.add(table);
    const sure = Math.min(3, odds + Math.min(0.5, lead - 0.5));
    for (const field of group.fields) fit.set(field, new Map([[table.key.index, sure]]));
    if (odds <= 0) continue;
    for (const other of rest) {
      if (!mostlyIn(other, table) || !company.agree(other, group)) continue;
      rest.delete(other);
      for (const field of other.fields) fit.set(field, new Map([[table.key.index, Math.min(2, sure)]]));
    }
  }
  return fit;
}

interface Pair {
  readonly table: Table;
  readonly odds: number;
}

/** The likeliest kind of record, and by how much it is likelier than the next. */
function bestOf(pairs: readonly Pair[], claimed: ReadonlySet<Table>): Pair & { readonly lead: number } {
  let best: Pair | null = null;
  let next = -Infinity;
  for (const { table, odds: plain } of pairs) {
    const odds = plain - (claimed.has(table) ? CLAIMED : 0);
    if (!best || odds > best.odds) {
      next = best?.odds ?? next;
      best = { table, odds };
    } else if (odds > next) next = odds;
  }
  return { ...best!, lead: Math.min(2, best!.odds - next) };
}

/** With more kinds of record or more names of fields the comparison would cost more than it tells. */
const MOST = 400;
/** What a value costs that is none of the records' numbers: one that is a number of others, and one that is gone. */
const ELSEWHERE = 3;
const NOWHERE = 0.6;
/**
 * Of so many records so many are named, which is likelier the fewer there are; less than chance says, as a few are named
 * most.
 */
const SIZE = 0.35;
/** How many kinds of record name those of the table by the looks of their fields' names. */
function kindsNaming({ names }: Table, groups: readonly Group[]): number {
  return Math.max(
    0,
    ...groups.map(({ suffixed, stem, shapes }) => (suffixed && overlap(stem, names) >= 0.6 ? shapes.size : 0)),
  );
}

/** True where nearly all numbers of the group are those of the table. */
function mostlyIn({ values }: Group, table: Table): boolean {
  let hits = 0;
  for (const value of values) if (table.values.has(value)) hits++;
  return hits >= values.size * 0.8;
}

/** True where no two kinds of record share a number: one count goes through all of them. */
function areApart(tables: readonly Table[]): boolean {
  const all = new Set<string>();
  let sum = 0;
  for (const { values } of tables) {
    sum += values.size;
    for (const value of values) all.add(value);
  }
  return tables.length >= 3 && sum >= 12 && all.size === sum;
}

/** Up to here numbers are counts, choices and lengths of prefixes. */
const COMMON = 32;
/** What it is worth that numbers are those of one kind of record only. */
const PROPER = 4;
/** What it is worth that addresses beside the numbers lie in the records' networks. */
const NEAR = 4;
/** What it costs that fields of another name were found to name the records. */
const CLAIMED = 2;

function oddsOf(
  group: Group,
  table: Table,
  tables: readonly Table[],
  apart: boolean,
  widest: number,
  { fields }: Given,
  likeness: (field: number, key: KeyField) => number,
  company: NumberCompany,
  wanted: number,
): number {
  let hits = 0;
  let misses = 0;
  let own = 0;
  for (const value of group.values) {
    if (table.values.has(value)) {
      hits++;
      if (Number(value) > COMMON && !tables.some((other) => other !== table && other.values.has(value))) own++;
    } else misses += tables.some(({ values }) => values.has(value)) ? ELSEWHERE : NOWHERE;
  }
  if (hits * 2 < group.values.size) return -9;
  let name = overlap(group.stem, table.names);
  for (const field of group.fields.slice(0, 8)) name = Math.max(name, likeness(field, table.key));
  // What joins a device with a number of as many records joins it with the logical networks.
  if (group.joins && table.network && misses === 0)
    return 2 + (5 * hits) / table.values.size + 0.1 * table.width + 0.4 * Math.min(5, wanted);
  // Numbers that no other records have, and that are no counts from 1, are not met by chance again and again.
  const proper =
    own >= (apart ? 2 : 3) && own >= hits * 0.8 && misses <= NOWHERE * Math.max(1, group.values.size * 0.25);
  const near =
    table.network && misses <= NOWHERE * Math.max(1, group.values.size * 0.25) && company.sharesNetworks(group, table);
  const itself = group.fields.some((field) => fields[field]!.rowShape === table.key.shape);
  if (!group.suffixed && !proper && !near) {
    // A few small numbers are more often a choice, an order, or yes and no.
    const plain = [...group.values].every((value) => value.length === 1 && value < '2');
    if (name < (plain ? 0.6 : 0.4)) return -9;
  }
  const size = SIZE * Math.min(12, hits) * Math.log(Math.max(12, hits) / table.values.size);
  return (
    -3.9 +
    5 * name +
    (group.suffixed ? 2.3 : 0) +
    (proper ? PROPER : 0) +
    (near ? NEAR : 0) +
    Math.min(1.5, 0.4 * (group.shapes.size - 1)) +
    Math.min(1.5, 0.4 * Math.log2(1 + hits)) +
    (proper ? Math.max(0, size) : size) -
    misses +
    (table.called ? 0.8 : 0) +
    (table.device ? (group.seats ? 2.5 : -0.8) : 0) +
    ([...group.instead].some((kind) => table.literals.has(kind)) ? 1.5 : 0) +
    (table.network && group.shapes.size === widest ? 1 : 0) +
    (belongs(group, table) ? 2.2 : 0) -
    (itself ? 0.6 : 0)
  );
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
