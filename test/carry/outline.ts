import { pathOf } from '../../src/core/xml/path.ts';
import { isElement, isLeaf, type Tree } from '../../src/core/xml/tree.ts';
import { readPaths } from '../dialects/check.ts';

/** Every element with its path. */
export function elements(tree: Tree): { node: number; path: string; leaf: boolean }[] {
  const all: { node: number; path: string; leaf: boolean }[] = [];
  for (let node = 0; node < tree.size; node++) {
    if (isElement(tree, node)) all.push({ node, path: pathOf(tree, node), leaf: isLeaf(tree, node) });
  }
  return all;
}

/** The content of a document as a parser reads it that shares no code with the tree: names, attributes, values; no layout. */
export const content = (text: string): string[] =>
  [...readPaths(text)].map(([path, value]) => `${path} = ${value.replace(/\r\n?/g, '\n').trim()}`);
