import { recordTest } from '../reading/keys/record-test.ts';
import type { Reading } from '../reading/reading.ts';
import { attributesOf, firstElement, isElement, type Tree } from '../xml/tree.ts';

/**
 * The entries of the ledger. A unit is a record of a collection or, outside all records, an element that holds a value
 * of its own (a single setting). Everything else is structure. Units may hold others; what lies in two belongs to the
 * inner one.
 */
export interface Units {
  /** Unit nodes in document order. */
  readonly nodes: Int32Array;
  /** For each node of the tree the unit that it belongs to, -1 for structure. */
  readonly of: Int32Array;
}

const known = new WeakMap<Reading, Units>();

/** Made once for a reading, which is always of one tree. */
export function unitsOf(tree: Tree, reading: Reading): Units {
  const units = known.get(reading) ?? find(tree, reading);
  known.set(reading, units);
  return units;
}

function find(tree: Tree, reading: Reading): Units {
  const isRecord = recordTest(reading.collections);
  const of = new Int32Array(tree.size).fill(-1);
  const { headers } = reading.values;
  const captions = new Set(reading.captions.values());
  const inRecord = new Uint8Array(tree.size);
  const nodes: number[] = [];
  for (let node = 0; node < tree.size; node++) {
    const parent = tree.parent[node]!;
    if (parent !== -1) {
      of[node] = of[parent]!;
      // The head of a table is structure, too.
      inRecord[node] = headers.has(node) ? 1 : inRecord[parent]!;
    }
    if (!isElement(tree, node)) continue;
    if (isRecord(node)) inRecord[node] = 1;
    else if (inRecord[node] || captions.has(node) || !holdsValue(tree, node)) continue;
    of[node] = node;
    nodes.push(node);
  }
  // A caption belongs to what it names and is no entry of its own.
  for (const [named, caption] of reading.captions) of[caption] = of[named]!;
  return { nodes: Int32Array.from(nodes), of };
}

function holdsValue(tree: Tree, node: number): boolean {
  const [first, end] = attributesOf(tree, node);
  return end > first || firstElement(tree, node) === -1;
}
