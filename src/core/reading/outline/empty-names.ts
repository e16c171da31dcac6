import { textOf } from '../../xml/site.ts';
import { firstElement, isElement, nameOf, nextElement, type Tree } from '../../xml/tree.ts';
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

/** Tags that call records: all side by side differ, and most of these are said, or have a part in common. */
function recordTags(tree: Tree, said: ReadonlySet<number>): Set<number> {
  const called = new Set<number>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    for (const { records, least } of lists(tree, node)) {
      const filled = records.filter((one) => firstElement(tree, one) !== -1);
      const names = filled.filter((one) => said.has(tree.name[one]!)).length;
      if (
        (names >= least && names * 2 >= filled.length) ||
        (least === SAID && areRecords(records, (one) => parts(tree, one)))
      )
        for (const one of records) called.add(tree.name[one]!);
    }
  }
  return called;
}

/** What lies in an element under tags that all differ: its children, or what the children of one tag hold, one each. */
function lists(tree: Tree, node: number): { records: number[]; least: number }[] {
  const children: number[] = [];
  const lone = new Map<number, number[] | null>();
  for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
    children.push(child);
    const inner = firstElement(tree, child);
    const known = lone.get(tree.name[child]!);
    if (inner === -1 || nextElement(tree, inner) !== -1) lone.set(tree.name[child]!, null);
    else if (known === undefined) lone.set(tree.name[child]!, [inner]);
    else known?.push(inner);
  }
  if (lone.size === children.length) return children.length > 1 ? [{ records: children, least: SAID }] : [];
  const differ = (list: number[] | null): list is number[] =>
    list !== null && list.length > 1 && new Set(list.map((one) => tree.name[one])).size === list.length;
  return [...lone.values()].filter(differ).map((records) => ({ records, least: 2 }));
}

/** What the parts of a record are called; none for what holds nothing but leaves of one tag: a value, or a list. */
function parts(tree: Tree, node: number): string[] {
  const names: string[] = [];
  let isList = true;
  const first = firstElement(tree, node);
  for (let child = first; child !== -1; child = nextElement(tree, child)) {
    names.push(nameOf(tree, child));
    if (firstElement(tree, child) !== -1 || tree.name[child] !== tree.name[first]) isList = false;
  }
  return isList ? [] : names;
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
