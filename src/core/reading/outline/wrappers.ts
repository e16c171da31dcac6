import { attributesOf, firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import type { Columns } from './columns.ts';

/**
 * Element names that add nothing but a level: every element of the name stands among siblings of that name only, below
 * parents of several names (`<port><value>…</value></port>`, `<role><body>…</body></role>`). `value` wraps leaves,
 * `body` wraps what is inside a record. Where nearly every parent has a name of its own, as its tag or in an attribute, these
 * names are keys and the element is the one field of their records.
 */
export interface Wrappers {
  readonly leaf: Uint8Array;
  readonly body: Uint8Array;
}

/** Share of the parents of one name of element that have names of their own, above which these are keys. */
const KEYS = 0.7;

/**
 * @param columns the cells of rows: they are named by an attribute, and so wrap nothing.
 * @param numbered what tags are called that only count: `entry` of `entry1` and `entry2`.
 * @param names elements that are values themselves, and may stand among wrapped ones.
 */
export function wrappersOf(
  tree: Tree,
  columns: Columns | null,
  numbered: NumberedTags,
  names: ReadonlySet<number> | null,
): Wrappers | null {
  const first = wrapperNames(tree, columns, numbered, names, null);
  if (!first) return null;
  // Lists of typed values wrap twice: `<members><item><value>…</value></item>…</members>`.
  return wrapperNames(tree, columns, numbered, names, first) ?? first;
}

type NumberedTags = ReadonlyMap<number, string> | null;

/** @param inner wrappers known already: an element that holds one of these and nothing else counts as a leaf. */
function wrapperNames(
  tree: Tree,
  columns: Columns | null,
  numbered: NumberedTags,
  names: ReadonlySet<number> | null,
  inner: Wrappers | null,
): Wrappers | null {
  const width = tree.names.length;
  const count = new Int32Array(width);
  const mixed = new Int32Array(width);
  const holding = new Int32Array(width);
  const many = new Int32Array(width);
  const holders = new Int32Array(width);
  const parents: (Set<number | string> | undefined)[] = new Array(width);
  const called: (Set<number | string> | undefined)[] = new Array(width);
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    let first = firstElement(tree, node);
    while (first !== -1 && names?.has(first)) first = nextElement(tree, first);
    if (first === -1) continue;
    const name = tree.name[first]!;
    if (columns && columns.attributeOf(first) !== -1) continue;
    let alone = true;
    let children = 0;
    let deep = 0;
    for (let child = first; child !== -1; child = nextElement(tree, child)) {
      if (names?.has(child)) continue;
      children++;
      if (tree.name[child] !== name) alone = false;
      if (wrappedLeaf(tree, child, inner) === -1) deep++;
    }
    if (!alone) {
      for (let child = first; child !== -1; child = nextElement(tree, child))
        if (!names?.has(child)) mixed[tree.name[child]!]!++;
      continue;
    }
    count[name]! += children;
    holding[name]! += deep;
    if (children > 1) many[name]!++;
    let set = parents[name];
    if (!set) {
      set = new Set();
      parents[name] = set;
    }
    const own = numbered?.get(tree.name[node]!) ?? tree.name[node]!;
    set.add(own);
    called[name] ??= new Set();
    called[name].add(attributesIn(tree, node) ?? own);
    holders[name]!++;
  }
  const leaf = inner ? inner.leaf.slice() : new Uint8Array(width);
  const body = inner ? inner.body.slice() : new Uint8Array(width);
  let found = false;
  for (let name = 0; name < width; name++) {
    if (leaf[name] || body[name]) continue;
    const tags = parents[name]?.size ?? 0;
    if (count[name]! < 6 || tags < 3 || mixed[name]! > count[name]! * 0.15) continue;
    const keyed = holders[name]! * KEYS;
    if (tags > keyed) continue;
    if (holding[name]! <= count[name]! * 0.15) {
      if (called[name]!.size > keyed) continue;
      leaf[name] = 1;
    } else if (
      inner === null &&
      mixed[name]! <= count[name]! * 0.05 &&
      holding[name]! >= count[name]! * 0.95 &&
      many[name] === 0
    )
      body[name] = 1;
    else continue;
    found = true;
  }
  return found ? { leaf, body } : null;
}

/** The attributes of an element as they are written, null for none: what they say may be its name. */
function attributesIn(tree: Tree, node: number): string | null {
  const [first, end] = attributesOf(tree, node);
  return end > first ? tree.text.slice(tree.attrStart[first]!, tree.valueEnd[end - 1]) : null;
}

/** True for an element without siblings, as what wraps all of a record is. */
export function isAlone(tree: Tree, node: number): boolean {
  const above = tree.parent[node]!;
  return above !== -1 && nextElement(tree, node) === -1 && firstElement(tree, above) === node;
}

/** The leaf that an element is, or that it alone wraps; -1 for any other element. */
export function wrappedLeaf(tree: Tree, node: number, wrappers: Wrappers | null): number {
  const first = firstElement(tree, node);
  if (first === -1) return node;
  if (!wrappers?.leaf[tree.name[first]!] || nextElement(tree, first) !== -1) return -1;
  return firstElement(tree, first) === -1 ? first : -1;
}

/** True where everything inside an element is wrapped leaves, or names that are values themselves. */
export function holdsWrapped(
  tree: Tree,
  node: number,
  wrappers: Wrappers | null,
  names: ReadonlySet<number> | null,
): boolean {
  let wrapper = -1;
  for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
    if (names?.has(child)) continue;
    const name = tree.name[child]!;
    if (!wrappers?.leaf[name] || (wrapper !== -1 && name !== wrapper)) return false;
    if (wrappedLeaf(tree, child, wrappers) === -1) return false;
    wrapper = name;
  }
  return true;
}
