import { kindOf } from '../names/literals.ts';
import type { Outline } from '../outline/outline.ts';
import { tableNameOf } from './kinds-of-table.ts';
import { areCountedPaths, areNamedPaths, headOfPath, kindOfPath } from './path-kinds.ts';

/** No more than this many siblings are compared with each other. */
export const SAMPLE = 400;
/** Nor more than this with all of them. */
const SEEDS = 8;
/** Rows of a table may lie so many levels deeper. */
const WRAPPED = 2;
/** How alike records of one kind are at least in the names of what they hold. */
const ALIKE = 0.62;
/** Nodes in them that are looked at. */
const LOOK = 16;

/** Labels of everything inside, so that tables whose rows differ are told apart; bounded. */
export function signature(outline: Outline, node: number, numbers: Uint8Array): Set<number> {
  const labels = new Set<number>();
  const end = Math.min(outline.after[node]!, node + 60);
  for (let at = node + 1; at < end; at++) if (!numbers[outline.label[at]!]) labels.add(outline.label[at]!);
  return labels;
}

export function signatureCohesion(sets: readonly Set<number>[]): number {
  if (sets.length < 2) return 1;
  const counts = new Map<number, number>();
  for (const labels of sets) for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  let sum = 0;
  for (const labels of sets) {
    if (labels.size === 0) continue;
    let shared = 0;
    for (const label of labels) shared += (counts.get(label)! - 1) / (sets.length - 1);
    sum += shared / labels.size;
  }
  return sum / sets.length;
}

/** Share of the kinds of record that documents of their own have in common, and how many those are at least. */
const CONTEXTS_ALIKE = 0.5;
const CONTEXT_KINDS = 3;
/** Share of what a layer holds that the one below it holds, too. */
const LAYERS_ALIKE = 0.8;
/** Kinds of item that are looked at. */
const MOST_ITEMS = 64;

/**
 * Which of some nodes hold records of the same kinds, several: they are documents of their own, whatever they are called. None
 * or at least two, by their indices.
 */
export function contextsAmong(outline: Outline, nodes: readonly number[]): number[] {
  const kinds = nodes.map((node) => listsIn(outline, node));
  const seeds = [...kinds.keys()].filter((at) => kinds[at]!.lists.size >= CONTEXT_KINDS).slice(0, SEEDS);
  let most: number[] = [];
  for (const seed of seeds) {
    const like = [...kinds.keys()].filter((at) => at === seed || areAlike(kinds[seed]!, kinds[at]!));
    if (like.length > most.length) most = like;
  }
  return most.length > 1 ? most : [];
}

/** Names of the lists of records in a node, and of the lists with what they hold, also where that is one record. */
interface Lists {
  readonly lists: ReadonlySet<number>;
  readonly items: ReadonlySet<string>;
}

function listsIn(outline: Outline, node: number): Lists {
  const { label, after } = outline;
  const lists = new Set<number>();
  const items = new Set<string>();
  for (let child = node + 1; child < after[node]!; child = after[child]!) {
    if (holdsRecords(child, outline)) lists.add(label[child]!);
    for (let item = child + 1; item < after[child]! && items.size < MOST_ITEMS; item = after[item]!)
      if (after[item]! > item + 1) items.add(`${label[child]!} ${label[item]!}`);
  }
  return { lists, items };
}

/** Whether two hold lists of the same kinds, or one holds hardly any that the other has not, as what is laid over it does. */
function areAlike(one: Lists, other: Lists): boolean {
  const common = commonOf(one.lists, other.lists);
  const all = one.lists.size + other.lists.size - common;
  if (common >= CONTEXT_KINDS && common >= all * CONTEXTS_ALIKE) return true;
  const [few, many] = one.items.size < other.items.size ? [one.items, other.items] : [other.items, one.items];
  const laid = commonOf(few, many);
  return laid >= CONTEXT_KINDS && laid >= few.size * LAYERS_ALIKE;
}

function commonOf<T>(one: ReadonlySet<T>, other: ReadonlySet<T>): number {
  let common = 0;
  for (const name of one) if (other.has(name)) common++;
  return common;
}

/**
 * Elements of one name that are built differently, told apart by an attribute or a leaf (`<table name="…">`,
 * `<object class="…">`): the nodes by its value, or null where they are of one kind.
 */
export function discriminated(
  outline: Outline,
  nodes: readonly number[],
  numbers: Uint8Array,
  times: Int32Array,
): Map<string, number[]> | null {
  if (nodes.length < 2) return null;
  const step = Math.max(1, Math.ceil(nodes.length / SAMPLE));
  const sample: number[] = [];
  for (let at = 0; at < nodes.length; at += step) sample.push(nodes[at]!);
  if (!sample.some((node) => outline.after[node]! > node + 2)) return null;
  const sets = sample.map((node) => signature(outline, node, numbers));
  const overall = signatureCohesion(sets);
  const holding = sample.filter((node) => holdsRecords(node, outline) || holdsRows(node, outline));
  const holders = holding.length;
  const containers = holders >= sample.length * 0.6 ? rareCohesion(sets) : 1;
  if (contextsAmong(outline, sample).length === sample.length) return null;
  // What has an address of its own is no table, whatever it holds.
  const addressed = sample.every((node) => hasAddress(outline, node));
  const tables =
    (holders >= sample.length * 0.6 || holders + rowsAlone(outline, sample, holding) >= sample.length * 0.6) &&
    !addressed;
  const table = tables ? tableNameOf(outline, sample, times) : null;
  if (tables && !table && areListsOfOneKind(outline, holding, numbers)) return null;
  if (table === 'order') return new Map(nodes.map((node, at) => [String(at + 1), [node]]));
  const path = table ? null : pathsOf(outline, sample, overall < ALIKE);
  if (path) return partedBy(outline, nodes, path.leaf, (value) => path.kindOf(value) ?? '');
  const alike = overall >= ALIKE && containers >= 0.45;
  if (alike && overall > 0.97 && !table) return null;
  const called = alike ? null : calledInTurns(outline, nodes);
  if (called) return called;
  // Candidates: leaves whose value every node has; of nodes that are rather alike only the first one.
  const values = new Map<number, (number | undefined)[]>();
  for (const [at, node] of sample.entries()) {
    for (const [leaf, value] of leavesOf(outline, node)) {
      let list = values.get(leaf);
      if (!list) {
        list = new Array(sample.length);
        values.set(leaf, list);
      }
      list[at] = value;
    }
  }
  // What only some have may stand before it, what is the same for all, and numbers, which say nothing of what they count where a
  // name stands beside them.
  const whole = [...values].filter(([, list]) => !list.includes(undefined) && new Set(list).size > 1);
  const isOpaque = (list: readonly (number | undefined)[]) =>
    list.every((value) => kindOf(outline.values[value!]!) === 'opaque');
  const isNumber = (value: number | undefined) => /^\d+$/.test(outline.values[value!]!);
  const first = (whole.find(([, list]) => !list.every(isNumber)) ?? whole[0])?.[0];
  let best = table?.label ?? -1;
  let bestGain = 0.25;
  for (const [leaf, list] of table ? [] : values) {
    let missing = 0;
    const groups = new Map<number, Set<number>[]>();
    for (let at = 0; at < sample.length; at++) {
      const value = list[at];
      if (value === undefined) missing++;
      else {
        const group = groups.get(value);
        if (group) group.push(sets[at]!);
        else groups.set(value, [sets[at]!]);
      }
    }
    if (missing > 0 || groups.size < 2 || groups.size > 200) continue;
    // No kind of record is called by what a machine made up.
    if (isOpaque(list)) continue;
    if (alike && (leaf !== first || groups.size > sample.length / 2)) continue;
    // What is another for each of them is their name, unless they hold records, each of its own kind.
    if (groups.size === sample.length && !tables && (holders * 2 < sample.length || addressed)) continue;
    let within = 0;
    for (const group of groups.values()) within += signatureCohesion(group) * group.length;
    // Groups of one say nothing by themselves: count them for less, more so where nothing repeats.
    const singles = [...groups.values()].filter((group) => group.length === 1).length / sample.length;
    let gain =
      containers < 0.45 && singles > 0.9
        ? 0.75 - containers
        : within / sample.length - overall - singles * (leaf === first ? 0.15 : 0.25);
    // A first value that halves the differences tells kinds apart.
    if (alike) gain = 1 - within / sample.length <= (1 - overall) * 0.5 ? gain + 0.17 : 0;
    if (gain > bestGain || (gain === bestGain && leaf === first)) {
      bestGain = gain;
      best = leaf;
    }
  }
  if (best === -1) return null;
  return partedBy(outline, nodes, best, (value) => value);
}

/**
 * Tables that an attribute calls, now by one name and now by another: `<table name="nets">` beside `<table key="rules">`; null
 * where some has more than one attribute or nothing in it, or where they are called alike.
 */
function calledInTurns(
  { label, labels, after, value, values }: Outline,
  nodes: readonly number[],
): Map<string, number[]> | null {
  const attributes = new Set<number>();
  const parts = new Map<string, number[]>();
  for (const node of nodes) {
    let own = -1;
    let holds = false;
    for (let child = node + 1; child < after[node]!; child = after[child]!) {
      if (after[child]! > child + 1) holds = true;
      if (!labels[label[child]!]!.startsWith('@')) continue;
      if (own !== -1 || value[child] === -1) return null;
      own = child;
    }
    if (own === -1 || !holds) return null;
    const name = values[value[own]!]!;
    if (kindOf(name) !== 'name' || parts.has(name)) return null;
    attributes.add(label[own]!);
    parts.set(name, [node]);
  }
  return attributes.size > 1 && parts.size > 1 ? parts : null;
}

/** A leaf that is a path, and what kind of record the path tells. */
interface Paths {
  readonly leaf: number;
  readonly kindOf: (path: string) => string | null;
}

/**
 * The first leaf of nodes of one name, where it is a path of records of several kinds; null for none.
 * @param named whether the records are so unlike that paths of names tell their kinds, too, and not only paths that count.
 */
function pathsOf(outline: Outline, nodes: readonly number[], named: boolean): Paths | null {
  const [leaf] = leavesOf(outline, nodes[0]!).keys();
  if (leaf === undefined) return null;
  const paths: string[] = [];
  for (const node of nodes) {
    const value = leavesOf(outline, node).get(leaf);
    const path = value === undefined ? '' : outline.values[value]!;
    if (kindOfPath(path) === null && headOfPath(path) === null) return null;
    paths.push(path);
  }
  if (areCountedPaths(paths)) return { leaf, kindOf: kindOfPath };
  return named && areNamedPaths(paths) ? { leaf, kindOf: headOfPath } : null;
}

function partedBy(
  outline: Outline,
  nodes: readonly number[],
  leaf: number,
  kindOf: (value: string) => string,
): Map<string, number[]> | null {
  const parts = new Map<string, number[]>();
  for (const node of nodes) {
    const value = leavesOf(outline, node).get(leaf);
    const kind = value === undefined ? '' : kindOf(outline.values[value]!);
    const part = parts.get(kind);
    if (part) part.push(node);
    else parts.set(kind, [node]);
  }
  return parts.size > 1 && parts.size <= 400 ? parts : null;
}

/**
 * The leaves of a node that have a value, and of what it holds once (`<object><head><kind>…`): the number of each in nodes
 * of its kind, to the index of its first value.
 */
function leavesOf({ label, labels, after, value }: Outline, node: number): Map<number, number> {
  const leaves = new Map<number, number>();
  const add = (leaf: number, at: number) => {
    if (after[at] === at + 1 && value[at] !== -1 && !leaves.has(leaf)) leaves.set(leaf, value[at]!);
  };
  for (let child = node + 1; child < after[node]!; child = after[child]!) {
    add(label[child]!, child);
    const inside = (label[child]! + 1) * labels.length;
    for (let at = child + 1; at < after[child]! && at < child + LEAVES; at = after[at]!) add(inside + label[at]!, at);
  }
  return leaves;
}

/** Leaves further behind in what a node holds tell no kinds apart. */
const LEAVES = 8;

/**
 * True for a node that holds several structured nodes of one name.
 * @param wraps levels at most that only wrap them.
 */
export function holdsRecords(node: number, outline: Outline, wraps = 0): boolean {
  const { label, after } = outline;
  const inside = new Set<number>();
  let only = -1;
  for (let child = node + 1; child < after[node]!; child = after[child]!) {
    if (after[child]! === child + 1) continue;
    if (inside.has(label[child]!)) return true;
    inside.add(label[child]!);
    only = child;
  }
  return wraps > 0 && inside.size === 1 && holdsRecords(only, outline, wraps - 1);
}

/** Whether a leaf of a node is an address. */
function hasAddress({ after, value, values }: Outline, node: number): boolean {
  for (let child = node + 1; child < after[node]!; child = after[child]!)
    if (after[child] === child + 1 && value[child] !== -1 && kindOf(values[value[child]!]!) === 'address') return true;
  return false;
}

/** True for a node that holds rows of cells, which are called by their columns, within elements that only wrap them. */
function holdsRows(node: number, outline: Outline): boolean {
  if (!holdsRecords(node, outline, WRAPPED)) return false;
  const end = Math.min(outline.after[node]!, node + LOOK);
  for (let at = node + 1; at < end; at++) if (outline.labels[outline.label[at]!]!.endsWith(']')) return true;
  return false;
}

/** Records of a list that are looked at, and how alike those of two lists are, measured by those of one, where all are of one kind. */
const ROWS = 8;
const NO_LESS = 0.75;
/** Records that have little in common tell nothing of their lists. */
const SOMEWHAT = 0.4;

/** Whether the records that nodes hold are as alike from node to node as within one: lists of rules, and no tables. */
function areListsOfOneKind(outline: Outline, nodes: readonly number[], numbers: Uint8Array): boolean {
  if (nodes.length < 2) return false;
  const lists = nodes.map((node) => rowsOf(outline, node).map((row) => signature(outline, row, numbers)));
  const several = lists.filter(({ length }) => length > 1);
  if (several.length < 2) return false;
  const within = several.reduce((sum, rows) => sum + signatureCohesion(rows), 0) / several.length;
  let across = 0;
  for (let at = 0; at < ROWS; at++)
    across += signatureCohesion(lists.flatMap((rows) => (rows.length > 0 ? [rows[at % rows.length]!] : [])));
  across /= ROWS;
  return across >= SOMEWHAT && across >= within * NO_LESS;
}

/** The first of the structured nodes of one name that a node holds several of. */
function rowsOf({ label, after }: Outline, node: number): number[] {
  const byName = new Map<number, number[]>();
  for (let child = node + 1; child < after[node]!; child = after[child]!) {
    if (after[child] === child + 1) continue;
    const rows = byName.get(label[child]!);
    if (!rows) byName.set(label[child]!, [child]);
    else if (rows.length < ROWS) rows.push(child);
  }
  return [...byName.values()].reduce<number[]>((a, b) => (b.length > a.length ? b : a), []);
}

/** How many nodes hold one row of cells, called as the rows of those are that hold several. */
function rowsAlone(outline: Outline, nodes: readonly number[], holding: readonly number[]): number {
  const { label, after, labels } = outline;
  const held = new Set(holding);
  const rows = new Set<number>();
  const cellsIn = (node: number) => {
    const found: number[] = [];
    for (let child = node + 1; child < after[node]!; child = after[child]!)
      if (after[child]! > child + 1 && labels[label[child + 1]!]!.endsWith(']')) found.push(label[child]!);
    return found;
  };
  for (const node of holding) for (const row of cellsIn(node)) rows.add(row);
  return nodes.filter((node) => !held.has(node) && cellsIn(node).some((row) => rows.has(row))).length;
}

/** How alike nodes are in the labels that not nearly all of them have: 0 to 1. */
function rareCohesion(sets: readonly Set<number>[]): number {
  const counts = new Map<number, number>();
  for (const labels of sets) for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  const rare = sets.map((labels) => new Set([...labels].filter((label) => counts.get(label)! < sets.length * 0.8)));
  const size = rare.reduce((sum, labels) => sum + labels.size, 0) / rare.length;
  return size < 1.5 ? 1 : signatureCohesion(rare.filter((labels) => labels.size > 0));
}
