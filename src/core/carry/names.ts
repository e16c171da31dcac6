import { namespacesOf } from '../xml/namespaces.ts';
import { isElement, nameOf, type Tree } from '../xml/tree.ts';

/**
 * Names of elements as numbers that compare between two documents: by namespace and local part (Namespaces in XML 1.0,
 * third edition), and as written where a name is in no namespace. -1 for nodes that are no elements.
 */
export function commonNames(one: Tree, other: Tree): readonly [Int32Array, Int32Array] {
  const numbers = new Map<string, number>();
  return [numbered(one, numbers), numbered(other, numbers)];
}

function numbered(tree: Tree, numbers: Map<string, number>): Int32Array {
  const { uris, of, local } = namespacesOf(tree);
  const made = new Int32Array(tree.size).fill(-1);
  const known = new Map<number, number>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const space = of[node]!;
    const short = (space + 1) * tree.names.length + tree.name[node]!;
    let number = known.get(short);
    if (number === undefined) {
      const name = space === -1 ? `|${nameOf(tree, node)}` : `${uris[space]}|${local[tree.name[node]!]}`;
      number = numbers.get(name) ?? numbers.size;
      numbers.set(name, number);
      known.set(short, number);
    }
    made[node] = number;
  }
  return made;
}

/**
 * How much the forms of two documents have in common: of all chains of names from the root that the one with fewer has,
 * the part that the other has, too. 0 for roots of different names, 1 for a document that has no more than its root.
 */
export function kinship(one: Tree, other: Tree): number {
  const [names, otherNames] = commonNames(one, other);
  const chains = new Map<string, number>();
  const a = chainsOf(one, names, chains);
  const b = chainsOf(other, otherNames, chains);
  if (names[one.root] !== otherNames[other.root]) return 0;
  const [few, many] = a.size < b.size ? [a, b] : [b, a];
  let shared = 0;
  for (const chain of few) if (many.has(chain)) shared++;
  return shared / few.size;
}

function chainsOf(tree: Tree, names: Int32Array, chains: Map<string, number>): Set<number> {
  const of = new Int32Array(tree.size).fill(-1);
  const seen = new Set<number>();
  for (let node = 0; node < tree.size; node++) {
    if (names[node] === -1) continue;
    const parent = tree.parent[node]!;
    const key = `${parent === -1 ? -1 : of[parent]} ${names[node]}`;
    const chain = chains.get(key) ?? chains.size;
    chains.set(key, chain);
    of[node] = chain;
    seen.add(chain);
  }
  return seen;
}
