import { TEXT, valueAt } from '../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../xml/tree.ts';

/** Elements that hold a name and a value, one child each: `<has><name>port</name><value>igb0</value></has>`. */
export interface Pairs {
  /** The name that such an element holds, null for any other element. */
  nameOf(node: number): string | null;
}

const columnName = /^[\p{L}_][\p{L}\p{M}\p{N}_.:-]{0,60}$/u;

interface Count {
  all: number;
  names: Map<string, number>;
  rows: number;
  lastParent: number;
  first: number;
  second: number;
}

/** Finds pairs as one finds cells: the names come back under other parents. Null where the document has none. */
export function pairsOf(tree: Tree): Pairs | null {
  const counts = new Map<number, Count>();
  const broken = new Set<number>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const name = tree.name[node]!;
    if (broken.has(name)) continue;
    const first = firstElement(tree, node);
    const second = first === -1 ? -1 : nextElement(tree, first);
    if (second === -1 || nextElement(tree, second) !== -1 || firstElement(tree, first) !== -1) {
      broken.add(name);
      continue;
    }
    let count = counts.get(name);
    if (!count) {
      count = {
        all: 0,
        names: new Map(),
        rows: 0,
        lastParent: -1,
        first: tree.name[first]!,
        second: tree.name[second]!,
      };
      counts.set(name, count);
    }
    const text = valueAt(tree, { node: first, attr: TEXT }).trim();
    if (
      count.first !== tree.name[first] ||
      count.second !== tree.name[second] ||
      count.first === count.second ||
      !columnName.test(text)
    ) {
      broken.add(name);
      continue;
    }
    count.all++;
    if (count.lastParent !== tree.parent[node]) count.rows++;
    count.lastParent = tree.parent[node]!;
    count.names.set(text, (count.names.get(text) ?? 0) + 1);
  }
  const chosen = new Set<number>();
  for (const [name, { all, rows, names }] of counts) {
    if (broken.has(name) || all < 6 || rows < 2 || all < rows * 1.5) continue;
    let again = 0;
    for (const times of names.values()) if (times > 1) again += times;
    if (again >= all * 0.6) chosen.add(name);
  }
  if (chosen.size === 0) return null;
  return {
    nameOf: (node) =>
      chosen.has(tree.name[node]!) ? valueAt(tree, { node: firstElement(tree, node), attr: TEXT }).trim() : null,
  };
}
