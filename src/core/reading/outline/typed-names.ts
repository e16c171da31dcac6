import { attributeValue } from '../../xml/site.ts';
import { attributeIndexed, firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import type { Nesting } from './nesting.ts';

/** Fewer elements are no school of writing. */
const LEAST = 20;
/** Share of all elements that are called so, the others being items of lists; and of those whose parent is of the school. */
const CALLED = 0.5;
const NESTED = 0.6;
/** Share that lies in an element of the same type; elements of which each lies in another are levels, and no types. */
const IN_ITSELF = 0.05;
/** Share of the called ones that their names tell apart in their parent. */
const APART = 0.95;
/** Names for each type at least, and types at most. */
const NAMES = 3;
const MOST = 12;

/** Elements that are called by one attribute. */
export interface NameGroup {
  readonly tags: ReadonlySet<number>;
  readonly attribute: number;
}

/**
 * Elements whose tags are types and whose names stand in one attribute, as XPath functions 3.1 writes JSON:
 * `<map key="zones"><map key="office"><string key="port">`. Null where the document is not written so.
 */
export function typedNamesOf(tree: Tree, { elements, inParent }: Nesting): NameGroup | null {
  // At a glance: enough attributes of one name, and elements in elements of their own type.
  if (elements < LEAST || inParent.reduce((sum, count) => sum + count, 0) < elements * CALLED * IN_ITSELF) return null;
  const times = new Int32Array(tree.names.length);
  for (let attr = 0; attr < tree.attrName.length; attr++) times[tree.attrName[attr]!]!++;
  for (const [attribute, called] of times.entries()) {
    if (called < elements * CALLED) continue;
    const tags = new Set<number>();
    const names = new Set<string>();
    for (let node = 0; node < tree.size; node++) {
      const attr = isElement(tree, node) ? attributeIndexed(tree, node, attribute) : -1;
      if (attr === -1) continue;
      tags.add(tree.name[node]!);
      if (names.size < LEAST * NAMES) names.add(attributeValue(tree, attr));
    }
    if (tags.size < 2 || tags.size > MOST || names.size < tags.size * NAMES) continue;
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
