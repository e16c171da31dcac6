import { attributeValue } from '../../xml/site.ts';
import { elementsOf, isElement, type Tree } from '../../xml/tree.ts';

/** Records that are made by one element and filled by others behind it, as a box that repeats what was done to it writes them. */
export interface Operations {
  /** By the element that makes a record those that say more of it. */
  readonly of: ReadonlyMap<number, readonly Operation[]>;
  readonly members: ReadonlySet<number>;
}

/** An element that says something of a record made before: what it sets, null where it holds settings with names of their own. */
export interface Operation {
  readonly element: number;
  readonly slot: number | null;
}

/** Fewer elements side by side are no custom. */
const LEAST = 16;
/** So many are looked at before a list is left alone. */
const SAMPLE = 200;
/** Share of the operations whose record is the last one that was made before them. */
const AT_ONCE = 0.7;
/** Operations are done to records of several kinds. */
const KINDS = 3;

const path = /^[\p{L}_][\p{L}\p{M}\p{N}_-]*[/:.]\S+$/u;

/**
 * Finds elements that say of which record they are by its kind and its name, `on="segment/office"`, where the record is made by an
 * element with both: `<make in="segment" named="office"/>`. They stand right behind it, which names in rules do not. Null for none.
 */
export function operationsOf(tree: Tree): Operations | null {
  const children = new Int32Array(tree.size);
  for (let node = 0; node < tree.size; node++)
    if (isElement(tree, node) && tree.parent[node] !== -1) children[tree.parent[node]!]!++;
  const of = new Map<number, Operation[]>();
  const members = new Set<number>();
  for (let node = 0; node < tree.size; node++) {
    if (children[node]! < LEAST || !holdsPaths(tree, node)) continue;
    for (const [element, record, slot] of operationsIn(tree, node)) {
      const list = of.get(record);
      if (list) list.push({ element, slot });
      else of.set(record, [{ element, slot }]);
      members.add(element);
    }
  }
  return members.size > 0 ? { of, members } : null;
}

/** A first look: whether some of an element's children may be operations. */
function holdsPaths(tree: Tree, parent: number): boolean {
  let looked = 0;
  let paths = 0;
  for (const element of elementsOf(tree, parent)) {
    if (pathOf(tree, element) !== null && ++paths >= KINDS) return true;
    if (++looked === SAMPLE) return false;
  }
  return false;
}

/** The path of a record that an element has in its first attribute, one more beside it at most. */
function pathOf(tree: Tree, element: number): string | null {
  const first = tree.attrFirst[element]!;
  const count = tree.attrFirst[element + 1]! - first;
  if (count < 1 || count > 2 || tree.valueEnd[first]! - tree.valueStart[first]! > 80) return null;
  const value = attributeValue(tree, first);
  return path.test(value) ? value : null;
}

type Found = readonly [element: number, record: number, slot: number | null];

function operationsIn(tree: Tree, parent: number): readonly Found[] {
  /** By kind and name the element that made the record. */
  const made = new Map<string, number>();
  const found: Found[] = [];
  const kinds = new Set<string>();
  let last = -1;
  let atOnce = 0;
  let paths = 0;
  for (const element of elementsOf(tree, parent)) {
    const first = tree.attrFirst[element]!;
    const count = tree.attrFirst[element + 1]! - first;
    const text = pathOf(tree, element);
    if (text !== null) {
      paths++;
      const record = made.get(text.replace(/[/:.]/, '/'));
      if (record === undefined) continue;
      kinds.add(text.slice(0, text.search(/[/:.]/)));
      if (record === last) atOnce++;
      found.push([element, record, count === 2 ? first + 1 : null]);
    } else if (count >= 2) {
      const key = `${attributeValue(tree, first)}/${attributeValue(tree, first + 1)}`;
      if (made.has(key)) continue;
      made.set(key, element);
      last = element;
    }
  }
  const isCustom = found.length >= LEAST && found.length >= paths * AT_ONCE && atOnce >= found.length * AT_ONCE;
  return isCustom && kinds.size >= KINDS ? found : [];
}
