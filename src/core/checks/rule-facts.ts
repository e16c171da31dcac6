import type { Reading, Reference } from '../reading/reading.ts';
import { parseBoolean } from '../values/booleans.ts';
import { isHex, isUuid } from '../values/ids.ts';
import { wordsOf } from '../values/name-words.ts';
import { isDomainName } from '../values/names.ts';
import { unsigned } from '../values/numbers.ts';
import { isOff, switchSense } from './enabled.ts';
import type { RuleParts } from './rule-cover.ts';
import { isClerical, type Meanings, meaningsOf, portInterval } from './rule-sets.ts';
import {
  actionOf,
  anyWords,
  destinationWords,
  hasAny,
  logWords,
  portWords,
  protocolWords,
  remarkWords,
  sourceWords,
  turningWords,
} from './rule-words.ts';
import { ALL_ADDRESSES, addressInterval, type Interval, type Intervals, includes, type Part, partOf } from './sets.ts';
import { type Column, type Link, linksByRow, once, type Table, tablesOf } from './tables.ts';

/** One rule of a list, as far as it is understood. */
export interface RuleFact extends RuleParts {
  /** The element that stands for it. */
  readonly node: number;
  readonly allows: boolean;
  readonly enabled: boolean;
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

type Use = 'action' | 'ignored' | 'switch' | 'via' | 'ends' | 'ports' | 'protocol' | 'named' | 'unknown';

const ALL_PORTS: Intervals = [{ first: 0n, last: 65_535n }];

export const ruleListsOf = once((reading): readonly RuleList[] => {
  const lists: RuleList[] = [];
  for (const table of tablesOf(reading).values()) {
    const action = table.columns.find(isAction);
    if (action) lists.push(...listsIn(reading, table, action));
  }
  return lists;
});

function isAction({ field }: Column): boolean {
  if (field.values.length < 2 || field.several) return false;
  const distinct = new Set<string>();
  for (const value of field.values) {
    distinct.add(value);
    if (distinct.size > 6 || value.length > 16) return false;
  }
  return [...distinct].every((value) => actionOf(value) !== undefined);
}

function listsIn(reading: Reading, table: Table, action: Column): RuleList[] {
  const meanings = meaningsOf(reading);
  const links = linksByRow(reading);
  const use = usesOf(table, action, links, meanings);
  const about = (...uses: Use[]) => table.columns.filter((column) => uses.includes(use.get(column)!));
  if (about('via', 'ends', 'ports').length === 0) return [];
  if (!inOrder(table)) return [];
  const { above, element } = reading.values;
  const marks = marksOf(reading, table);
  const nested = rowsWithRecords(reading);
  const either = groups(about('ends', 'ports'));
  const scoped = about('via').map(partName);
  const parts = { via: scoped, ports: about('ports').map(partName), ends: about('ends').map(partName) };
  const drafts = draftsOf(table, use, links, meanings, action);
  const byHolder = new Map<number, { rules: RuleFact[]; unjudged: number }>();
  for (const [row, draft] of drafts) {
    const list = byHolder.get(above[row]!) ?? { rules: [], unjudged: 0 };
    byHolder.set(above[row]!, list);
    if (nested.has(row)) list.unjudged++;
    else {
      const { enabled, allows, ...made } = finish(draft, table, marks, row);
      const node = element[row]!;
      list.rules.push({ ...made, either, scoped, node, allows, enabled: enabled && !isOff(reading, row) });
    }
  }
  return [...byHolder.values()].map((list) => ({ ...list, parts }));
}

/** A role inside a sender or receiver stands for its network, as the addresses beside it do. */
function usesOf(
  table: Table,
  action: Column,
  links: ReadonlyMap<number, readonly Link[]>,
  meanings: Meanings,
): Map<Column, Use> {
  const use = new Map<Column, Use>();
  for (const column of table.columns) use.set(column, column === action ? 'action' : useOf(column, links, meanings));
  const ends = new Set(table.columns.filter((column) => use.get(column) === 'ends').map(({ container }) => container));
  for (const column of table.columns)
    if (use.get(column) === 'via' && column.container !== action.container && ends.has(column.container))
      use.set(column, 'ends');
  return use;
}

const partName = ({ field }: Column) => field.template;

/** What a column is about, by the values of all its rows. */
function useOf(column: Column, links: ReadonlyMap<number, readonly Link[]>, meanings: Meanings): Use {
  const { field, words, kind } = column;
  const { values } = field;
  if (parseBoolean(values[0]!) !== null && switchSense(words)) return 'switch';
  if (hasAny(words, logWords) || hasAny(words, remarkWords)) return 'ignored';
  const linked = { roles: 0, addresses: 0, ports: 0, other: 0 };
  for (const row of new Set(field.rows.slice(0, 400)))
    for (const link of links.get(row) ?? []) {
      if (link.column !== field) continue;
      if (meanings.roleAt(link.reference.to) !== -1) linked.roles++;
      else linked[meanings.of(link.reference.to)?.of ?? 'other']++;
    }
  if (linked.roles + linked.addresses + linked.ports + linked.other === 0 && isKey(column)) return 'ignored';
  const lower = values.map((value) => value.toLowerCase());
  if (lower.every((value) => value.split(/[/,+ ]+/).every((piece) => protocolWords.has(piece)))) {
    // A column that says `any` and nothing else is about anything.
    if (lower.some((value) => !anyWords.has(value))) return 'protocol';
  }
  if (kind === 'address' || kind === 'prefix' || kind === 'mixed' || kind === 'range' || linked.addresses > 0)
    return 'ends';
  const loose = values.filter((value, at) => !isLinked(column, at, links) && !anyWords.has(value.toLowerCase()));
  if (linked.roles > 0 && linked.other + linked.ports === 0) {
    // Where literals stand beside roles, a role is meant as its network; where only roles stand, as the way in or out.
    if (loose.some((value) => addressInterval(value) !== null)) return 'ends';
    return values.some((value) => anyWords.has(value.toLowerCase())) || isEnd(words) ? 'ends' : 'via';
  }
  const ports = values.filter((value) => value.split(/[\s,;|]+/).every((piece) => portInterval(piece) !== null)).length;
  if (linked.ports > 0 || (hasAny(words, portWords) && (ports > 0 || linked.other > 0))) return 'ports';
  if (linked.other > 0 || linked.roles > 0) return loose.length === 0 ? 'named' : 'ends';
  const phrases = values.filter((value) => /\p{L}{3,}\s+\p{L}{2,}/u.test(value) && !/\d:\d/.test(value)).length;
  return phrases * 3 >= values.length || values.every(isClerical) ? 'ignored' : 'unknown';
}

const isEnd = (words: ReadonlySet<string>) => hasAny(words, sourceWords) || hasAny(words, destinationWords);

function isLinked({ field }: Column, place: number, links: ReadonlyMap<number, readonly Link[]>): boolean {
  return (links.get(field.rows[place]!) ?? []).some((link) => link.column === field && link.place === place);
}

const keyWords = new Set(
  'id ident uid uuid guid name key handle nr no num number ref tracker seq sequence order position pos rank index kennung clave cle код ключ 编号 番号'.split(
    ' ',
  ),
);

/** Names, numbers and marks by which rules are told apart: all differ, and they are called so or look like nothing else. */
function isKey({ field, kind, words }: Column): boolean {
  const { values } = field;
  if ((kind !== 'other' && kind !== 'number') || field.several || values.length < 3) return false;
  if (hasAny(words, portWords) || values.some(isDomainName) || new Set(values).size < values.length) return false;
  return hasAny(words, keyWords) || values.every((value) => isUuid(value) || isHex(value, 8));
}

/** False where numbers tell an order that is another than that of the file. */
function inOrder(table: Table): boolean {
  for (const { field, kind, words } of table.columns) {
    if (kind !== 'number' || !hasAny(words, orderWords)) continue;
    for (let at = 1; at < field.values.length; at++)
      if (unsigned(field.values[at]!) < unsigned(field.values[at - 1]!)) return false;
  }
  return true;
}

const orderWords = new Set(
  'seq sequence order position pos priority prio rank index nr number reihenfolge orden ordre'.split(' '),
);

/** Parts of one kind, of which nobody knows whether they are alternatives; source and destination are none. */
function groups(columns: readonly Column[]): string[][] {
  const byContainer = new Map<string, Column[]>();
  for (const column of columns) {
    const list = byContainer.get(column.container);
    if (list) list.push(column);
    else byContainer.set(column.container, [column]);
  }
  return [...byContainer.values()]
    .filter((list) => list.length > 1 && !areEnds(list))
    .map((list) => list.map(partName));
}

/** One for the source and one for the destination, of addresses or of ports each. */
function areEnds(columns: readonly Column[]): boolean {
  const sides = new Set<string>();
  for (const { words, kind } of columns) {
    const side = hasAny(words, sourceWords) ? 's' : hasAny(words, destinationWords) ? 'd' : '';
    const ports = hasAny(words, portWords) || kind === 'number' ? 'ports' : 'ends';
    if (side === '' && ports !== 'ports') return false;
    if (sides.has(side + ports)) return false;
    sides.add(side + ports);
  }
  return true;
}

interface MarkHere {
  readonly path: string;
  readonly words: readonly string[];
}

interface Marks {
  readonly of: ReadonlyMap<number, readonly MarkHere[]>;
  /** Switches that say no by not being there: empty elements, and fields that only ever say yes. */
  readonly switches: ReadonlySet<string>;
}

/** Empty elements of each rule: switches, `any`, and such as nobody knows. */
function marksOf(reading: Reading, table: Table): Marks {
  const own = new Set<number>();
  for (const { field } of table.columns) for (const row of field.rows) own.add(row);
  const marks = new Map<number, MarkHere[]>();
  const switches = new Set<string>();
  const add = (row: number, mark: MarkHere) => {
    const list = marks.get(row);
    if (list) list.push(mark);
    else marks.set(row, [mark]);
    if (switchSense(mark.words) === 'on') switches.add(mark.path);
  };
  for (const { steps, rows } of reading.values.marks) {
    const mark = { path: steps.join('/'), words: wordsOf(steps[steps.length - 1]!) };
    for (const row of rows) if (own.has(row)) add(row, mark);
  }
  for (const { field, words } of table.columns) {
    if (switchSense(words) !== 'on' || !field.values.every((value) => parseBoolean(value) === true)) continue;
    if (new Set(field.rows).size < own.size)
      for (const row of field.rows) add(row, { path: field.template, words: [...words] });
  }
  return { of: marks, switches };
}

const rowsWithRecords = once((reading): ReadonlySet<number> => {
  const { fields, above } = reading.values;
  const rows = new Set<number>();
  for (const { rows: own } of fields) {
    let last = -1;
    for (const row of own) {
      if (row === last) continue;
      last = row;
      if (above[row] !== -1) rows.add(above[row]!);
    }
  }
  return rows;
});

/** A rule while its columns are read one after the other. */
interface Draft {
  readonly allows: boolean;
  readonly parts: Map<string, Part>;
  unknown: string[] | null;
  /** Containers in which something may turn the meaning round. */
  turning: string[] | null;
}

function draftsOf(
  { columns }: Table,
  use: ReadonlyMap<Column, Use>,
  links: ReadonlyMap<number, readonly Link[]>,
  meanings: Meanings,
  { field }: Column,
): ReadonlyMap<number, Draft> {
  const drafts = new Map<number, Draft>();
  for (let place = 0; place < field.rows.length; place++)
    drafts.set(field.rows[place]!, {
      allows: actionOf(field.values[place]!)!,
      parts: new Map(),
      unknown: null,
      turning: null,
    });
  for (const column of columns) {
    const kind = use.get(column)!;
    if (kind === 'action' || kind === 'ignored' || kind === 'switch') continue;
    const { rows, values, template } = column.field;
    const read = partReader(kind, column, meanings);
    for (let from = 0, to = 0; from < rows.length; from = to) {
      const row = rows[from]!;
      while (to < rows.length && rows[to] === row) to++;
      const draft = drafts.get(row);
      if (!draft) continue;
      if (kind === 'unknown') {
        const own = values.slice(from, to);
        note(draft, `${template}=${own.join()}`, turns(column, own) ? column.container : null);
      } else {
        const part = read(from, to, links.get(row) ?? []);
        if (part) draft.parts.set(partName(column), part);
      }
    }
  }
  return drafts;
}

/** Takes down what is not understood; most rules have nothing of it, so the lists are made late. */
function note(draft: Draft, text: string, turning: string | null): void {
  if (draft.unknown) draft.unknown.push(text);
  else draft.unknown = [text];
  if (turning === null) return;
  if (draft.turning) draft.turning.push(turning);
  else draft.turning = [turning];
}

const nothingTurned: ReadonlySet<string> = new Set();

function finish(draft: Draft, { columns }: Table, { of, switches }: Marks, row: number) {
  const { allows, parts } = draft;
  let enabled = switches.size === 0;
  for (const { path, words } of of.get(row) ?? []) {
    const sense = switchSense(words);
    if (switches.has(path)) enabled = true;
    else if (sense === 'off') enabled = false;
    else if (!hasAny(words, anyWords) && !hasAny(words, logWords)) {
      note(draft, path, path.slice(0, path.lastIndexOf('/')));
    }
  }
  const { unknown, turning } = draft;
  const turned = turning
    ? new Set(columns.filter(({ container }) => turning.includes(container)).map(partName))
    : nothingTurned;
  return { allows, parts, turned, unknown: unknown?.sort().join('\n') ?? '', enabled };
}

/** A switch or a comparison may turn what stands beside it round. */
function turns(column: Column, values: readonly string[]): boolean {
  return (
    hasAny(column.words, turningWords) ||
    column.kind === 'mask' ||
    column.kind === 'number' ||
    values.some((value) => parseBoolean(value) !== null || turningWords.has(value.toLowerCase()))
  );
}

interface Piece {
  /** Stands for everything. */
  readonly any: boolean;
  readonly numbers: readonly Interval[];
  readonly named: ReadonlyMap<string, Intervals | null>;
  readonly opaque: string;
}

/** A text that was read already, with the records that it named. */
interface Known {
  readonly to: readonly number[];
  readonly piece: Piece;
  /** What it makes by itself. */
  readonly part: Part | null;
}

/** Reads the values of one rule in one column; a text that comes again is looked at once. */
function partReader(kind: Use, { field }: Column, meanings: Meanings) {
  const known = new Map<string, Known>();
  const joined = (list: readonly Piece[]): Part | null => {
    if (list.some(({ any }) => any)) return null;
    const named = list.length === 1 ? list[0]!.named : new Map(list.flatMap((piece) => [...piece.named]));
    const opaque = list.map((piece) => piece.opaque).filter((text) => text !== '');
    const part = partOf(
      list.flatMap(({ numbers }) => numbers),
      named,
      opaque.sort().join('\n'),
    );
    return includes(part.numbers, kind === 'ports' ? ALL_PORTS : ALL_ADDRESSES) ? null : part;
  };
  const knownAt = (place: number, links: readonly Link[]): Known => {
    const value = field.values[place]!;
    const held = known.get(value);
    let count = 0;
    let same = true;
    for (const { column, place: at, reference } of links)
      if (at === place && column === field && held?.to[count++] !== reference.to) same = false;
    if (held && same && held.to.length === count) return held;
    const references = links
      .filter((link) => link.column === field && link.place === place)
      .map(({ reference }) => reference);
    const piece = pieceOf(kind, value, references, meanings);
    const made = { to: references.map(({ to }) => to), piece, part: joined([piece]) };
    known.set(value, made);
    return made;
  };
  return (from: number, to: number, links: readonly Link[]): Part | null => {
    const first = knownAt(from, links);
    if (to === from + 1) return first.part;
    const pieces = [first.piece];
    for (let at = from + 1; at < to; at++) pieces.push(knownAt(at, links).piece);
    return joined(pieces);
  };
}

function pieceOf(kind: Use, value: string, references: readonly Reference[], meanings: Meanings): Piece {
  const numbers: Interval[] = [];
  const named = new Map<string, Intervals | null>();
  const made = (over: Partial<Piece>): Piece => ({ any: false, numbers: [], named: new Map(), opaque: '', ...over });
  let rest = value;
  // From the end, so that what was found before keeps its place.
  for (const reference of [...references].sort((a, b) => b.from - a.from)) {
    const at = rest.lastIndexOf(reference.value);
    if (at !== -1) rest = `${rest.slice(0, at)} ${rest.slice(at + reference.value.length)}`;
  }
  const split = kind === 'protocol' ? rest.toLowerCase().split(/[/,+\s]+/) : rest.split(/\s*[,;|\n]\s*|\s+(?![-:])/);
  const left = split.filter((piece) => piece !== '');
  if (left.some((piece) => anyWords.has(piece.toLowerCase()))) return made({ any: true });
  if (kind === 'protocol') for (const piece of left) named.set(piece, null);
  else
    for (const piece of left) {
      const interval = kind === 'ports' ? portInterval(piece) : kind === 'ends' ? addressInterval(piece) : null;
      if (!interval) return made({ opaque: value });
      numbers.push(interval);
    }
  for (const { to } of references) {
    const role = meanings.roleAt(to);
    const meaning = role === -1 && kind !== 'named' ? meanings.of(to) : null;
    if (meaning && meaning.of === (kind === 'ports' ? 'ports' : 'addresses')) numbers.push(...meaning.numbers);
    else named.set(`record ${to}`, role === -1 || kind !== 'ends' ? null : meanings.networksOf(role));
  }
  return made({ numbers, named });
}
