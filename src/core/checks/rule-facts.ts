import type { FieldData } from '../reading/fields.ts';
import type { Reading } from '../reading/reading.ts';
import { parseBoolean } from '../values/booleans.ts';
import { wordsOf } from '../values/name-words.ts';
import { switchedOff, switchSense } from './enabled.ts';
import { referencesOf } from './links.ts';
import { type NetworkFacts, networksOf } from './networks.ts';
import type { RuleParts } from './rule-cover.ts';
import { partReader } from './rule-pieces.ts';
import { meaningsOf } from './rule-sets.ts';
import { alternatives, inOrder, isAction, isRemark, partName, type Use, usesOf } from './rule-uses.ts';
import { actionOf, anyWords, hasAny, logWords, turningWords } from './rule-words.ts';
import type { Part } from './sets.ts';
import { byReferences, byStructure, type Column, once, type Table, tablesOf } from './tables.ts';

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
  /** Names of the parts by what they are about. */
  readonly parts: {
    readonly via: readonly string[];
    readonly ports: readonly string[];
    readonly ends: readonly string[];
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
    lists.push(...listsIn(reading, table, action));
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
  const use = usesOf(table, action, referencesOf(reading), meaningsOf(reading));
  const about = (...uses: Use[]) => table.columns.filter((column) => uses.includes(use.get(column)!));
  if (about('via', 'ends', 'ports').length === 0) return [];
  if (!inOrder(table)) return [];
  const { above, element } = reading.values;
  const isOff = switchedOff(reading);
  const nested = rowsWithRecords(reading);
  const parts = { via: about('via'), ports: about('ports'), ends: about('ends') };
  const names = {
    via: parts.via.map(partName),
    ports: parts.ports.map(partName),
    ends: parts.ends.map(partName),
  };
  const matches = new Matches(table, alternatives(about('ends', 'ports')), names.via);
  const { rows, values } = action.field;
  const drafts = draftsOf(reading, table, use, rows, matches);
  const allows = new Map(action.field.distinct.map((value) => [value, actionOf(value)!]));
  const lists = new Map<number, { rules: RuleFact[]; unjudged: number }>();
  let around = -2;
  let list = { rules: [] as RuleFact[], unjudged: 0 };
  for (let rule = 0; rule < rows.length; rule++) {
    const row = rows[rule]!;
    if (row === -1) continue;
    if (above[row] !== around) {
      around = above[row]!;
      list = lists.get(around) ?? { rules: [], unjudged: 0 };
      lists.set(around, list);
    }
    if (nested[row] === 1) list.unjudged++;
    else
      list.rules.push({
        node: element[row]!,
        allows: allows.get(values[rule]!)!,
        enabled: drafts.off[rule] === 0 && !isOff(row),
        match: matches.of(drafts.said[rule]!),
      });
  }
  return [...lists.values()].map((list) => ({ ...list, parts: names }));
}

/** What can be said of a rule: a part, or something that is not understood, which may turn what stands beside it round. */
type Word = { readonly name: string; readonly part: Part } | { readonly text: string; readonly turning: string | null };

/**
 * What rules say, as a tree of words: rules that say the same words in the same order end at the same node, so each such
 * sentence is made into a match once.
 */
class Matches {
  /** Nodes after the root: the word that leads there with its number, and the node before it. */
  private readonly words: Word[] = [];
  private readonly ids: number[] = [];
  private readonly before: number[] = [];
  /** Nodes by the one before and the number of the word: open addressing, 0 for a free slot. */
  private slots = new Int32Array(1 << 10);
  private readonly made: RuleParts[] = [];

  constructor(
    private readonly table: Table,
    private readonly either: readonly (readonly string[])[],
    private readonly scoped: readonly string[],
  ) {}

  /** The node that a word leads to; `id` tells the word from all others. Asked for the word where it is new there. */
  say(node: number, id: number, word: () => Word): number {
    const slot = this.find(node, id);
    const held = this.slots[slot]!;
    if (held !== 0) return held;
    const next = this.words.push(word());
    this.ids.push(id);
    this.before.push(node);
    this.slots[slot] = next;
    if (next * 2 > this.slots.length) this.grow();
    return next;
  }

  private find(node: number, id: number): number {
    const { slots, before, ids } = this;
    const mask = slots.length - 1;
    let slot = mixed(node, id) & mask;
    for (let held = slots[slot]!; held !== 0; held = slots[slot]!) {
      if (before[held - 1] === node && ids[held - 1] === id) break;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  private grow(): void {
    this.slots = new Int32Array(this.slots.length * 4);
    for (let node = 1; node <= this.words.length; node++)
      this.slots[this.find(this.before[node - 1]!, this.ids[node - 1]!)] = node;
  }

  of(node: number): RuleParts {
    this.made[node] ??= this.make(node);
    return this.made[node]!;
  }

  private make(node: number): RuleParts {
    const said: Word[] = [];
    for (let at = node; at !== 0; at = this.before[at - 1]!) said.push(this.words[at - 1]!);
    const parts = new Map<string, Part>();
    const unknown: string[] = [];
    const turning: string[] = [];
    for (const word of said.reverse()) {
      if ('part' in word) parts.set(word.name, word.part);
      else {
        unknown.push(word.text);
        if (word.turning !== null) turning.push(word.turning);
      }
    }
    const turned = turning.length
      ? new Set(this.table.columns.filter(({ container }) => turning.includes(container)).map(partName))
      : nothingTurned;
    const { either, scoped } = this;
    return { parts, either, scoped, turned, unknown: unknown.sort().join('\n') };
  }
}

/** Numbers for words: each list of words has its own, and none has another's. */
class Ids {
  private count = 0;

  next(): number {
    return this.count++;
  }

  among<Word>(): (word: Word) => number {
    const known = new Map<Word, number>();
    return (word) => {
      let id = known.get(word);
      if (id === undefined) {
        id = this.next();
        known.set(word, id);
      }
      return id;
    };
  }
}

function mixed(node: number, id: number): number {
  const hash = Math.imul(node, 0x9e3779b1) ^ Math.imul(id + 1, 0x85ebca6b);
  return hash ^ (hash >>> 15);
}

const nothingTurned: ReadonlySet<string> = new Set();

/** For each rule what it says, as a node of `matches`, and whether a mark turns it off. */
function draftsOf(
  reading: Reading,
  table: Table,
  use: ReadonlyMap<Column, Use>,
  rows: readonly number[],
  matches: Matches,
) {
  const meanings = meaningsOf(reading);
  const ruleAt = new Int32Array(reading.values.above.length).fill(-1);
  for (let rule = 0; rule < rows.length; rule++) ruleAt[rows[rule]!] = rule;
  const said = new Int32Array(rows.length);
  const ids = new Ids();
  for (const column of table.columns) {
    const kind = use.get(column)!;
    if (kind === 'action' || kind === 'ignored' || kind === 'switch') continue;
    const { rows: own, values, template, which, distinct } = column.field;
    const read = partReader(kind, column, meanings, reading);
    const partId = ids.among<Part>();
    const textId = ids.among<string>();
    /** The number of a single text by its place among the distinct ones. */
    const single = new Int32Array(distinct.length).fill(-1);
    for (let from = 0, to = 0; from < own.length; from = to) {
      const row = own[from]!;
      for (to = from + 1; to < own.length && own[to] === row; ) to++;
      const rule = row === -1 ? -1 : ruleAt[row]!;
      if (rule === -1) continue;
      if (kind === 'unknown') {
        const alone = to === from + 1;
        let id = alone ? single[which[from]!]! : -1;
        if (id === -1) {
          id = textId(alone ? values[from]! : values.slice(from, to).join());
          if (alone) single[which[from]!] = id;
        }
        said[rule] = matches.say(said[rule]!, id, () => {
          const texts = values.slice(from, to);
          return { text: `${template}=${texts.join()}`, turning: turns(column, texts) ? column.container : null };
        });
        continue;
      }
      const part = read(from, to);
      if (!part) continue;
      said[rule] = matches.say(said[rule]!, partId(part), () => ({ name: template, part }));
    }
  }
  return { said, off: marks(reading, table, ruleAt, said, matches, ids) };
}

/**
 * Takes in the empty elements of each rule: switches, `any`, and such as nobody knows. A switch says no by not being there:
 * an empty element, or a field that only ever says yes.
 * @returns for each rule 1 where it is off.
 */
function marks(
  reading: Reading,
  { columns }: Table,
  ruleAt: Int32Array,
  said: Int32Array,
  matches: Matches,
  ids: Ids,
): Uint8Array {
  const on = new Uint8Array(said.length);
  const off = new Uint8Array(said.length);
  let switches = 0;
  for (const { steps, rows } of reading.values.marks) {
    const own = rows.filter((row) => row !== -1 && ruleAt[row] !== -1);
    if (own.length === 0) continue;
    const words = wordsOf(steps[steps.length - 1]!);
    const isSilent = hasAny(words, anyWords) || hasAny(words, logWords);
    const sense = switchSense(words);
    const path = steps.join('/');
    const id = ids.next();
    if (sense === 'on') switches++;
    for (const row of own) {
      const rule = ruleAt[row]!;
      if (sense === 'on') on[rule] = 1;
      else if (sense === 'off') off[rule] = 1;
      else if (!isSilent)
        said[rule] = matches.say(said[rule]!, id, () => ({
          text: path,
          turning: path.slice(0, path.lastIndexOf('/')),
        }));
    }
  }
  for (const { field, words } of columns) {
    if (switchSense(words) !== 'on' || !field.distinct.every((value) => parseBoolean(value) === true)) continue;
    // Rows count from -1, which stands for no record.
    const own = new Uint8Array(ruleAt.length + 1);
    for (const row of field.rows) own[row + 1] = 1;
    if (!columns.some((other) => other.field.rows.some((row) => own[row + 1] === 0))) continue;
    switches++;
    for (const row of field.rows) if (row !== -1 && ruleAt[row] !== -1) on[ruleAt[row]!] = 1;
  }
  for (let rule = 0; rule < off.length; rule++) {
    // What is on by one switch is off by another where both are there.
    if (switches > 0 && on[rule] === 0) off[rule] = 1;
  }
  return off;
}

/** Rows in which records lie: 1. */
const rowsWithRecords = once((reading): Uint8Array => {
  const { fields, above } = reading.values;
  const rows = new Uint8Array(above.length);
  for (const { rows: own } of fields) {
    let last = -1;
    for (const row of own) {
      if (row === last || row === -1) continue;
      last = row;
      if (above[row] !== -1) rows[above[row]!] = 1;
    }
  }
  return rows;
}, byStructure);

/** A switch or a comparison may turn what stands beside it round. */
function turns(column: Column, values: readonly string[]): boolean {
  return (
    hasAny(column.words, turningWords) ||
    column.kind === 'mask' ||
    column.kind === 'number' ||
    values.some((value) => parseBoolean(value) !== null || turningWords.has(value.toLowerCase()))
  );
}
