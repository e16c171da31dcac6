import { collectionPath } from '../compile/leave-out.ts';
import { type Units, unitsOf } from '../compile/units.ts';
import type { Collection, Reading } from '../reading/reading.ts';
import { sectionIndex } from '../reading/sections.ts';
import { pathOf } from '../xml/path.ts';
import type { Tree } from '../xml/tree.ts';

export const Row = { section: 0, collection: 1, record: 2, setting: 3 } as const;

/**
 * Sections, or collections that stand beside them, in them collections and single settings, in these records, in these collections again: the rows of the carry
 * sheet as flat arrays, made once for a reading. A row comes after the one it lies in. Every entry of the ledger has
 * exactly one row of its own, but the root, which cannot stay behind; a collection has no entry.
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
  /** Row of each collection of the reading, -1 for one whose records are all sections. */
  readonly rowOfCollection: Int32Array;
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
  const collectionOf = new Int32Array(tree.size).fill(-1);
  for (const [at, { records }] of collections.entries()) for (const node of records) collectionOf[node] = at;
  const most = sections.length + collections.length + units.nodes.length;
  const kind = new Uint8Array(most);
  const node = new Int32Array(most);
  const parent = new Int32Array(most);
  const collection = new Int32Array(most).fill(-1);
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
  const rowOfSection = sections.map(({ node, nodes }) => {
    if (nodes.length === 1) {
      rowOf[node] = add(Row.section, node, -1, -1);
      return rowOf[node]!;
    }
    for (const one of nodes) {
      const own = collectionOf[one]!;
      if (rowOfCollection[own] === -1) rowOfCollection[own] = add(Row.collection, collections[own]!.parent, -1, own);
    }
    return -1;
  });
  /** Records around the present unit. */
  const around: number[] = [];
  for (const unit of units.nodes) {
    if (unit === tree.root) continue;
    while (around.length > 0 && unit >= tree.after[around[around.length - 1]!]!) around.pop();
    const own = collectionOf[unit]!;
    const holder = around.length > 0 ? rowOf[around[around.length - 1]!]! : (rowOfSection[sectionOf(unit)] ?? -1);
    if (rowOf[unit] === -1) {
      if (own === -1) rowOf[unit] = add(Row.setting, unit, holder, -1);
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
    ...childrenOf(parent, size),
  };
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
export function idOf(tree: Tree, rows: CarryTree, collections: readonly Collection[], row: number): string {
  if (rows.kind[row] !== Row.collection) return pathOf(tree, rows.node[row]!);
  return collectionPath(tree, rows.node[row]!, collections[rows.collection[row]!]!.item);
}
