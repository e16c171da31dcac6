import { flatListsOf } from '../reading/outline/flat-lists.ts';
import type { Tree } from '../xml/tree.ts';

/**
 * Lists whose elements name the one that they lie in by its number: what lies in an element that is left out goes with it,
 * unless it is kept, and what is kept keeps those around it, as elements inside each other do.
 * @param out subjects of the decisions by the elements that they leave out
 */
export function followLineage(tree: Tree, out: Map<number, string>, kept: Set<number>): void {
  const around = flatListsOf(tree)?.around;
  if (!around || around.size === 0 || out.size === 0) return;
  const decided = new Set([...out.keys(), ...kept]);
  for (const element of around.keys()) {
    const path: number[] = [];
    let at: number | undefined = element;
    for (; at !== undefined && !decided.has(at); at = around.get(at)) path.push(at);
    const owner = at === undefined ? undefined : out.get(at);
    for (const one of path) {
      // What nobody decides about is walked once, too.
      decided.add(one);
      if (owner !== undefined) out.set(one, owner);
      else if (at !== undefined && kept.has(at)) kept.add(one);
    }
  }
  for (const element of kept)
    for (let at = around.get(element); at !== undefined && out.delete(at); at = around.get(at));
}
