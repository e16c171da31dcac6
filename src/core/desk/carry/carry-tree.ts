import { collectionPath, sectionPath } from '../../compile/leave-out.ts';
import { spreadRecords } from '../../compile/spread.ts';
import { type Units, unitsOf } from '../../compile/units.ts';
import { recordLists } from '../../reading/keys/record-lists.ts';
import { sectionIndex } from '../../reading/keys/sections.ts';
import type { Reading } from '../../reading/reading.ts';
import { pathOf } from '../../xml/path.ts';
import type { Tree } from '../../xml/tree.ts';

export const Row = { section: 0, collection: 1, record: 2, setting: 3 } as const;

/**
 * Sections, or collections that stand beside them, in them collections and single settings, in these records, in these
 * collections again: the rows of the carry sheet as flat arrays, made once for a reading. A record that is written as
 * several lines of a list has its other lines in it. A row comes after the one it lies in. Every entry of the ledger has
 * exactly one row of its own, but the root, which cannot stay behind; a collection and a section of lines have no entry.
 */
export interface CarryTree {
  readonly units: Units;
  readonly size: number;
  readonly kind: Uint8Array;
  /** The element; of a collection the one that holds its records. */
  readonly node: Int32Array;
  /** Row that it lies in, -1 for the top. */
  readonly parent: Int32Array;
  /** Index into the reading's collections: of a collection itself, or of the one that a record is in; -1 for none. */
  readonly collection: Int32Array;
  /** Rows by the row they lie in, tops first: children of row r are `children[first[r + 1]]` up to `first[r + 2]`. */
  readonly first: Int32Array;
  readonly children: Int32Array;
  /** Place of each row among its siblings, from 0. */
  readonly place: Int32Array;
  /** Row of each node that has one, -1 for others. */
  readonly rowOf: Int32Array;
  /** Row of each collection of the reading, -1 for one that has none: its records are all sections, or lines of a list. */
  readonly rowOfCollection: Int32Array;
  /** Row of each section of the reading, -1 for one that is a collection there. */
  readonly rowOfSection: Int32Array;
  /** By row, the section that it is; -1 for other rows. */
  readonly section: Int32Array;
}

const cache = new WeakMap<Reading, CarryTree>();

export function carryTree(tree: Tree, reading: Reading): CarryTree {
  const known = cache.get(reading);
  if (known) return known;
  const made = build(tree, reading);
  cache.set(reading, made);
  return made;
}

function build(tree: Tree, reading: Reading): CarryTree {
  const units = unitsOf(tree, reading);
  const { sections, collections } = reading;
  const sectionOf = sectionIndex(tree, sections);
  const lists = recordLists(reading);
  const most = sections.length + collections.length + units.nodes.length;
  const kind = new Uint8Array(most);
  const node = new Int32Array(most);
  const parent = new Int32Array(most);
  const collection = new Int32Array(most).fill(-1);
  const section = new Int32Array(most).fill(-1);
  const rowOf = new Int32Array(tree.size).fill(-1);
  const rowOfCollection = new Int32Array(collections.length).fill(-1);
  let size = 0;
  const add = (what: number, element: number, above: number, of: number) => {
    kind[size] = what;
    node[size] = element;
    parent[size] = above;
    collection[size] = of;
    return size++;
  };
  /** Row of each section; records that stand at the top are collections there. */
  const rowOfSection = Int32Array.from(sections, ({ node, nodes, lines }, at) => {
    if (nodes.length === 1 || lines) {
      const row = add(Row.section, node, -1, -1);
      section[row] = at;
      if (!lines) rowOf[node] = row;
      return row;
    }
    for (const one of nodes) {
      const own = lists.indexOf(one);
      if (rowOfCollection[own] === -1) rowOfCollection[own] = add(Row.collection, collections[own]!.parent, -1, own);
    }
    return -1;
  });
  const lineOf = linesOfRecords(tree, reading);
  /** Records around the present unit. */
  const around: number[] = [];
  for (const unit of units.nodes) {
    if (unit === tree.root) continue;
    while (around.length > 0 && unit >= tree.after[around[around.length - 1]!]!) around.pop();
    const own = lists.indexOf(unit);
    const at = sectionOf(unit);
    const top = rowOfSection[at] ?? -1;
    const inList = around.length === 0 && sections[at]?.lines === true;
    const head = inList ? lineOf.get(unit) : undefined;
    const inside = around.length > 0 ? around[around.length - 1]! : head;
    const holder = inside === undefined || rowOf[inside] === -1 ? top : rowOf[inside]!;
    if (rowOf[unit] === -1) {
      if (own === -1) rowOf[unit] = add(Row.setting, unit, holder, -1);
      else if (inList) rowOf[unit] = add(Row.record, unit, holder, own);
      else {
        if (rowOfCollection[own] === -1)
          rowOfCollection[own] = add(Row.collection, collections[own]!.parent, holder, own);
        rowOf[unit] = add(Row.record, unit, rowOfCollection[own]!, own);
      }
    } else collection[rowOf[unit]!] = own;
    if (own !== -1) around.push(unit);
  }
  return {
    units,
    size,
    kind,
    node,
    parent,
    collection,
    rowOf,
    rowOfCollection,
    rowOfSection,
    section,
    ...childrenOf(parent, size),
  };
}

/** For each line of a list the line that stands for the innermost record it belongs to, where that stands before it. */
function linesOfRecords(tree: Tree, reading: Reading): ReadonlyMap<number, number> {
  const heads = new Map<number, number>();
  const records = [...spreadRecords(tree, reading)].sort(([, a], [, b]) => b.length - a.length);
  for (const [head, lines] of records) for (const line of lines) if (line > head) heads.set(line, head);
  return heads;
}

function childrenOf(parent: Int32Array, size: number): Pick<CarryTree, 'first' | 'children' | 'place'> {
  const first = new Int32Array(size + 2);
  for (let row = 0; row < size; row++) first[parent[row]! + 2]!++;
  for (let at = 0; at <= size; at++) first[at + 1]! += first[at]!;
  const next = first.slice();
  const children = new Int32Array(size);
  const place = new Int32Array(size);
  for (let row = 0; row < size; row++) {
    const above = parent[row]! + 1;
    place[row] = next[above]! - first[above]!;
    children[next[above]!++] = row;
  }
  return { first, children, place };
}

/** What decisions call a row. */
export function idOf(tree: Tree, rows: CarryTree, { collections, sections }: Reading, row: number): string {
  if (rows.section[row] !== -1) return sectionPath(tree, sections[rows.section[row]!]!);
  if (rows.kind[row] !== Row.collection) return pathOf(tree, rows.node[row]!);
  return collectionPath(tree, collections[rows.collection[row]!]!);
}
