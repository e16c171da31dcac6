import { isMac } from '../../values/mac.ts';
import { TEXT, valueAt } from '../../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import { isColumnName } from './column-name.ts';
import { areCounted, areLeafNames, baseOf, comingBack, isCount, leafNames } from './lone-rows.ts';

/** Elements that hold a name and a value, one child each: `<has><name>port</name><value>igb0</value></has>`. */
export interface Pairs {
  /** The name that such an element holds, null for any other element. */
  nameOf(node: number): string | null;
}

interface Count {
  /** Elements that are built as pairs, and other elements of the name that hold something. */
  all: number;
  others: number;
  /** How often each name comes, a number behind it left out; and which numbers stand there. */
  names: Map<string, number>;
  numbers: Map<string, Set<number>>;
  rows: number;
  lastParent: number;
  first: number;
  second: number;
  /** What their attributes say: in all, in the parent at hand, how many have some, and how many say it again in one parent. */
  marks: Set<string>;
  own: Set<string>;
  marked: number;
  doubled: number;
  hardware: number;
}

/** Share of the elements of one name that may be built otherwise. */
const OTHERS = 0.1;
/** Share of the pairs whose names come back. */
const AGAIN = 0.6;

/** Finds pairs as one finds cells: the names come back under other parents. Null where the document has none. */
export function pairsOf(tree: Tree): Pairs | null {
  const counts = new Map<number, Count>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const first = firstElement(tree, node);
    if (first === -1) continue;
    const name = tree.name[node]!;
    let count = counts.get(name);
    if (!count) {
      count = {
        all: 0,
        others: 0,
        names: new Map(),
        numbers: new Map(),
        rows: 0,
        lastParent: -1,
        first: -1,
        second: -1,
        marks: new Set(),
        own: new Set(),
        marked: 0,
        doubled: 0,
        hardware: 0,
      };
      counts.set(name, count);
    }
    const text = pairName(tree, node);
    const second = nextElement(tree, first);
    if (text !== null && count.first === -1) {
      count.first = tree.name[first]!;
      count.second = tree.name[second]!;
    }
    if (text === null || count.first !== tree.name[first] || count.second !== tree.name[second]) {
      count.others++;
      continue;
    }
    count.all++;
    if (count.lastParent !== tree.parent[node]) {
      count.rows++;
      count.own.clear();
    }
    count.lastParent = tree.parent[node]!;
    if (isMac(tree.text.slice(tree.openEnd[second]!, tree.closeStart[second]!))) count.hardware++;
    const { base, number } = baseOf(text);
    count.names.set(base, (count.names.get(base) ?? 0) + 1);
    if (number !== null) count.numbers.set(base, (count.numbers.get(base) ?? new Set()).add(number));
    const [from, to] = [tree.attrFirst[node]!, tree.attrFirst[node + 1]!];
    if (from === to) continue;
    count.marked++;
    const mark = tree.text.slice(tree.valueStart[from]!, tree.valueEnd[to - 1]!);
    if (count.own.has(mark)) count.doubled++;
    count.own.add(mark);
    count.marks.add(mark);
  }
  const chosen = new Map<number, Count>();
  let leaves: ReadonlySet<string> | null = null;
  for (const [name, count] of counts) {
    const { all, others, rows, names, marks, marked, doubled } = count;
    // A mark of type comes again and again in one parent; what tells them apart there is a name of records.
    if (marked > all * OTHERS && marks.size > 2 && doubled <= marked * OTHERS) continue;
    if (others > all * OTHERS || all < rows * 1.5) continue;
    // A name and a hardware address are a port, whatever else is called so in another box.
    if (count.hardware >= all * (1 - OTHERS)) continue;
    if (all < 6 || rows < 2) {
      leaves ??= leafNames(tree);
      if (names.size === all ? areLeafNames(names.keys(), leaves) : rows === 1 && countsOnly(count))
        chosen.set(name, count);
      continue;
    }
    if (comingBack(names) < all * AGAIN) {
      leaves ??= leafNames(tree);
      if (comingBack(names, leaves) < all * AGAIN) continue;
    }
    chosen.set(name, count);
  }
  if (chosen.size === 0) return null;
  const countedIn = ({ numbers }: Count) =>
    new Set([...numbers].flatMap(([base, own]) => (isCount(own) ? [base] : [])));
  const counted = new Map([...chosen].map(([name, count]) => [name, countedIn(count)]));
  return {
    nameOf(node) {
      const count = chosen.get(tree.name[node]!);
      if (!count) return null;
      const first = firstElement(tree, node);
      const fits = first !== -1 && tree.name[first] === count.first;
      const text = fits && tree.name[nextElement(tree, first)] === count.second ? pairName(tree, node) : null;
      if (text === null) return null;
      const { base, number } = baseOf(text);
      return number !== null && counted.get(tree.name[node]!)!.has(base) ? base : text;
    },
  };
}

/** The name that an element of two children holds in the first of them; null for any other element. */
function pairName(tree: Tree, node: number): string | null {
  const first = firstElement(tree, node);
  const second = first === -1 ? -1 : nextElement(tree, first);
  if (second === -1 || nextElement(tree, second) !== -1 || firstElement(tree, first) !== -1) return null;
  if (tree.name[first] === tree.name[second]) return null;
  const text = valueAt(tree, { node: first, attr: TEXT }).trim();
  return isColumnName(text) ? text : null;
}

/** True where all names are those of several lists that count their items. */
const countsOnly = ({ names, numbers }: Count): boolean =>
  areCounted(
    [...names].flatMap(([base, times]) => {
      const own = [...(numbers.get(base) ?? [])].map((number) => `${base}${number}`);
      return own.length === times ? own : [base];
    }),
  );
