import { largestOf, leastOf } from '../../lists.ts';
import type { Outline } from '../outline/outline.ts';
import { holdsRecords } from './held-rows.ts';
import { discriminated } from './kinds-of-element.ts';

/** No more layouts are told apart. */
const MOST = 6;
/** More of one name are records and no tables, and of a few the most are. */
const TABLES = 2000;
const SAMPLE = 12;
/** Where so many have nothing in common with others, they are no layouts. */
const FEW = 60;

/**
 * The kinds of element of one name: told apart by layout first (`<table><row>…` beside `<table><cell name="…">…`), within each
 * by what tells nodes of it apart. The nodes of each by what it is called, or null where they are of one kind.
 */
export function kindsOf(
  outline: Outline,
  nodes: readonly number[],
  numbers: Uint8Array,
  times: Int32Array,
): Map<string, number[]> | null {
  const layouts = layoutsOf(outline, nodes);
  if (!layouts) return discriminated(outline, nodes, numbers, times);
  const kinds = new Map<string, number[]>();
  for (const [at, own] of layouts.entries()) {
    const parts = discriminated(outline, own, numbers, times) ?? byName(outline, own);
    for (const [kind, part] of parts) kinds.set(kinds.has(kind) ? `${kind} ${at + 1}` : kind, part);
  }
  return kinds;
}

/**
 * The nodes by layout: those that have an element of one name inside are of one, cells of all columns being of one name.
 * Null where there is one only, or where they are records that merely hold different things.
 */
function layoutsOf(outline: Outline, nodes: readonly number[]): number[][] | null {
  if (nodes.length < 3 || nodes.length > TABLES) return null;
  const sample = nodes.slice(0, SAMPLE);
  if (sample.filter((node) => isTable(outline, node)).length * 2 < sample.length) return null;
  const of = new Map<string, number>();
  const layouts: Set<string>[] = [];
  const inside = nodes.map((node) => namesInside(outline, node));
  for (const names of inside) {
    const known = new Set([...names].flatMap((name) => of.get(name) ?? []));
    if (names.size === 0) continue;
    const to = known.size > 0 ? leastOf(known) : layouts.push(new Set()) - 1;
    if (to >= FEW) return null;
    known.delete(to);
    for (const name of [...names, ...[...known].flatMap((other) => [...layouts[other]!])]) {
      layouts[to]!.add(name);
      of.set(name, to);
    }
  }
  const parts = new Map<number, number[]>();
  for (const [at, node] of nodes.entries()) {
    // What is empty tells nothing, so it goes with the first.
    const [first] = inside[at]!;
    const to = first === undefined ? 0 : of.get(first)!;
    const part = parts.get(to);
    if (part) part.push(node);
    else parts.set(to, [node]);
    if (parts.size > MOST) return null;
  }
  const all = [...parts.values()];
  const largest = largestOf(all.map(({ length }) => length));
  if (all.length < 2 || largest < 2 || largest * 2 < nodes.length) return null;
  return all.every((part) => part.some((node) => isTable(outline, node))) ? all : null;
}

/** Names of the elements right inside. */
function namesInside({ after, label, labels }: Outline, node: number): Set<string> {
  const names = new Set<string>();
  for (let child = node + 1; child < after[node]!; child = after[child]!) {
    const name = labels[label[child]!]!;
    if (!name.startsWith('@')) names.add(name.replace(/\[.*\]$/, ''));
  }
  return names;
}

/** True for a node that holds records or cells. */
function isTable(outline: Outline, node: number): boolean {
  if (holdsRecords(node, outline)) return true;
  for (let child = node + 1; child < outline.after[node]!; child = outline.after[child]!)
    if (outline.labels[outline.label[child]!]!.endsWith(']')) return true;
  return false;
}

/** Tables by what they are called, each by another name; one of all where they are not called so. */
function byName(outline: Outline, nodes: readonly number[]): Map<string, number[]> {
  const named = new Map(nodes.map((node) => [nameOf(outline, node), [node]]));
  return named.size === nodes.length ? named : new Map([['', [...nodes]]]);
}

/** The first value of a node that is no cell. */
function nameOf({ after, value, values, label, labels }: Outline, node: number): string {
  for (let child = node + 1; child < after[node]!; child = after[child]!)
    if (after[child] === child + 1 && value[child] !== -1 && !labels[label[child]!]!.endsWith(']'))
      return values[value[child]!]!;
  return '';
}
