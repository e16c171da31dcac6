import type { Outline } from '../outline/outline.ts';
import { signature, signatureCohesion } from './cohesion.ts';

/** Rows of a table may lie so many levels deeper. */
const WRAPPED = 2;
/** Nodes in them that are looked at. */
const LOOK = 16;

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

/** True for a node that holds rows of cells, which are called by their columns, within elements that only wrap them. */
export function holdsRows(node: number, outline: Outline): boolean {
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
export function areListsOfOneKind(outline: Outline, nodes: readonly number[], numbers: Uint8Array): boolean {
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
export function rowsAlone(outline: Outline, nodes: readonly number[], holding: readonly number[]): number {
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
