import { attributeValue } from '../xml/site.ts';
import { attributeIndexed, firstElement, isElement, nextElement, type Tree } from '../xml/tree.ts';
import type { Columns } from './columns.ts';

/** Fewer elements of one name are no school of writing. */
const LEAST = 12;
/** Share of the elements that have the attribute, and of those that it tells apart inside their parent. */
const NEARLY_ALL = 0.95;

/** As columns; `has` tells whether an element is of that school at all. */
export interface NestedNames extends Columns {
  has(node: number): boolean;
}

/**
 * Finds elements of one name that lie in each other and are called by an attribute: `<p n="zones"><p n="office">`. Those
 * that stand for a part of the structure get that name; records among them, and items of a list, keep it as an attribute,
 * so that they are a collection with a key. Null where the document has none.
 */
export function nestedNamesOf(tree: Tree): NestedNames | null {
  const chosen = chosenNames(tree);
  if (chosen.size === 0) return null;
  const attributeAt = new Int32Array(tree.size).fill(-1);
  for (const [name, attribute] of chosen) {
    const named = (node: number) => attributeIndexed(tree, node, attribute);
    const namesIn = (node: number) => {
      const names: string[] = [];
      for (let at = firstElement(tree, node); at !== -1; at = nextElement(tree, at))
        if (tree.name[at] === name && named(at) !== -1) names.push(attributeValue(tree, named(at)));
      return names;
    };
    for (let holder = 0; holder < tree.size; holder++) {
      if (!isElement(tree, holder)) continue;
      const inner: number[] = [];
      for (let at = firstElement(tree, holder); at !== -1; at = nextElement(tree, at))
        if (tree.name[at] === name && named(at) !== -1) inner.push(at);
      if (inner.length === 0) continue;
      const called = inner.map((node) => attributeValue(tree, named(node)));
      const items = inner.length > 1 && called.every((text) => /^\d+$/.test(text));
      const records = items || areRecords(inner, namesIn);
      for (const node of inner)
        if (!items && (!records || firstElement(tree, node) === -1)) attributeAt[node] = named(node);
    }
  }
  return { has: (node) => chosen.has(tree.name[node]!), attributeOf: (node) => attributeAt[node]! };
}

/** By the name of an element the name of the attribute that calls it. */
function chosenNames(tree: Tree): ReadonlyMap<number, number> {
  const elements = new Map<number, { count: number; nested: number; has: Map<number, number> }>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node) || node === tree.root) continue;
    let one = elements.get(tree.name[node]!);
    if (!one) {
      one = { count: 0, nested: 0, has: new Map() };
      elements.set(tree.name[node]!, one);
    }
    one.count++;
    if (tree.name[tree.parent[node]!] === tree.name[node]) one.nested++;
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++)
      one.has.set(tree.attrName[attr]!, (one.has.get(tree.attrName[attr]!) ?? 0) + 1);
  }
  const chosen = new Map<number, number>();
  for (const [name, { count, nested, has }] of elements) {
    if (count < LEAST || nested < count * 0.5) continue;
    const full = [...has].filter(([, times]) => times >= count * NEARLY_ALL).map(([attribute]) => attribute);
    const telling = full.filter((attribute) => tellsApart(tree, name, attribute));
    if (telling.length === 1) chosen.set(name, telling[0]!);
  }
  return chosen;
}

/** Whether an attribute has another value in nearly every element of the name in one parent. */
function tellsApart(tree: Tree, name: number, attribute: number): boolean {
  const seen = new Map<number, Set<string>>();
  let count = 0;
  let doubled = 0;
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node) || tree.name[node] !== name) continue;
    const attr = attributeIndexed(tree, node, attribute);
    if (attr === -1) continue;
    const parent = tree.parent[node]!;
    const value = attributeValue(tree, attr);
    const known = seen.get(parent);
    count++;
    if (!known) seen.set(parent, new Set([value]));
    else if (known.has(value)) doubled++;
    else known.add(value);
  }
  return doubled <= count * (1 - NEARLY_ALL);
}

/**
 * Whether elements side by side are records: most of them hold the same names.
 * @param namesIn what those are called that an element holds.
 */
export function areRecords(nodes: readonly number[], namesIn: (node: number) => readonly string[]): boolean {
  const inside = nodes.map(namesIn).filter((names) => names.length > 0);
  if (inside.length < 2 || inside.length < nodes.length * 0.6) return false;
  const times = new Map<string, number>();
  for (const names of inside) for (const name of names) times.set(name, (times.get(name) ?? 0) + 1);
  const common = [...times].filter(([text]) => !/^\d+$/.test(text)).map(([, count]) => count);
  return Math.max(0, ...common) >= Math.max(2, inside.length * 0.6);
}
