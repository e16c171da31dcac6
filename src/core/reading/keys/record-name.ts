import { lowerBound } from '../../text/lower-bound.ts';
import { attributeValue, type PartSite, TAG, TEXT, textOf, valueAt } from '../../xml/site.ts';
import {
  attribute,
  attributesOf,
  childNamed,
  firstElement,
  isLeaf,
  nameOf,
  nextElement,
  previousElement,
  type Tree,
} from '../../xml/tree.ts';
import { kindOf } from '../names/literals.ts';
import { CAPTION } from '../outline/captions.ts';
import { cellSite, isColumn } from '../outline/cell-site.ts';
import { linesOf } from '../outline/lines.ts';
import { settingSite } from '../outline/settings-in-text.ts';
import type { Collection, Key } from '../reading.ts';

/** Where the key of a record stands; null where the record lacks it, or is told by its place alone. */
export function keySite(tree: Tree, key: Key, record: number): PartSite | null {
  switch (key.by) {
    case 'tag':
      return { node: record, attr: TAG };
    case 'attribute': {
      const attr = attribute(tree, record, key.name);
      return attr === -1 ? null : { node: record, attr };
    }
    case 'leaf': {
      let site: PartSite = { node: record, attr: TEXT };
      for (const step of key.path) {
        if (step === CAPTION) {
          const caption = previousElement(tree, site.node);
          if (caption === -1) return null;
          site = { node: caption, attr: TEXT };
          continue;
        }
        if (step.startsWith('@')) {
          const attr = attribute(tree, site.node, step.slice(1));
          if (attr === -1) return null;
          site = { node: site.node, attr };
          continue;
        }
        const cell = isColumn(step) ? cellSite(tree, site.node, step) : null;
        const node = cell ? cell.node : childNamed(tree, site.node, step);
        if (node === -1) {
          const part = settingSite(tree, site.node, step);
          if (!part) return null;
          site = part;
          continue;
        }
        site = cell ?? { node, attr: TEXT };
      }
      return site;
    }
    case 'position':
      return null;
    default:
      return key satisfies never;
  }
}

/** What a key says of one record; empty where the record lacks it or is told by its place alone. */
export function keyValue(tree: Tree, key: Key, record: number): string {
  const site = keySite(tree, key, record);
  return site ? valueAt(tree, site).trim() : '';
}

/** Longer words than these, or a whole sentence, tell about a record rather than name it. */
const isRemark = (label: string) => label.length > 48 || /[.!?]$/.test(label);

/** Whether a key says something to people. */
function isTelling(key: string): boolean {
  const kind = kindOf(key);
  return key !== '' && kind !== 'opaque' && kind !== 'integer';
}

/**
 * What people call a record: its label where it has one, else its key, else its place; its key where that tells people more
 * than a remark does.
 */
export function recordName(tree: Tree, collection: Collection, record: number): string {
  const listed = linesOf(tree).recordName(collection, record);
  const key = listed?.key ?? keyValue(tree, collection.key, record);
  const label = listed?.label ?? (collection.label ? keyValue(tree, collection.label, record) : '');
  const place = () => `${collection.item ?? nameOf(tree, record)} ${placeIn(collection.records, record) + 1}`;
  if (isTelling(key) && isRemark(label)) return key;
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
