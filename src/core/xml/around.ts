import { lowerBound } from '../text/lower-bound.ts';
import type { Tree } from './tree.ts';

/** The innermost node of any kind whose span holds an offset; -1 outside the root. */
export function nodeAround(tree: Tree, offset: number): number {
  let node = lowerBound(tree.start, offset + 1) - 1;
  while (node !== -1 && tree.end[node]! <= offset) node = tree.parent[node]!;
  return node;
}
