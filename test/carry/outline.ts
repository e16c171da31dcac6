import { XMLParser } from 'fast-xml-parser';
import { pathOf } from '../../src/core/xml/path.ts';
import { isElement, isLeaf, type Tree } from '../../src/core/xml/tree.ts';

/** Every element with its path. */
export function elements(tree: Tree): { node: number; path: string; leaf: boolean }[] {
  const all: { node: number; path: string; leaf: boolean }[] = [];
  for (let node = 0; node < tree.size; node++) {
    if (isElement(tree, node)) all.push({ node, path: pathOf(tree, node), leaf: isLeaf(tree, node) });
  }
  return all;
}

const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '~',
  parseTagValue: false,
  parseAttributeValue: false,
  ignoreDeclaration: true,
  processEntities: true,
  trimValues: true,
  transformTagName: (name) => (name.startsWith('~') ? name : `~${name}`),
});

/** The content of a document as another parser reads it: names, attributes, values in order; comments and layout left out. */
export const content = (text: string): unknown => parser.parse(text.replaceAll('\r\n', '\n'));
