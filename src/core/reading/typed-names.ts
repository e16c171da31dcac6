import { attributeValue } from '../xml/site.ts';
import { attributeIndexed, firstElement, isElement, nextElement, type Tree } from '../xml/tree.ts';

/** Fewer elements are no school of writing. */
const LEAST = 20;
/** Share of all elements that are called so, the others being items of lists; and of those whose parent is of the school. */
const CALLED = 0.5;
const NESTED = 0.6;
/** Share that lies in an element of the same type; elements of which each lies in another are levels, and no types. */
const IN_ITSELF = 0.05;
/** Share of the called ones that their names tell apart in their parent. */
const APART = 0.95;
/** Names for each type at least. */
const NAMES = 3;

/** Elements that are called by one attribute. */
export interface NameGroup {
  readonly tags: ReadonlySet<number>;
  readonly attribute: number;
}

/**
 * Elements whose tags are types and whose names stand in one attribute, as XPath functions 3.1 writes JSON:
 * `<map key="zones"><map key="office"><string key="port">`. Null where the document is not written so.
 */
export function typedNamesOf(tree: Tree): NameGroup | null {
  let elements = 0;
  const counts = new Map<number, { called: number; tags: Set<number>; names: Set<string> }>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node) || node === tree.root) continue;
    elements++;
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++) {
      let count = counts.get(tree.attrName[attr]!);
      if (!count) {
        count = { called: 0, tags: new Set(), names: new Set() };
        counts.set(tree.attrName[attr]!, count);
      }
      count.called++;
      count.tags.add(tree.name[node]!);
      if (count.names.size < LEAST * NAMES) count.names.add(attributeValue(tree, attr));
    }
  }
  if (elements < LEAST) return null;
  for (const [attribute, { called, tags, names }] of counts) {
    if (called < elements * CALLED || tags.size < 2 || tags.size > 12 || names.size < tags.size * NAMES) continue;
    if (isNested(tree, attribute, tags, called)) return { tags, attribute };
  }
  return null;
}

/** Whether what is called lies in elements of the same types, and is told apart there. */
function isNested(tree: Tree, attribute: number, tags: ReadonlySet<number>, called: number): boolean {
  let nested = 0;
  let inItself = 0;
  let doubled = 0;
  for (let holder = 0; holder < tree.size; holder++) {
    if (!isElement(tree, holder)) continue;
    const names = new Set<string>();
    const typed = tags.has(tree.name[holder]!);
    for (let at = firstElement(tree, holder); at !== -1; at = nextElement(tree, at)) {
      const attr = attributeIndexed(tree, at, attribute);
      if (attr === -1) continue;
      if (typed) nested++;
      if (tree.name[at] === tree.name[holder]) inItself++;
      const name = attributeValue(tree, attr);
      if (names.has(name)) doubled++;
      names.add(name);
    }
  }
  return nested >= called * NESTED && inItself >= called * IN_ITSELF && doubled <= called * (1 - APART);
}
