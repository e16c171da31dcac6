import { parseAddress, parsePrefix } from '../../values/ip.ts';
import { attributeValue, textOf } from '../../xml/site.ts';
import { attributesOf, isElement, isLeaf, type Tree } from '../../xml/tree.ts';

const isAddress = (value: string) => value.length <= 64 && (parseAddress(value) ?? parsePrefix(value)) !== null;

/** The first IP address, with its prefix length where that is written in one value, among a record's own values. */
export function addressIn(tree: Tree, record: number): string | null {
  for (let node = record; node < tree.after[record]!; node++) {
    if (!isElement(tree, node)) continue;
    const [first, end] = attributesOf(tree, node);
    for (let attr = first; attr < end; attr++) {
      const value = attributeValue(tree, attr).trim();
      if (isAddress(value)) return value;
    }
    const value = isLeaf(tree, node) ? textOf(tree, node).trim() : '';
    if (isAddress(value)) return value;
  }
  return null;
}
