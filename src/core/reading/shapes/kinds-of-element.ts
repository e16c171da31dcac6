import { kindOf } from '../names/literals.ts';
import type { Outline } from '../outline/outline.ts';
import { rareCohesion, signature, signatureCohesion } from './cohesion.ts';
import { contextsAmong } from './contexts-among.ts';
import { areListsOfOneKind, holdsRecords, holdsRows, rowsAlone } from './held-rows.ts';
import { tableNameOf } from './kinds-of-table.ts';
import { areCountedPaths, areNamedPaths, headOfPath, kindOfPath } from './path-kinds.ts';

/** No more than this many siblings are compared with each other. */
export const SAMPLE = 400;
/** How alike records of one kind are at least in the names of what they hold. */
const ALIKE = 0.62;

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

/** Whether a leaf of a node is an address. */
function hasAddress({ after, value, values }: Outline, node: number): boolean {
  for (let child = node + 1; child < after[node]!; child = after[child]!)
    if (after[child] === child + 1 && value[child] !== -1 && kindOf(values[value[child]!]!) === 'address') return true;
  return false;
}
