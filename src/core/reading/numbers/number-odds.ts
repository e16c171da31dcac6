import { largestOf } from '../../lists.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import type { Given } from '../references/facts.ts';
import { PROVEN } from '../references/score.ts';
import { likelier, mayBePrefix, reachOf } from './number-chance.ts';
import { NumberCompany } from './number-company.ts';
import type { Group } from './number-groups.ts';
import { issuedBeside } from './number-issuers.ts';
import { overlap } from './number-names.ts';
import { COUNT, type Table } from './number-tables.ts';

/** What is known of the file's numbers as a whole. */
export interface File {
  readonly given: Given;
  readonly tables: readonly Table[];
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

/** Takes together what the odds of all groups and kinds of record hang on. */
export function fileOf(
  given: Given,
  groups: readonly Group[],
  tables: readonly Table[],
  likeness: (field: number, key: KeyField) => number,
): File {
  const referring = new Map<number, number>();
  for (const { suffixed, fields: of } of groups)
    for (const { rowShape } of suffixed ? of.map((field) => given.fields[field]!) : [])
      referring.set(rowShape, (referring.get(rowShape) ?? 0) + 1);
  const company = new NumberCompany(given.fields, given.readers);
  return {
    given,
    tables,
    whole: tables.filter(({ counted }) => counted),
    widest: groups.reduce((most, { shapes }) => Math.max(most, shapes.size), 3),
    convention: groups.filter(({ suffixed }) => suffixed).length >= 3,
    wanted: new Map(tables.map((table) => [table, kindsNaming(table, groups)])),
    company,
    likeness,
    referring,
    issued: issuedBeside(given),
    hops: new Set(tables.filter((table) => company.leadsOn(table, tables))),
    parts: new Set(groups.filter((group) => tables.some((table) => belongs(group, table)))),
  };
}

/** How many kinds of record name those of the table by the looks of their fields' names. */
function kindsNaming({ names }: Table, groups: readonly Group[]): number {
  return largestOf([
    0,
    ...groups.map(({ suffixed, stem, shapes }) => (suffixed && overlap(stem, names) >= 0.6 ? shapes.size : 0)),
  ]);
}

/** What a value costs that is none of the records' numbers: one that is a number of others, and one that is gone. */
const ELSEWHERE = 3;
const NOWHERE = 0.6;
/** Larger numbers seldom count records. */
const LARGE = 1000;
/** What a proof is worth beyond all that is weighed. */
const SURE_PROOF = 4;
/** What it costs that the records are counted in steps, so that their numbers rather are an order. */
const SPACED = 2;
/** What it is worth that addresses beside the numbers lie in the records' networks. */
const NEAR = 4;
/** What it is worth that nothing but a prefix stands beside the number, as in routes, and that their next hops are what it counts. */
const WAY = 4;
const HOP = 1;
/** What it is worth that the name of their authority stands beside the numbers of certificates. */
const ISSUED = 6;
/** Log-odds that the numbers of fields of one name are those of a kind of record. */
export function oddsOf(group: Group, table: Table, file: File): number {
  const { given, whole, widest, convention, wanted, company, likeness, referring, issued, hops, parts, tables } = file;
  const { fields } = given;
  const proofs = group.fields.map((field) => given.proofs.get(field)?.get(table.key.index) ?? 'vlan');
  if (proofs.some((proof) => proof !== 'vlan')) return PROVEN + SURE_PROOF;
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
    } else if (!table.counted || !whole.some(({ values }) => values.has(value))) {
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
  const near = gone <= Math.max(1, group.values.size * 0.25) && company.sharesNetworks(group, table, tables);
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

export const areSwitches = ({ values }: Group) => [...values].every((value) => Number(value) < 2);

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
