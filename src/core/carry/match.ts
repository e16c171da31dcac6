import { keyValue } from '../reading/keys/record-name.ts';
import { isColumn } from '../reading/outline/cell-site.ts';
import type { Key } from '../reading/reading.ts';
import { attributeValue, textOf } from '../xml/site.ts';
import { attribute, attributesOf, childNamed, elementsOf, firstElement, isLeaf, type Tree } from '../xml/tree.ts';
import { commonNames } from './names.ts';

/** What stands inside an element of one document, each with what it is in the other, -1 where that has nothing like it. */
export interface Pairing {
  readonly pairs: readonly { readonly from: number; readonly to: number }[];
  /** Elements of the other document that nothing pairs with. */
  readonly rest: readonly number[];
  /** Whether elements of one name come in the same order on both sides, those without a pair last. */
  readonly inOrder: boolean;
}

/**
 * Finds elements of one document in another of the same form. Records are told by the key that the reading of the first
 * one says, where it tells all of them apart; records without one by all that they hold; settings by their names, lists
 * of settings by attributes that tell them apart, or by value.
 */
export class Matcher {
  readonly names: Int32Array;
  readonly otherNames: Int32Array;

  constructor(
    private readonly from: Tree,
    private readonly to: Tree,
    /** The key of a record of the first document; null for an element that is none. */
    private readonly keyOf: (node: number) => Key | null,
    /** The key of an entry of a flat property list; null for other elements. Several entries may have one key. */
    private readonly entryKeyOf: (node: number) => Key | null = () => null,
    /** Whether an element of the first document holds only a part of what its original holds. */
    private readonly isShell: (node: number) => boolean = () => false,
  ) {
    [this.names, this.otherNames] = commonNames(from, to);
  }

  /**
   * @param exact whether the other document is to hold the same in the end: then what has nothing to tell it apart is
   * paired by its place, so that it is changed where it stands.
   */
  pair(from: number, to: number, exact: boolean): Pairing {
    const groups = new Map<number, { from: number[]; to: number[] }>();
    const group = (name: number) => {
      let one = groups.get(name);
      if (!one) {
        one = { from: [], to: [] };
        groups.set(name, one);
      }
      return one;
    };
    for (const child of elementsOf(this.from, from)) group(this.names[child]!).from.push(child);
    for (const child of elementsOf(this.to, to)) group(this.otherNames[child]!).to.push(child);
    const found = new Map<number, number>();
    const taken = new Set<number>();
    let inOrder = true;
    for (const { from: ours, to: theirs } of groups.values()) {
      let last = -1;
      let open = false;
      for (const [at, other] of this.pairGroup(ours, theirs, exact).entries()) {
        found.set(ours[at]!, other);
        if (other === -1) open = true;
        else {
          if (open || other < last) inOrder = false;
          last = other;
          taken.add(other);
        }
      }
    }
    return {
      pairs: [...elementsOf(this.from, from)].map((child) => ({ from: child, to: found.get(child)! })),
      rest: [...elementsOf(this.to, to)].filter((child) => !taken.has(child)),
      inOrder,
    };
  }

  /** For each of ours the one of theirs that it is, -1 for none; all have one name. */
  private pairGroup(ours: readonly number[], theirs: readonly number[], exact: boolean): number[] {
    if (ours.length === 0 || theirs.length === 0) return ours.map(() => -1);
    const entryKey = this.entryKeyOf(ours[0]!);
    if (entryKey) {
      const mark = (keys: readonly string[], tree: Tree, names: Int32Array, nodes: readonly number[]) =>
        keys.map((value, at) => (value === '' ? this.content(tree, names, nodes[at]!) : `=${value}`));
      return byValue(
        mark(
          ours.map((node) => keyValue(this.from, entryKey, node)),
          this.from,
          this.names,
          ours,
        ),
        mark(this.keysOfOthers(entryKey, ours, theirs), this.to, this.otherNames, theirs),
        theirs,
      );
    }
    const key = this.keyOf(ours[0]!);
    const alone = ours.length === 1 && theirs.length === 1;
    if (key && key.by !== 'position' && key.by !== 'tag') {
      const values = ours.map((node) => keyValue(this.from, key, node));
      const others = this.keysOfOthers(key, ours, theirs);
      if (tellsApart(values) && tellsApart(others)) return byValue(values, others, theirs);
    }
    if (key?.by === 'tag' || (!key && alone)) return ours.map((_, at) => theirs[at] ?? -1);
    if (!key) {
      const name = this.tellingAttribute(ours, theirs);
      if (name !== null) {
        const value = (tree: Tree, node: number) => attributeValue(tree, attribute(tree, node, name));
        return byValue(
          ours.map((node) => value(this.from, node)),
          theirs.map((node) => value(this.to, node)),
          theirs,
        );
      }
    }
    if (exact) return ours.map((_, at) => theirs[at] ?? -1);
    const shell = ours.some((node) => this.isShell(node));
    const mark = shell ? this.ownContent : this.content;
    return byValue(
      ours.map((node) => mark.call(this, this.from, this.names, node)),
      theirs.map((node) => mark.call(this, this.to, this.otherNames, node)),
      theirs,
    );
  }

  /** Their keys, where prefixes may be others. */
  private keysOfOthers(key: Key, ours: readonly number[], theirs: readonly number[]): string[] {
    if (key.by !== 'leaf' || key.path.some(isColumn)) return theirs.map((node) => keyValue(this.to, key, node));
    const steps: number[] = [];
    let node = ours[0]!;
    for (const step of key.path) {
      node = node === -1 ? -1 : childNamed(this.from, node, step);
      if (node !== -1) steps.push(this.names[node]!);
    }
    if (steps.length < key.path.length) return theirs.map((other) => keyValue(this.to, key, other));
    return theirs.map((other) => {
      let at = other;
      for (const step of steps) {
        let child = -1;
        if (at !== -1)
          for (const one of elementsOf(this.to, at)) if (child === -1 && this.otherNames[one] === step) child = one;
        at = child;
      }
      return at === -1 ? '' : textOf(this.to, at).trim();
    });
  }

  /** An attribute that all have and whose values tell all of one side apart. */
  private tellingAttribute(ours: readonly number[], theirs: readonly number[]): string | null {
    const { from, to } = this;
    const [first, end] = attributesOf(from, ours[0]!);
    for (let attr = first; attr < end; attr++) {
      const name = from.names[from.attrName[attr]!]!;
      if (isDeclaration(name)) continue;
      const values = (tree: Tree, nodes: readonly number[]) =>
        nodes.map((node) => {
          const at = attribute(tree, node, name);
          return at === -1 ? '' : attributeValue(tree, at);
        });
      if (tellsApart(values(from, ours)) && tellsApart(values(to, theirs))) return name;
    }
    return null;
  }

  /** All that an element holds, as one text. Layout, comments and the order of attributes do not count. */
  private content(tree: Tree, names: Int32Array, node: number): string {
    let text = `<${names[node]}${attributesText(tree, node)}>`;
    if (firstElement(tree, node) === -1) return text + JSON.stringify(textOf(tree, node).trim());
    for (const child of elementsOf(tree, node)) text += this.content(tree, names, child);
    return `${text}</>`;
  }

  /** Its attributes and the values right inside it. */
  private ownContent(tree: Tree, names: Int32Array, node: number): string {
    let text = attributesText(tree, node);
    for (const child of elementsOf(tree, node)) if (isLeaf(tree, child)) text += this.content(tree, names, child);
    return text;
  }
}

export const isDeclaration = (name: string): boolean => name === 'xmlns' || name.startsWith('xmlns:');

/** Attributes in the order of their names, without declarations of namespaces. */
function attributesText(tree: Tree, node: number): string {
  const [first, end] = attributesOf(tree, node);
  const list: string[] = [];
  for (let attr = first; attr < end; attr++) {
    const name = tree.names[tree.attrName[attr]!]!;
    if (!isDeclaration(name)) list.push(` ${name}=${JSON.stringify(attributeValue(tree, attr))}`);
  }
  return list.sort().join('');
}

const tellsApart = (values: readonly string[]) => !values.includes('') && new Set(values).size === values.length;

/** Pairs equal values, the first with the first. */
function byValue(values: readonly string[], others: readonly string[], nodes: readonly number[]): number[] {
  const places = new Map<string, number[]>();
  for (let at = others.length - 1; at >= 0; at--) {
    const list = places.get(others[at]!);
    if (list) list.push(nodes[at]!);
    else places.set(others[at]!, [nodes[at]!]);
  }
  return values.map((value) => places.get(value)?.pop() ?? -1);
}
