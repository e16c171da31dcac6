import { elementsOf, type Tree } from '../../xml/tree.ts';

/** How many elements lie in one, in all and by name. */
interface Kin {
  readonly all: number;
  readonly byName: ReadonlyMap<number, number>;
}

const known = new WeakMap<Tree, Map<number, Kin>>();

/** Counted once for each element, as many names may ask for the same. */
function kinIn(tree: Tree, parent: number): Kin {
  const ofParent = known.get(tree) ?? new Map<number, Kin>();
  known.set(tree, ofParent);
  let kin = ofParent.get(parent);
  if (!kin) {
    const byName = new Map<number, number>();
    let all = 0;
    for (const child of elementsOf(tree, parent)) {
      all++;
      byName.set(tree.name[child]!, (byName.get(tree.name[child]!) ?? 0) + 1);
    }
    kin = { all, byName };
    ofParent.set(parent, kin);
  }
  return kin;
}

/** How many elements lie beside one in the same element, itself among them: those of its name, and all. */
export function kinOf(tree: Tree, node: number): { readonly own: number; readonly all: number } {
  const { all, byName } = kinIn(tree, tree.parent[node]!);
  return { own: byName.get(tree.name[node]!)!, all };
}
