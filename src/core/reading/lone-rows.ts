import { isElement, type Tree } from '../xml/tree.ts';

/** Names of attributes, and of elements that hold nothing but a text: a tag that names a record has more. */
export function leafNames(tree: Tree): ReadonlySet<string> {
  const names = new Set<string>();
  for (const name of tree.attrName) names.add(tree.names[name]!);
  for (let node = 0; node < tree.size; node++) {
    const plain = tree.attrFirst[node] === tree.attrFirst[node + 1] && tree.after[node] === node + 1;
    if (plain && isElement(tree, node)) names.add(tree.names[tree.name[node]!]!);
  }
  return names;
}

/** Share of the names in one row that are names of leaves elsewhere, before they name columns. */
const KNOWN = 0.6;

/** True where a row's names mostly are names of leaves in the document: a record alone, written in cells. */
export function areLeafNames(names: Iterable<string>, leaves: ReadonlySet<string>): boolean {
  let known = 0;
  let all = 0;
  for (const name of names) {
    all++;
    if (leaves.has(name)) known++;
  }
  return known >= 2 && known >= all * KNOWN;
}
