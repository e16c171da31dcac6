import { append } from '../../lists.ts';
import type { FieldData } from '../../reading/fields/fields.ts';
import type { Reading } from '../../reading/reading.ts';
import { switchedOff } from '../facts/enabled.ts';
import { linksByRow } from '../facts/links.ts';
import { byReferences, once } from '../facts/once.ts';
import { type Column, rowsByElement, type Table, tablesOf } from '../facts/tables.ts';
import { type NetworkFacts, networksOf } from '../networks/networks.ts';
import type { RuleParts } from './rule-cover.ts';
import { draftsOf } from './rule-drafts.ts';
import { meaningsOf } from './rule-meanings.ts';
import { type RuleScope, scopeOf } from './rule-scope.ts';
import { Sentences } from './rule-sentences.ts';
import { alternatives, inOrder, isAction, isRemark, partName, type Use, usesOf } from './rule-uses.ts';
import { actionOf } from './rule-words.ts';

/** One rule of a list, as far as it is understood. */
export interface RuleFact {
  /** The element that stands for it. */
  readonly node: number;
  readonly allows: boolean;
  readonly enabled: boolean;
  /** What it lets match; rules that say the same share it. */
  readonly match: RuleParts;
}

/** Rules that stand together, in their order. */
export interface RuleList {
  readonly rules: readonly RuleFact[];
  /** Rules that hold something that is not understood and are left out. */
  readonly unjudged: number;
  /** What is said of the list by the records that it lies in. */
  readonly scope: RuleScope;
  /** Names of the parts by what they are about. */
  readonly parts: {
    readonly via: readonly string[];
    readonly ports: readonly string[];
    readonly ends: readonly string[];
    readonly protocol: readonly string[];
  };
}

export const ruleListsOf = once((reading): readonly RuleList[] => {
  const last = lastLists(reading);
  if (last.lists && isAsRead(last, reading)) return last.lists;
  const lists: RuleList[] = [];
  const read = new Set<FieldData>();
  for (const table of tablesOf(reading).values()) {
    const action = table.columns.find(isAction);
    if (!action) continue;
    append(lists, listsIn(reading, table, action));
    for (const column of table.columns) if (!isRemark(column)) read.add(column.field);
  }
  for (const field of meaningsOf(reading).read) read.add(field);
  Object.assign(last, { lists, read, networks: networksOf(reading) });
  return lists;
});

/** The lists that were made last of one set of references, with what they were made of. */
interface Last {
  lists: readonly RuleList[] | null;
  read: ReadonlySet<FieldData>;
  networks: NetworkFacts | null;
}

const lastLists = once((): Last => ({ lists: null, read: new Set(), networks: null }), byReferences);

/** Whether no value was set in what the lists were made of: fields of rules and of what they name, networks of roles. */
function isAsRead({ read, networks }: Last, reading: Reading): boolean {
  for (const field of read) if (reading.values.fields[field.index] !== field) return false;
  const [before, now] = [networks!.blocks, networksOf(reading).blocks];
  return (
    before.length === now.length &&
    before.every(
      ({ role, length, extent }, at) =>
        now[at]!.role === role && now[at]!.length === length && now[at]!.extent.first.bits === extent.first.bits,
    )
  );
}

function listsIn(reading: Reading, table: Table, action: Column): RuleList[] {
  const use = usesOf(reading, table, action);
  const about = (...uses: Use[]) => table.columns.filter((column) => uses.includes(use.get(column)!));
  if (about('via', 'ends', 'ports').length === 0) return [];
  if (!inOrder(table)) return [];
  const { above, element } = reading.values;
  const isOff = switchedOff(reading);
  const isNested = holdsRecords(reading);
  const apart = writtenApart(reading, table, action.field.rows);
  const parts = { via: about('via'), ports: about('ports'), ends: about('ends'), protocol: about('protocol') };
  const names = {
    via: parts.via.map(partName),
    ports: parts.ports.map(partName),
    ends: parts.ends.map(partName),
    protocol: parts.protocol.map(partName),
  };
  const sentences = new Sentences(table, alternatives(about('ends', 'ports')), names.via);
  const { rows, values } = action.field;
  const drafts = draftsOf(reading, table, use, rows, sentences);
  const allows = new Map(action.field.distinct.map((value) => [value, actionOf(value)!]));
  const lists = new Map<number, Omit<RuleList, 'parts'> & { rules: RuleFact[]; unjudged: number }>();
  let around = -2;
  let list = { rules: [] as RuleFact[], unjudged: 0, scope: scopeOf(reading, -1) };
  for (let rule = 0; rule < rows.length; rule++) {
    const row = rows[rule]!;
    if (row === -1) continue;
    if (above[row] !== around) {
      around = above[row]!;
      list = lists.get(around) ?? { rules: [], unjudged: 0, scope: scopeOf(reading, around) };
      lists.set(around, list);
    }
    if (isNested(row) || apart.has(row)) list.unjudged++;
    else
      list.rules.push({
        node: element[row]!,
        allows: allows.get(values[rule]!)!,
        enabled: drafts.off[rule] === 0 && !isOff(row),
        match: sentences.match(drafts.said[rule]!),
      });
  }
  return [...lists.values()].map((list) => ({ ...list, parts: names }));
}

/** A test whether records lie in a row. */
function holdsRecords(reading: Reading): (row: number) => boolean {
  const { after, shapeOf } = reading.values;
  const tables = tablesOf(reading);
  const isRow = new Uint8Array(reading.values.depths.length);
  for (const shape of tables.keys()) if (shape !== -1) isRow[shape] = 1;
  return (row) => {
    for (let at = row + 1; at < after[row]!; at++) if (isRow[shapeOf[at]!] === 1) return true;
    return false;
  };
}

/** Columns of records that hold a part of another one: their own number, that of the other, and what they add. */
const MOST_COLUMNS = 3;

/** Rules of which a part is written in records of its own, which name the rule: as tables of values and of ends do. */
function writtenApart(reading: Reading, { shape }: Table, rules: readonly number[]): ReadonlySet<number> {
  const lists = (namedByAll(reading).get(shape) ?? []).filter(
    ({ columns, named }) => columns <= MOST_COLUMNS || named.size * 2 >= rules.length,
  );
  return new Set(lists.flatMap(({ named }) => [...named]));
}

/** The rows of some columns, each once. */
function* rowsOf(columns: readonly Column[]): Generator<number> {
  const seen = new Set<number>();
  for (const { field } of columns)
    for (const row of field.rows) {
      if (seen.has(row)) continue;
      seen.add(row);
      yield row;
    }
}

/** Lists of which every record names one of another kind: by the shape of what they name. */
const namedByAll = once((reading) => {
  const links = linksByRow(reading);
  const byElement = rowsByElement(reading);
  const { shapeOf } = reading.values;
  const lists = new Map<number, { readonly columns: number; readonly named: ReadonlySet<number> }[]>();
  for (const { shape, columns } of tablesOf(reading).values()) {
    const named = new Map<number, { rows: number; last: number; readonly targets: Set<number> }>();
    let rows = 0;
    for (const row of rowsOf(columns)) {
      for (let link = links.first(row); link !== -1; link = links.next(link)) {
        const target = byElement.get(links.to(link)) ?? -1;
        if (target === -1 || shapeOf[target] === shape) continue;
        const own = named.get(shapeOf[target]!) ?? { rows: 0, last: -1, targets: new Set<number>() };
        named.set(shapeOf[target]!, own);
        if (own.last !== row) own.rows++;
        own.last = row;
        own.targets.add(target);
      }
      rows++;
      // Most lists are done with after their first record.
      for (const [to, own] of named) if (own.rows < rows) named.delete(to);
      if (named.size === 0) break;
    }
    for (const [to, own] of named) {
      const list = lists.get(to) ?? [];
      list.push({ columns: columns.length, named: own.targets });
      lists.set(to, list);
    }
  }
  return lists;
}, byReferences);
