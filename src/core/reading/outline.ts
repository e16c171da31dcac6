import { decodeReferences } from '../xml/escape.ts';
import { TAG, TEXT, textOf } from '../xml/site.ts';
import { isElement, type Tree } from '../xml/tree.ts';
import { columnsOf } from './columns.ts';

/**
 * The document as the inference sees it: one node for each element and each attribute, in document order, parents
 * before children. Elements that are cells of a row get the name of their column as a label, and the keys of a
 * property list are opened into a tree, so that every school of writing looks the same from here on.
 */
export interface Outline {
  readonly tree: Tree;
  readonly size: number;
  readonly labels: readonly string[];
  /** Arrays of length `size`. `label` is an index into `labels`. */
  readonly label: Int32Array;
  readonly parent: Int32Array;
  /** One past the last node inside. */
  readonly after: Int32Array;
  /** The element; for an attribute the one that has it. */
  readonly node: Int32Array;
  /** Index of the attribute, TEXT for an element, NO_VALUE for a node that is only part of a key. */
  readonly attr: Int32Array;
  /** Index into `values`, -1 where there is none. */
  readonly value: Int32Array;
  /** Decoded and trimmed, each text once (long ones may repeat). */
  readonly values: readonly string[];
  /** Where a label is written when it is no tag: [site attribute, from, to] for each node; null for plain documents. */
  readonly keyAttr: Int32Array | null;
  readonly keyFrom: Int32Array | null;
  readonly keyTo: Int32Array | null;
}

export const NO_VALUE = -3;

/** Longer values hold no names: certificates, archives. They are not looked up, so they need not be unique. */
const LONG = 200;

export class OutlineBuilder {
  readonly labels: string[] = [];
  readonly values: string[] = [];
  private readonly labelIndex = new Map<string, number>();
  private readonly valueIndex = new Map<string, number>();

  labelOf(name: string): number {
    let index = this.labelIndex.get(name);
    if (index === undefined) {
      index = this.labels.push(name) - 1;
      this.labelIndex.set(name, index);
    }
    return index;
  }

  valueOf(text: string): number {
    const value = text.trim();
    if (value === '') return -1;
    if (value.length > LONG) return this.values.push(value) - 1;
    let index = this.valueIndex.get(value);
    if (index === undefined) {
      index = this.values.push(value) - 1;
      this.valueIndex.set(value, index);
    }
    return index;
  }
}

export function outlineOf(tree: Tree): Outline {
  const builder = new OutlineBuilder();
  const columns = columnsOf(tree);
  const capacity = tree.size + tree.attrName.length;
  const label = new Int32Array(capacity);
  const parent = new Int32Array(capacity);
  const after = new Int32Array(capacity);
  const node = new Int32Array(capacity);
  const attr = new Int32Array(capacity);
  const value = new Int32Array(capacity).fill(-1);
  const place = new Int32Array(tree.size).fill(-1);
  const elementLabel = tree.names.map((name) => builder.labelOf(name));
  const attributeLabel = tree.names.map((name) => (name.startsWith('xmlns') ? -1 : builder.labelOf(`@${name}`)));
  let size = 0;
  for (let at = 0; at < tree.size; at++) {
    if (!isElement(tree, at)) continue;
    const me = size++;
    place[at] = me;
    const above = tree.parent[at]!;
    parent[me] = above === -1 ? -1 : place[above]!;
    node[me] = at;
    attr[me] = TEXT;
    const column = columns?.attributeOf(at) ?? -1;
    label[me] =
      column === -1
        ? elementLabel[tree.name[at]!]!
        : builder.labelOf(`${tree.names[tree.name[at]!]}[${rawAttribute(tree, column)}]`);
    for (let a = tree.attrFirst[at]!; a < tree.attrFirst[at + 1]!; a++) {
      const name = attributeLabel[tree.attrName[a]!]!;
      if (name === -1 || a === column) continue;
      const own = size++;
      parent[own] = me;
      node[own] = at;
      attr[own] = a;
      label[own] = name;
      after[own] = own + 1;
      value[own] = builder.valueOf(rawAttribute(tree, a));
    }
    if (leafInTree(tree, at)) value[me] = builder.valueOf(textOf(tree, at));
  }
  // Where a subtree ends: one past its last node, known once all are placed.
  for (let me = size - 1; me >= 0; me--) {
    if (after[me]! <= me) after[me] = me + 1;
    const above = parent[me]!;
    if (above !== -1 && after[above]! < after[me]!) after[above] = after[me]!;
  }
  return {
    tree,
    size,
    labels: builder.labels,
    label: label.subarray(0, size),
    parent: parent.subarray(0, size),
    after: after.subarray(0, size),
    node: node.subarray(0, size),
    attr: attr.subarray(0, size),
    value: value.subarray(0, size),
    values: builder.values,
    keyAttr: null,
    keyFrom: null,
    keyTo: null,
  };
}

/** True where an element has no element inside (comments and CDATA may be there). */
function leafInTree(tree: Tree, node: number): boolean {
  const end = tree.after[node]!;
  for (let at = node + 1; at < end; at++) if (tree.kind[at] === 0) return false;
  return true;
}

export function rawAttribute(tree: Tree, attr: number): string {
  return decodeReferences(tree.text.slice(tree.valueStart[attr]!, tree.valueEnd[attr]!), true);
}

/** The site that holds the value of an outline node. */
export function siteOf(outline: Outline, at: number): { node: number; attr: number } {
  return { node: outline.node[at]!, attr: outline.attr[at]! };
}

/** The site of a label used as a value: the tag, or the key that it is part of. */
export function labelSite(outline: Outline, at: number): { node: number; attr: number } {
  return { node: outline.node[at]!, attr: outline.keyAttr ? outline.keyAttr[at]! : TAG };
}
