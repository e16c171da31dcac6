import { textOf } from '../../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import { areRecords } from './nested-names.ts';
import type { Nesting } from './nesting.ts';

/** Fewer elements of one name are no school of writing. */
const LEAST = 12;
/** Share of the elements of the name that are pairs, and of those that lie in the value of another. */
const NEARLY_ALL = 0.95;
const NESTED = 0.3;

/**
 * What a pair stands for: a part of the structure, which has the pair's name; a record, which has it as a key; an item of a list,
 * whose name only counts.
 */
export type PairRole = 'part' | 'record' | 'item';

/** Pairs that lie in each other, each of a name and a value: the children of an element, in this order. */
export type NestedPairs = ReadonlyMap<number, PairRole>;

/**
 * Finds elements of one name that hold a name and a value, where a value may hold such elements:
 * `<item><name>zones</name><value><item><name>office</name>…`. Empty where the document has none.
 */
export function nestedPairsOf(tree: Tree, nesting: Nesting): NestedPairs {
  const roles = new Map<number, PairRole>();
  for (const name of chosenNames(tree, nesting)) {
    const lists: Pairs[] = [];
    for (let holder = 0; holder < tree.size; holder++) {
      if (!isElement(tree, holder)) continue;
      const inner = pairsIn(tree, holder, name);
      if (inner.length > 0) lists.push(pairsOf(tree, holder, inner, name));
    }
    // What is called as a list of records elsewhere is one, also where it holds a single record.
    const records = new Set(
      lists.flatMap(({ called, role }) => (role === 'record' && called !== null ? [called] : [])),
    );
    for (const { inner, called, holds, role } of lists)
      for (const node of inner)
        roles.set(node, role === 'part' && holds && called !== null && records.has(called) ? 'record' : role);
  }
  return roles;
}

/** The pairs in one element. */
interface Pairs {
  readonly inner: readonly number[];
  /** The name of the pair whose value holds them; null for none. */
  readonly called: string | null;
  /** True where all of them hold pairs themselves. */
  readonly holds: boolean;
  readonly role: PairRole;
}

function pairsOf(tree: Tree, holder: number, inner: readonly number[], name: number): Pairs {
  const counted = inner.length > 1 && inner.every((node) => /^\d+$/.test(nameOfPair(tree, node)!));
  const inside = (node: number) => pairsIn(tree, nextElement(tree, firstElement(tree, node)), name);
  const records = areRecords(inner, (node) => inside(node).map((one) => nameOfPair(tree, one)!));
  const around = tree.parent[holder]!;
  return {
    inner,
    called: around === -1 ? null : nameOfPair(tree, around),
    holds: inner.every((node) => inside(node).length > 0),
    role: counted ? 'item' : records ? 'record' : 'part',
  };
}

function chosenNames(tree: Tree, { count, inGrandparent }: Nesting): number[] {
  const may = count.map((all, name) => (all >= LEAST && inGrandparent[name]! >= all * NESTED ? 1 : 0));
  if (!may.includes(1)) return [];
  const pairs = new Int32Array(tree.names.length);
  for (let node = 0; node < tree.size; node++)
    if (isElement(tree, node) && may[tree.name[node]!] === 1 && isPair(tree, node)) pairs[tree.name[node]!]!++;
  return [...pairs.keys()].filter((name) => may[name] === 1 && pairs[name]! >= count[name]! * NEARLY_ALL);
}

function pairsIn(tree: Tree, holder: number, name: number): number[] {
  const inner: number[] = [];
  for (let at = firstElement(tree, holder); at !== -1; at = nextElement(tree, at))
    if (tree.name[at] === name && nameOfPair(tree, at) !== null) inner.push(at);
  return inner;
}

/** Whether an element without attributes has two children of different names, the first a leaf. */
function isPair(tree: Tree, node: number): boolean {
  const first = firstElement(tree, node);
  if (first === -1 || tree.after[first] !== first + 1 || tree.attrFirst[node] !== tree.attrFirst[node + 1])
    return false;
  const second = nextElement(tree, first);
  return second !== -1 && nextElement(tree, second) === -1 && tree.name[first] !== tree.name[second];
}

/** The short text in the first child of a pair; null for any other element. */
function nameOfPair(tree: Tree, node: number): string | null {
  if (!isPair(tree, node)) return null;
  const text = textOf(tree, firstElement(tree, node)).trim();
  return text !== '' && text.length <= 64 ? text : null;
}
