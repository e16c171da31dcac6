import { textOf } from '../../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import { areRecords } from './nested-names.ts';

/** Fewer names written so are no school of writing. */
const LEAST = 6;
/** Share of the names, each counted once, that are tags of records: below it they are flags and fields left empty. */
const KNOWN = 0.5;
/** Fewer tags that empty elements say, too, may be those of sections that are empty elsewhere. */
const SAID = 3;

/**
 * Elements with nothing in them that name records which are called by their tags, `<from><office/></from>`, with all that
 * stand where such names do, known or not. Where what holds them is a record itself, its parts are left as they are.
 * Null where the document has none.
 */
export function emptyNamesOf(tree: Tree): ReadonlySet<number> | null {
  const lists: { holder: number; leaves: readonly number[] }[] = [];
  const said = new Set<number>();
  for (let node = 0; node < tree.size; node++) {
    const leaves = isElement(tree, node) ? leavesIn(tree, node) : null;
    if (leaves === null) continue;
    lists.push({ holder: node, leaves });
    for (const leaf of leaves) if (isBare(tree, leaf)) said.add(tree.name[leaf]!);
  }
  if (lists.length === 0) return null;
  const called = recordTags(tree, said);
  if (called.size === 0) return null;
  const holders = new Map<number, { bare: number[]; filled: Set<number> }>();
  for (const { holder, leaves } of lists) {
    const name = tree.name[holder]!;
    if (called.has(name)) continue;
    const { bare, filled } = holders.get(name) ?? { bare: [], filled: new Set() };
    holders.set(name, { bare, filled });
    for (const leaf of leaves) {
      if (isBare(tree, leaf)) bare.push(leaf);
      else filled.add(tree.name[leaf]!);
    }
  }
  const names = new Set<number>();
  for (const { bare, filled } of holders.values()) {
    const tags = new Set(bare.map((leaf) => tree.name[leaf]!));
    const known = [...tags].filter((tag) => called.has(tag) && !filled.has(tag));
    if (known.length > 0 && known.length >= tags.size * KNOWN) for (const leaf of bare) names.add(leaf);
  }
  return names.size < LEAST ? null : names;
}

/** Tags that call records: all side by side differ, and most of these have a part in common, or are said. */
function recordTags(tree: Tree, said: ReadonlySet<number>): Set<number> {
  const called = new Set<number>();
  const childrenOf = (node: number) => {
    const children: number[] = [];
    for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) children.push(child);
    return children;
  };
  for (let node = 0; node < tree.size; node++) {
    const first = isElement(tree, node) ? firstElement(tree, node) : -1;
    const second = first === -1 ? -1 : nextElement(tree, first);
    if (second === -1 || tree.name[first] === tree.name[second]) continue;
    const children = childrenOf(node);
    const tags = children.map((child) => tree.name[child]!);
    if (new Set(tags).size < children.length) continue;
    const filled = children.filter((child) => firstElement(tree, child) !== -1);
    const names = filled.filter((child) => said.has(tree.name[child]!));
    // What holds nothing but leaves of one tag is a value, or a list.
    const parts = (child: number) => {
      const inside = childrenOf(child);
      const list = inside.every((one) => firstElement(tree, one) === -1 && tree.name[one] === tree.name[inside[0]!]);
      return list ? [] : inside.map((part) => tree.names[tree.name[part]!]!);
    };
    if ((names.length >= SAID && names.length * 2 >= filled.length) || areRecords(children, parts))
      for (const tag of tags) called.add(tag);
  }
  return called;
}

/** The elements inside another where each is a leaf and one is bare; null for anything else. */
function leavesIn(tree: Tree, node: number): number[] | null {
  const leaves: number[] = [];
  let bare = false;
  for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
    if (firstElement(tree, child) !== -1) return null;
    leaves.push(child);
    bare ||= isBare(tree, child);
  }
  return bare ? leaves : null;
}

const isBare = (tree: Tree, node: number) =>
  tree.attrFirst[node] === tree.attrFirst[node + 1] &&
  firstElement(tree, node) === -1 &&
  (tree.openEnd[node] === tree.end[node] || textOf(tree, node).trim() === '');
