import { largestOf } from '../../lists.ts';
import { attributeValue, textOf } from '../../xml/site.ts';
import { attributeIndexed, firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import type { Columns } from './columns.ts';
import type { Nesting } from './nesting.ts';
import type { Slots } from './slots.ts';
import { type NameGroup, typedNamesOf } from './typed-names.ts';

/** Fewer elements of one name are no school of writing. */
const LEAST = 12;
/** Share of the elements that have the attribute, and of those that it tells apart inside their parent. */
const NEARLY_ALL = 0.95;

/** As columns; `has` tells whether an element is of that school at all. */
export interface NestedNames extends Columns {
  has(node: number): boolean;
  /** True for a part of the structure that only holds values without a name of their own, all of one type. */
  isList(node: number): boolean;
}

/**
 * Finds elements of one name, or of one of several types, that lie in each other and are called by an attribute:
 * `<p n="zones"><p n="office">`. Those that stand for a part of the structure get that name; records among them, and items
 * of a list, keep it as an attribute, so that they are a collection with a key. Null where the document has none.
 */
export function nestedNamesOf(tree: Tree, nesting: Nesting, slots: Slots | null): NestedNames | null {
  const typed = slots ? null : typedNamesOf(tree, nesting);
  const groups: readonly NameGroup[] = slots ? [slots] : typed ? [typed] : singleNames(tree, nesting);
  if (groups.length === 0) return null;
  const attributeAt = new Int32Array(tree.size).fill(-1);
  const words = typed ? wordsSaid(tree, typed) : new Set<string>();
  for (const { tags, attribute } of groups) {
    const named = (node: number) => attributeIndexed(tree, node, attribute);
    const innerOf = (holder: number) => {
      const inner: number[] = [];
      const value = slots?.valueIn(holder) ?? -1;
      for (let at = firstElement(tree, value === -1 ? holder : value); at !== -1; at = nextElement(tree, at))
        if (tags.has(tree.name[at]!) && named(at) !== -1) inner.push(at);
      return inner;
    };
    const called = (node: number) => attributeValue(tree, named(node));
    const isLeaf = (node: number) => firstElement(tree, node) === -1 || (slots !== null && isPlain(tree, slots, node));
    for (let holder = 0; holder < tree.size; holder++) {
      if (!isElement(tree, holder)) continue;
      // What is in a slot is seen from its value.
      const inner = slots?.tags.has(tree.name[holder]!) ? [] : innerOf(holder);
      if (inner.length === 0) continue;
      const items = inner.length > 1 && inner.every((node) => /^\d+$/.test(called(node)));
      const said = (inner.length > 1 || firstElement(tree, inner[0]!) !== -1) && areSaid(tree, inner, called, words);
      const records = items || said || areRecords(inner, (node) => innerOf(node).map(called));
      for (const node of inner) if (!items && !said && (!records || isLeaf(node))) attributeAt[node] = named(node);
    }
  }
  const tags = new Set(groups.flatMap((group) => [...group.tags]));
  return {
    has: (node) => tags.has(tree.name[node]!),
    attributeOf: (node) => attributeAt[node]!,
    isList: (node) => typed !== null && attributeAt[node] !== -1 && holdsItems(tree, node, typed.attribute),
  };
}

const isPlain = (tree: Tree, slots: Slots, node: number): boolean => {
  const value = slots.valueIn(node);
  return value !== -1 && firstElement(tree, value) === -1;
};

/** Texts of leaves: what is called by one of them is named by it. */
function wordsSaid(tree: Tree, { tags }: NameGroup): ReadonlySet<string> {
  const words = new Set<string>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node) || !tags.has(tree.name[node]!) || firstElement(tree, node) !== -1) continue;
    const text = textOf(tree, node).trim();
    if (text !== '' && text.length <= 64) words.add(text);
  }
  return words;
}

/** Share of names that are said elsewhere, from which on what they call are records. */
const SAID = 0.5;

/** Whether elements side by side, of one type, are called by words that are said elsewhere. */
function areSaid(
  tree: Tree,
  nodes: readonly number[],
  called: (node: number) => string,
  words: ReadonlySet<string>,
): boolean {
  if (nodes.some((node) => tree.name[node] !== tree.name[nodes[0]!])) return false;
  return nodes.filter((node) => words.has(called(node))).length >= nodes.length * SAID;
}

function holdsItems(tree: Tree, node: number, attribute: number): boolean {
  const first = firstElement(tree, node);
  if (first === -1) return false;
  for (let at = first; at !== -1; at = nextElement(tree, at)) {
    if (tree.name[at] !== tree.name[first] || firstElement(tree, at) !== -1) return false;
    if (attributeIndexed(tree, at, attribute) !== -1) return false;
  }
  return true;
}

/** Elements of one name, with the attribute that calls them. */
function singleNames(tree: Tree, { count, inParent }: Nesting): NameGroup[] {
  const chosen: NameGroup[] = [];
  for (let name = 0; name < tree.names.length; name++) {
    if (count[name]! < LEAST || inParent[name]! < count[name]! * 0.5) continue;
    const has = new Map<number, number>();
    for (let node = 0; node < tree.size; node++) {
      if (tree.name[node] !== name || !isElement(tree, node)) continue;
      for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++)
        has.set(tree.attrName[attr]!, (has.get(tree.attrName[attr]!) ?? 0) + 1);
    }
    const full = [...has].filter(([, times]) => times >= count[name]! * NEARLY_ALL).map(([attribute]) => attribute);
    const telling = full.filter((attribute) => tellsApart(tree, name, attribute));
    if (telling.length === 1) chosen.push({ tags: new Set([name]), attribute: telling[0]! });
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
  return largestOf([0, ...common]) >= Math.max(2, inside.length * 0.6);
}

/** What names that lie in each other say goes before what names in rows say. */
export const withNested = (columns: Columns | null, nested: NestedNames | null): Columns | null =>
  !nested
    ? columns
    : { attributeOf: (node) => (nested.has(node) ? nested.attributeOf(node) : (columns?.attributeOf(node) ?? -1)) };
