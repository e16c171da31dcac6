import { isElement, type Tree } from '../../xml/tree.ts';

/** Names of attributes, and of elements that hold nothing but a text: a tag that names a record has more. */
export function leafNames(tree: Tree): ReadonlySet<string> {
  const names = new Set<string>();
  for (const name of tree.attrName) names.add(tree.names[name]!);
  for (let node = 0; node < tree.size; node++) {
    const plain = tree.attrFirst[node] === tree.attrFirst[node + 1] && tree.after[node] === node + 1;
    if (plain && isElement(tree, node)) names.add(tree.names[tree.name[node]!]!);
  }
  return names;
}

/** How many of some names are values of attributes and leaves, those of the elements that they call left out. */
export function saidElsewhere(tree: Tree, called: number, names: ReadonlyMap<string, number>): number {
  const said = new Set<string>();
  const look = (from: number, to: number) => {
    if (to - from > LONGEST) return;
    const value = tree.text.slice(from, to);
    if (names.has(value)) said.add(value);
  };
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    if (tree.after[node] === node + 1) look(tree.openEnd[node]!, tree.closeStart[node]!);
    if (tree.name[node] === called) continue;
    for (let a = tree.attrFirst[node]!; a < tree.attrFirst[node + 1]!; a++)
      look(tree.valueStart[a]!, tree.valueEnd[a]!);
  }
  return said.size;
}

/** Longer values are no names that count. */
const LONGEST = 40;

/** Share of the names in one row that are names of leaves elsewhere, before they name columns. */
const KNOWN = 0.6;

/** True where a row's names mostly are names of leaves in the document: a record alone, written in cells. */
export function areLeafNames(names: Iterable<string>, leaves: ReadonlySet<string>): boolean {
  let known = 0;
  let all = 0;
  for (const name of names) {
    all++;
    if (leaves.has(name)) known++;
  }
  return known >= 2 && known >= all * KNOWN;
}

/** How many cells have names that come back, given how often each does: under another parent, or as the name of a leaf. */
export function comingBack(names: ReadonlyMap<string, number>, leaves: ReadonlySet<string> | null = null): number {
  let again = 0;
  for (const [name, times] of names) if (times > 1 || leaves?.has(name)) again += times;
  return again;
}

/** A name without the number behind it, as items of a list have: `member2`. */
export function baseOf(text: string): { base: string; number: number | null } {
  const [, base, digits] = /^(.*\D)(\d{1,4})$/.exec(text) ?? [];
  return base === undefined ? { base: text, number: null } : { base, number: Number(digits) };
}

/** True for several numbers from 0 or 1 on, none left out. */
export function isCount(numbers: ReadonlySet<number>): boolean {
  const least = numbers.has(0) ? 0 : 1;
  if (numbers.size < 2 || !numbers.has(least)) return false;
  for (const number of numbers) if (!(number < least + numbers.size)) return false;
  return true;
}

/** How many of some names stand once and count the items of a list: `member1` and `member2`. */
export function countedOnce(names: ReadonlyMap<string, number>): number {
  const numbers = new Map<string, Set<number>>();
  for (const [name, times] of names) {
    const { base, number } = baseOf(name);
    if (number !== null && times === 1) numbers.set(base, (numbers.get(base) ?? new Set()).add(number));
  }
  return [...numbers.values()].reduce((sum, list) => sum + (isCount(list) ? list.size : 0), 0);
}

/** True where a row's names are those of several lists that count their items: a record alone, too. */
export function areCounted(names: Iterable<string>): boolean {
  const lists = countedLists(names);
  return lists !== null && lists.size > 1 && [...lists.values()].every(isCount);
}

/** True for one word with numbers behind it, from 0 or 1 on: `block1` and `block2`. */
export function isCountOfOne(names: Iterable<string>): boolean {
  const lists = countedLists(names);
  return lists !== null && lists.size === 1 && [...lists.values()].every(isCount);
}

/** By word the numbers behind it; null where a name has none. */
function countedLists(names: Iterable<string>): Map<string, Set<number>> | null {
  const lists = new Map<string, Set<number>>();
  for (const name of names) {
    const { base, number } = baseOf(name);
    // Numbers with zeros before them are identifiers.
    if (number === null || name !== `${base}${number}`) return null;
    lists.set(base, (lists.get(base) ?? new Set()).add(number));
  }
  return lists;
}
