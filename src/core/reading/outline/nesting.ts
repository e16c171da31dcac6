import { isElement, type Tree } from '../../xml/tree.ts';

/** How elements lie in elements of their own name, by the index of the name: what schools of nested names are told by at a glance. */
export interface Nesting {
  /** Elements but for the root. */
  readonly elements: number;
  readonly count: Int32Array;
  /** Those whose parent has the name, and those whose parent's parent has it. */
  readonly inParent: Int32Array;
  readonly inGrandparent: Int32Array;
}

export function nestingOf(tree: Tree): Nesting {
  const { name, parent, names, size, root } = tree;
  const count = new Int32Array(names.length);
  const inParent = new Int32Array(names.length);
  const inGrandparent = new Int32Array(names.length);
  let elements = 0;
  for (let node = 0; node < size; node++) {
    if (!isElement(tree, node) || node === root) continue;
    const own = name[node]!;
    const above = parent[node]!;
    elements++;
    count[own]!++;
    if (name[above] === own) inParent[own]!++;
    const further = parent[above]!;
    if (further !== -1 && name[further] === own) inGrandparent[own]!++;
  }
  return { elements, count, inParent, inGrandparent };
}
