import { unitsOf } from '../compile/units.ts';
import type { Reading } from '../reading/reading.ts';
import type { Tree } from '../xml/tree.ts';

/** The ledger's entries, and elements of structure that name or are named: a record's own tag, a wrapper with a name. */
export function entriesOf(tree: Tree, reading: Reading): { nodes: Int32Array; of: Int32Array } {
  const units = unitsOf(tree, reading);
  const entry = new Uint8Array(tree.size);
  for (const node of units.nodes) entry[node] = 1;
  for (const { site, to } of reading.references) {
    if (units.of[site.node] === -1) entry[site.node] = 1;
    if (units.of[to] === -1) entry[to] = 1;
  }
  const nodes: number[] = [];
  const of = new Int32Array(tree.size).fill(-1);
  for (let node = 0; node < tree.size; node++) {
    const parent = tree.parent[node]!;
    if (entry[node]) of[node] = nodes.push(node) - 1;
    else if (parent !== -1) of[node] = of[parent]!;
  }
  return { nodes: Int32Array.from(nodes), of };
}

/** For each entry one past the last entry inside it. */
export function endsOf(tree: Tree, nodes: Int32Array): Int32Array {
  const ends = new Int32Array(nodes.length);
  const open: number[] = [];
  const close = (before: number, at: number) => {
    while (open.length > 0 && tree.after[nodes[open[open.length - 1]!]!]! <= before) ends[open.pop()!] = at;
  };
  for (let at = 0; at < nodes.length; at++) {
    close(nodes[at]!, at);
    open.push(at);
  }
  close(tree.size, nodes.length);
  return ends;
}
