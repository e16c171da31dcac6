import { largestOf } from '../../lists.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import type { Kind } from '../names/literals.ts';
import type { Given } from '../references/facts.ts';
import { PROVEN } from '../references/score.ts';
import { type Fit, likelier, mayBePrefix, oneOfSeveral, reachOf } from './number-chance.ts';
import { NumberCompany } from './number-company.ts';
import { type Group, groupsOf, NOTHING } from './number-groups.ts';
import { issuedBeside } from './number-issuers.ts';
import { endingsOf, isWord, overlap } from './number-names.ts';
import { COUNT, type Table, tablesOf } from './number-tables.ts';
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
  const widest = groups.reduce((most, { shapes }) => Math.max(most, shapes.size), 3);
  const whole = tables.filter(({ counted }) => counted);
  const company = new NumberCompany(given.fields, given.readers);
  const convention = groups.filter(({ suffixed }) => suffixed).length >= 3;
  const wanted = new Map(tables.map((table) => [table, kindsNaming(table, groups)]));
  const referring = new Map<number, number>();
  for (const { suffixed, fields: of } of groups)
    for (const { rowShape } of suffixed ? of.map((field) => given.fields[field]!) : [])
      referring.set(rowShape, (referring.get(rowShape) ?? 0) + 1);
  const issued = issuedBeside(given);
  const hops = new Set(tables.filter((table) => company.leadsOn(table, tables)));
  const parts = new Set(groups.filter((group) => tables.some((table) => belongs(group, table))));
  const file: File = { given, whole, widest, convention, wanted, company, likeness, referring, issued, hops, parts };
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

/** What is known of the file's numbers as a whole. */
interface File {
  readonly given: Given;
  /** The kinds of record that one count goes through. */
  readonly whole: readonly Table[];
  /** How many kinds of record fields of one name stand in at most. */
  readonly widest: number;
  /** True where names of fields tell that they hold numbers of records. */
  readonly convention: boolean;
  /** How many kinds of record name those of a table by the looks of their fields' names. */
  readonly wanted: ReadonlyMap<Table, number>;
  readonly company: NumberCompany;
  /** By kind of record how many of its fields are called as those that name records: such are seldom named themselves. */
  readonly referring: ReadonlyMap<number, number>;
  readonly likeness: (field: number, key: KeyField) => number;
  readonly issued: (group: Group, table: Table) => boolean;
  /** What routes lead through. */
  readonly hops: ReadonlySet<Table>;
  /** Those that say by their records' name whose parts these are: no ways. */
  readonly parts: ReadonlySet<Group>;
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
/** What a value costs that is none of the records' numbers: one that is a number of others, and one that is gone. */
const ELSEWHERE = 3;
const NOWHERE = 0.6;
/** Larger numbers seldom count records. */
const LARGE = 1000;
/** From here on a field of some numbers surely names records, and what it costs the others that none does. */
const SURE_GROUP = 4;
/** So many fields that each are likely to do so by themselves say the same. */
const LIKELY_GROUP = 1.5;
const LIKELY_GROUPS = 3;
const DOUBT = 2;
/** So much likelier as names of further records, some numbers of a field are. */
const SURE = 3;
/** How many kinds of record name those of the table by the looks of their fields' names. */
function kindsNaming({ names }: Table, groups: readonly Group[]): number {
  return largestOf([
    0,
    ...groups.map(({ suffixed, stem, shapes }) => (suffixed && overlap(stem, names) >= 0.6 ? shapes.size : 0)),
  ]);
}

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

/** What it costs that the records are counted in steps, so that their numbers rather are an order. */
const SPACED = 2;
/** What it is worth that addresses beside the numbers lie in the records' networks. */
const NEAR = 4;
/** What it is worth that nothing but a prefix stands beside the number, as in routes, and that their next hops are what it counts. */
const WAY = 4;
const HOP = 1;
/** What it is worth that the name of their authority stands beside the numbers of certificates. */
const ISSUED = 6;
/** What it is worth that the number mostly is that of a field which names them. */
const AGREED = 2;
const CLAIMED = 2;
/** So much of a field's name is the records' where it is called as they are. */
const CALLED = 0.6;
const INSTEAD = 6;
/** The same where no ending says that a field names records: `from` and `to` may name the same. */
const CLAIMED_BARE = 0.5;

function oddsOf(group: Group, table: Table, file: File): number {
  const { given, whole, widest, convention, wanted, company, likeness, referring, issued, hops, parts } = file;
  const { fields } = given;
  const proofs = group.fields.map((field) => given.proofs.get(field)?.get(table.key.index) ?? 'vlan');
  if (proofs.some((proof) => proof !== 'vlan')) return PROVEN + SURE_GROUP;
  const reach = reachOf(table, whole, table.ports && !group.suffixed);
  const hits: string[] = [];
  let misses = 0;
  let gone = 0;
  let plain = 0;
  let largest = 0;
  for (const value of group.values) {
    if (table.values.has(value)) hits.push(value);
    else if (value === '0') misses += ELSEWHERE;
    else if (!reach.includes(value)) {
      plain++;
      largest = Math.max(largest, Number(value));
    }
    else if (!table.counted || !whole.some(({ values }) => values.has(value))) {
      gone++;
      misses += Number(value) > LARGE && !table.counted ? ELSEWHERE : NOWHERE;
    }
  }
  // Where ports stand, records that list ports are named.
  const ports = table.ports && !group.suffixed && plain > 0 && plain * 2 >= hits.length;
  misses += ports ? 1 : ELSEWHERE * plain;
  // Several others, of which one needs more than a byte and none more than two, are ports.
  const amongPorts = ports && plain > 1 && largest > 0xff && largest <= 0xffff;
  if (hits.length === 0 || gone > hits.length) return -9;
  let name = overlap(group.stem, table.names);
  for (const field of group.fields.slice(0, 8)) name = Math.max(name, likeness(field, table.key));
  // A small number is that of the only record of a kind by chance, unless it is called so, or as numbers of records are.
  const told = name >= 0.6 || (group.suffixed && convention);
  if (table.values.size === 1 && !told && Number(hits[0]) <= COUNT && !belongs(group, table)) return -9;
  // What joins a device with a number of as many records joins it with the logical networks.
  if (group.joins && table.network && misses === 0)
    return 2 + (5 * hits.length) / table.values.size + 0.1 * table.width + 0.4 * Math.min(5, wanted.get(table)!);
  const near = gone <= Math.max(1, group.values.size * 0.25) && company.sharesNetworks(group, table);
  // Where numbers of records end alike, what does not is another number, unless it is called as they are.
  if (convention && !group.suffixed && !near && name < 0.4) return -9;
  if (!group.suffixed && !near && name < (isFlag(group, fields) ? 0.95 : 0.6) && areSwitches(group)) return -9;
  const itself = group.fields.some((field) => fields[field]!.rowShape === table.key.shape);
  // VLANs are what ports and networks have; elsewhere the same number is an order or a weight.
  const lengths = group.lengths && [...group.values].every(mayBePrefix);
  if (table.vlans && (!group.seated || lengths) && name < 0.6) return -9;
  if (group.tags && !table.vlans && !table.device && name < 0.6) return -9;
  const addresses = group.beside.has('address');
  return (
    -3.9 +
    5 * name +
    (group.suffixed ? 2.3 : 0) +
    (near ? NEAR : 0) +
    (issued(group, table) ? ISSUED : 0) +
    likelier(hits, table.order, amongPorts) +
    (addresses ? (table.literals.has('address') ? 2.5 : table.network ? 1.5 : -1) : 0) +
    (ports ? 2.5 : 0) +
    (group.beside.has('name') ? 1 : 0) +
    Math.min(1.5, 0.4 * (group.shapes.size - 1)) +
    Math.min(1.5, 0.4 * Math.log2(1 + hits.length)) -
    misses -
    (table.spaced && !table.vlans && name < 0.5 ? SPACED : 0) +
    (table.called ? 0.8 : 0) +
    (table.device ? (group.seats ? 2.5 : -1.6) : 0) +
    ([...group.instead].some((kind) => table.literals.has(kind)) ? 1.5 : 0) +
    (table.network && group.shapes.size === widest ? 1 : 0) +
    (belongs(group, table) ? 2.2 : 0) +
    (group.ways && table.network && !parts.has(group) ? WAY + (hops.has(table) ? HOP : 0) : 0) -
    (table.network ? 0 : Math.min(1.5, 0.5 * (referring.get(table.key.shape) ?? 0))) -
    (itself ? 0.6 : 0)
  );
}

const areSwitches = ({ values }: Group) => [...values].every((value) => Number(value) < 2);

/** Records that one number stands in, before it is rather a switch. */
const FLAGS = 5;

/** True where one number stands in many records: a switch that is on, whose name may sound like anything. */
const isFlag = ({ values, fields: of }: Group, fields: readonly FieldData[]) =>
  values.size === 1 && of.reduce((sum, field) => sum + fields[field]!.values.length, 0) >= FLAGS;

/**
 * True where a field of the name is the first number of records that belong to those of the table by its name: `group_id`
 * in `group_members` names records of `groups`, `crew_no` in `grp_host`, which lists a `host` each, those of `grps`.
 */
function belongs({ firsts }: Group, { names, key }: Table): boolean {
  const name = names[names.length - 1];
  if (name === undefined) return false;
  return firsts.some(({ shape, holder, whose }) => {
    if (shape === key.shape) return false;
    if (whose !== null && whose.length > 1 && name.startsWith(whose)) return true;
    let common = 0;
    while (common < name.length && name[common] === holder[common]) common++;
    return common >= 4 && common >= Math.max(name.length, holder.length) * 0.4 && holder.length > common;
  });
}
