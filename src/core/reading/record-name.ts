import { lowerBound } from '../text/lower-bound.ts';
import { attributeValue, textOf } from '../xml/site.ts';
import {
  attribute,
  attributesOf,
  childNamed,
  firstElement,
  isLeaf,
  nameOf,
  nextElement,
  type Tree,
} from '../xml/tree.ts';
import type { Collection, Key } from './reading.ts';

/** What a key says of one record; empty where the record lacks it or is told by its place alone. */
export function keyValue(tree: Tree, key: Key, record: number): string {
  switch (key.by) {
    case 'tag':
      return nameOf(tree, record);
    case 'attribute': {
      const attr = attribute(tree, record, key.name);
      return attr === -1 ? '' : attributeValue(tree, attr).trim();
    }
    case 'leaf': {
      let node = record;
      for (const step of key.path) {
        if (node !== -1) node = childNamed(tree, node, step);
      }
      return node === -1 ? '' : textOf(tree, node).trim();
    }
    case 'position':
      return '';
    default:
      return key satisfies never;
  }
}

/** What people call a record: its label where it has one and its key is opaque to them, else its key, else its place. */
export function recordName(tree: Tree, collection: Collection, record: number): string {
  const key = keyValue(tree, collection.key, record);
  const label = collection.label ? keyValue(tree, collection.label, record) : '';
  const place = () => `${collection.item ?? nameOf(tree, record)} ${placeIn(collection.records, record) + 1}`;
  return label || key || place();
}

/**
 * What a line of a flat list says that it sets: its first attribute, where others beside it have its tag and the value
 * stands behind. Null for any other element.
 */
export function lineName(tree: Tree, node: number): { readonly attr: number; readonly name: string } | null {
  const [first, end] = attributesOf(tree, node);
  if (first === end || !isLeaf(tree, node) || tree.parent[node] === -1) return null;
  if (end - first < 2 && textOf(tree, node).trim() === '') return null;
  const eldest = firstElement(tree, tree.parent[node]!);
  const next = nextElement(tree, node);
  const kin = (other: number) => other !== -1 && other !== node && tree.name[other] === tree.name[node];
  if (!kin(eldest) && !kin(next)) return null;
  const name = attributeValue(tree, first).trim();
  return name === '' || name.length > 120 ? null : { attr: first, name };
}

/** Index of a record among others, mostly in the order of the file. */
function placeIn(records: readonly number[], record: number): number {
  const at = lowerBound(records, record);
  return records[at] === record ? at : records.indexOf(record);
}
