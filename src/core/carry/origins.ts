import type { Edits } from '../compile/edits.ts';
import { isElement, nameOf, type Tree } from '../xml/tree.ts';

/** Where the elements of a plan's result come from. */
export interface Origins {
  /** For each node of the result the donor's node that it was, or is a copy of; -1 for nodes that are no elements. */
  readonly of: Int32Array;
  /** 1 for elements of records that the plan adds. */
  readonly added: Uint8Array;
}

/** Both trees are walked side by side: what the edits leave out is passed over, what they add is counted in. */
export function originsOf(donor: Tree, edits: Edits, result: Tree): Origins {
  const of = new Int32Array(result.size).fill(-1);
  const added = new Uint8Array(result.size);
  let at = 0;
  const put = (node: number, isAdded: boolean) => {
    while (at < result.size && !isElement(result, at)) at++;
    if (at >= result.size || (!edits.tags.has(node) && !isAdded && nameOf(result, at) !== nameOf(donor, node)))
      throw new Error(`the result does not follow from the edits at node ${node}`);
    added[at] = isAdded ? 1 : 0;
    of[at++] = node;
  };
  const comers = [...edits.added].map((record, order) => ({ ...record, order, place: donor.after[record.after]! }));
  // What stands behind an inner element comes before what stands behind the one around it.
  comers.sort((a, b) => a.place - b.place || b.after - a.after || a.order - b.order);
  let next = 0;
  for (let node = 0; node <= donor.size; ) {
    for (; next < comers.length && comers[next]!.place <= node; next++)
      for (const part of comers[next]!.parts)
        for (let inner = part; inner < donor.after[part]!; inner++) if (isElement(donor, inner)) put(inner, true);
    if (node === donor.size) break;
    if (edits.leftOut.has(node)) {
      node = donor.after[node]!;
      continue;
    }
    if (isElement(donor, node)) put(node, false);
    node++;
  }
  return { of, added };
}
