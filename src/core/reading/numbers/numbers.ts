import { fieldsByShape } from '../fields/by-shape.ts';
import type { KeyField } from '../keys/key-table.ts';
import type { Kind } from '../names/literals.ts';
import type { Given } from '../references/facts.ts';
import { type Fit, likelier, oneOfSeveral, reachOf } from './number-chance.ts';
import { type Group, groupsOf, NOTHING } from './number-groups.ts';
import { endingsOf, isWord, overlap } from './number-names.ts';
import { areSwitches, fileOf, oddsOf } from './number-odds.ts';
import { type Table, tablesOf } from './number-tables.ts';
import { pairedFields } from './paired-numbers.ts';

/** Log-odds by field and key, where the names of fields and records do not decide. */
export type NumberFit = ReadonlyMap<number, ReadonlyMap<number, Fit>>;

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
  const fit = new Map<number, ReadonlyMap<number, Fit>>();
  const endings = endingsOf(given);
  const tables = tablesOf(given, endings, literalsOf);
  if (tables.length === 0 || tables.length > MOST) return fit;
  const groups = groupsOf(given, tables, endings, MOST, fit);
  if (groups.length > MOST) return fit;
  const file = fileOf(given, groups, tables, likeness);
  const { whole, convention, company } = file;
  const open = new Map<Group, Pair[]>();
  const rest = new Set<Group>();
  const paired = pairedFields(fieldsByShape(given.fields));
  for (const group of groups) {
    if (group.fields.some((field) => paired.has(field))) {
      for (const field of group.fields) fit.set(field, NOTHING);
      continue;
    }
    const own = tables
      .map((table) => ({
        table,
        odds: oddsOf(group, table, file),
      }))
      .filter(({ odds }) => odds > (group.suffixed && convention ? -4 : -1))
      .sort((a, b) => b.odds - a.odds)
      .slice(0, 8);
    if (own.length > 0) open.set(group, own);
    else rest.add(group);
    if (own.length > 0) continue;
    // Where numbers of records end alike, what does not is another number.
    if (!group.suffixed && endings.length > 0) for (const field of group.fields) fit.set(field, NOTHING);
  }
  const fitOf = ({ values, suffixed }: Group, table: Table, odds: number): Fit => {
    const ports = table.ports && !suffixed && standBesidePorts(values, table, whole);
    return { odds, reach: reachOf(table, whole, ports) };
  };
  const say = (group: Group, table: Table, odds: number, made = fitOf(group, table, odds)) => {
    for (const field of group.fields) fit.set(field, new Map([...(fit.get(field) ?? []), [table.key.index, made]]));
  };
  // Where no field surely names records by numbers, a few small ones do not either.
  const doubt =
    whole.length > 0 ||
    [...open].some(([{ values }, [best]]) => values.size >= 3 && best!.odds >= SURE_GROUP) ||
    [...open].filter(([, [best]]) => best!.odds >= LIKELY_GROUP).length >= LIKELY_GROUPS
      ? 0
      : DOUBT;
  const claims = new Map<Table, Group[]>();
  while (open.size > 0) {
    let surest: { group: Group; table: Table; odds: number; lead: number } | null = null;
    for (const [group, pairs] of open) {
      const { table, odds: plain, lead } = bestOf(pairs, (table) => costOf(group, table, claims.get(table) ?? []));
      const odds = plain - (group.suffixed ? 0 : doubt);
      if (!surest || Math.min(3, odds) + lead > Math.min(3, surest.odds) + surest.lead)
        surest = { group, table, odds, lead };
    }
    const { group, table, odds, lead } = surest!;
    const pairs = open.get(group)!;
    open.delete(group);
    if (lead < 0.4 && group.suffixed) {
      const several = oneOfSeveral(group.values, pairs);
      for (const pair of pairs) say(group, pair.table, several.odds, several);
    }
    if (lead < 0.4 || (odds <= 0 && !group.suffixed)) continue;
    // Of one count each number is that of one record, whoever else names those.
    if (odds > 0 && !table.counted) claims.set(table, [...(claims.get(table) ?? []), group]);
    const sure = Math.min(
      3,
      Math.max(odds, group.suffixed && convention ? lead - 0.5 : -9) + Math.min(0.5, lead - 0.5),
    );
    say(group, table, sure);
    if (odds <= 0) continue;
    // Where all that is left are numbers of the same count, they are of its other records.
    const known = [...group.values].every((value) => whole.some(({ values }) => values.has(value)));
    for (const other of table.counted ? whole : []) {
      const shared = other === table ? [] : [...group.values].filter((value) => other.values.has(value));
      if (shared.length > 0 && (known || likelier(shared, other.order) >= SURE)) say(group, other, 1.5);
    }
    // What mostly is the same number in the same records names the same.
    for (const [other, pairs] of open) {
      const known = pairs.find((pair) => pair.table === table)?.odds;
      const aside = areSides(other, group) && mostlyIn(other, table, HALF) ? Math.max(0, known ?? 0) : null;
      const from = aside ?? (company.agree(other, group) ? known : undefined);
      if (from === undefined) continue;
      const others = pairs.filter((pair) => pair.table !== table);
      open.set(other, [...others, { table, odds: from + AGREED }]);
    }
    for (const other of rest) {
      const fits = mostlyIn(other, table) && (company.agree(other, group) || isCalledAs(other, group));
      if (!fits && !(areSides(other, group) && mostlyIn(other, table, HALF))) continue;
      rest.delete(other);
      say(other, table, Math.min(2, sure));
    }
  }
  return fit;
}

/** True where so many numbers are none of the records', that they rather are ports. */
function standBesidePorts(values: ReadonlySet<string>, table: Table, whole: readonly Table[]): boolean {
  const reach = reachOf(table, whole, true);
  const plain = [...values].filter((value) => !reach.includes(value)).length;
  return plain > 0 && plain * 2 >= values.size - plain;
}

interface Pair {
  readonly table: Table;
  readonly odds: number;
}

/** The likeliest kind of record, and by how much it is likelier than the next. */
function bestOf(pairs: readonly Pair[], cost: (table: Table) => number): Pair & { readonly lead: number } {
  const all = pairs.map(({ table, odds }) => ({ table, odds: odds - cost(table) }));
  const best = all.reduce((a, b) => (b.odds > a.odds ? b : a));
  // Of one count each number is that of one record: its kinds are no rivals.
  const rivals = all.filter((one) => one !== best && !(one.table.counted && best.table.counted));
  const next = rivals.reduce((most, { odds }) => Math.max(most, odds), -Infinity);
  return { ...best, lead: Math.min(2, best.odds - next) };
}

/** What it costs that fields of other names were found to name the records. */
function costOf(group: Group, { names }: Table, claimers: readonly Group[]): number {
  // Where networks have one number or the other, each is of another kind.
  const isInstead = (other: Group) =>
    group.seats && other.seats && [...other.shapes].some((at) => group.shapes.has(at));
  if (claimers.some(isInstead)) return INSTEAD;
  // Several fields may have the records' name in theirs.
  if (group.suffixed && overlap(group.stem, names) >= CALLED) return 0;
  // A part of the file that has words of its own names the same records by other names.
  const isClaimed = claimers.some(({ ending }) => ending === group.ending);
  return isClaimed ? (group.suffixed ? CLAIMED : CLAIMED_BARE) : 0;
}

/** With more kinds of record or more names of fields the comparison would cost more than it tells. */
const MOST = 400;
/** From here on a field of some numbers surely names records, and what it costs the others that none does. */
const SURE_GROUP = 4;
/** So many fields that each are likely to do so by themselves say the same. */
const LIKELY_GROUP = 1.5;
const LIKELY_GROUPS = 3;
const DOUBT = 2;
/** So much likelier as names of further records, some numbers of a field are. */
const SURE = 3;
/** True where nearly all numbers of the group are those of the table. */
function mostlyIn({ values }: Group, table: Table, share = 0.8): boolean {
  let hits = 0;
  for (const value of values) if (table.values.has(value)) hits++;
  return hits >= values.size * share;
}

/** Where a field's twin is sure, so much is enough. */
const HALF = 0.5;

/** True for two fields of one record that have addresses beside the numbers, as both sides of a rule have: they name the same. */
const areSides = (one: Group, other: Group) =>
  one.beside.has('address') && other.beside.has('address') && [...one.shapes].some((shape) => other.shapes.has(shape));

/** True for numbers, more than a switch, that are called as those of the group less their ending: `built_from_host` and `host_id`. */
const isCalledAs = (other: Group, { suffixed, stem }: Group) =>
  suffixed && other.stem.endsWith(stem) && isWord(stem) && other.values.size > 1 && !areSwitches(other);

/** What it is worth that the number mostly is that of a field which names them. */
const AGREED = 2;
const CLAIMED = 2;
/** So much of a field's name is the records' where it is called as they are. */
const CALLED = 0.6;
const INSTEAD = 6;
/** The same where no ending says that a field names records: `from` and `to` may name the same. */
const CLAIMED_BARE = 0.5;
