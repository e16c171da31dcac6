import { elementsOf, isLeaf, nameOf, type Tree } from '../xml/tree.ts';
import { type Captions, captionText } from './captions.ts';
import type { Section } from './reading.ts';

/** The blocks of the section list: children of the root, or of the one wrapper that holds everything. */
export function sectionsOf(tree: Tree, recordsIn: (from: number, to: number) => number, captions: Captions): Section[] {
  const isCaption = new Set(captions.values());
  let top = tree.root;
  for (let depth = 0; depth < 3; depth++) {
    const inner = [...elementsOf(tree, top)].filter((node) => !isLeaf(tree, node));
    if (inner.length !== 1) break;
    top = inner[0]!;
  }
  const named = [...elementsOf(tree, top)].filter((node) => !isCaption.has(node));
  return named.map((node) => ({
    node,
    name: captions.has(node) ? captionText(tree, captions.get(node)!) : nameOf(tree, node),
    records: recordsIn(node, tree.after[node]!),
    size: tree.end[node]! - tree.start[node]!,
  }));
}
