import { append } from '../../lists.ts';
import { attributeValue, TEXT, valueAt } from '../../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import { isLiteral, kindOf } from '../names/literals.ts';
import type { Key } from '../reading.ts';
import { countedKeys } from './counted-keys.ts';

/** One entry of a property list: its key cut into parts, and where its value stands. */
export interface Entry {
  readonly element: number;
  readonly parts: readonly string[];
  readonly node: number;
  readonly attr: number;
}

/** Property lists of a document: for each parent the entries in document order. */
export interface PropertyLists {
  readonly entries: ReadonlyMap<number, readonly Entry[]>;
  /** Elements that are entries. */
  readonly members: ReadonlySet<number>;
  /** For each parent where its entries hold their keys. */
  readonly keys: ReadonlyMap<number, Key>;
  /** Of a list that is cut into sections the attribute that calls each of these. */
  readonly called: ReadonlyMap<number, number>;
}

interface Source {
  readonly parent: number;
  readonly name: number;
  readonly nodes: number[];
}

const LEAST = 12;
const SECTIONS = 3;

/**
 * Finds flat lists whose keys are paths (`net.role.3.port`): many elements of one name below one parent, with a key of
 * several parts that share beginnings, or the number of a record in the middle. The key is an attribute or a first child.
 */
export function propertiesOf(tree: Tree): PropertyLists | null {
  let lists = known.get(tree);
  if (lists === undefined) {
    lists = listsOf(tree);
    known.set(tree, lists);
  }
  return lists;
}

const known = new WeakMap<Tree, PropertyLists | null>();

function listsOf(tree: Tree): PropertyLists | null {
  const entries = new Map<number, Entry[]>();
  const members = new Set<number>();
  const keys = new Map<number, Key>();
  const add = (nodes: readonly number[], apart: boolean) => {
    const found = entriesOf(tree, nodes, apart);
    for (const entry of found?.list ?? []) {
      const parent = tree.parent[entry.element]!;
      const own = entries.get(parent);
      if (own) own.push(entry);
      else entries.set(parent, [entry]);
      keys.set(parent, found!.key);
      members.add(entry.element);
    }
  };
  for (const { nodes } of sources(tree)) add(nodes, false);
  const called = new Map<number, number>();
  if (entries.size === 0) {
    for (const nodes of apart(tree)) add(nodes, true);
    const names = [...entries.keys()].flatMap((parent) => soleAttribute(tree, parent) ?? []);
    const texts = new Set(names.map((attr) => attributeValue(tree, attr)));
    if (texts.size === entries.size)
      for (const [at, parent] of [...entries.keys()].entries()) called.set(parent, names[at]!);
  }
  return entries.size > 0 ? { entries, members, keys, called } : null;
}

/** Groups of flat siblings large enough to be a list that holds records. */
export function sources(tree: Tree): Source[] {
  const found: Source[] = [];
  const counts = new Map<number, Source>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node) || tree.after[node]! - node < LEAST) continue;
    counts.clear();
    for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
      const name = tree.name[child]!;
      const known = counts.get(name);
      if (known) known.nodes.push(child);
      else counts.set(name, { parent: node, name, nodes: [child] });
    }
    for (const source of counts.values()) if (source.nodes.length >= LEAST) found.push(source);
  }
  return found;
}

const soleAttribute = (tree: Tree, node: number): number | null =>
  tree.attrFirst[node + 1]! - tree.attrFirst[node]! === 1 ? tree.attrFirst[node]! : null;

/** Flat elements of one name below parents of one name, several: a list cut into sections. */
function apart(tree: Tree): number[][] {
  const lists = new Map<number, { nodes: number[]; parents: number; last: number }>();
  for (let node = 0; node < tree.size; node++) {
    const parent = tree.parent[node]!;
    if (!isElement(tree, node) || parent === -1 || tree.attrFirst[node] === tree.attrFirst[node + 1]) continue;
    if (tree.after[node] !== node + 1) continue;
    const id = tree.name[parent]! * tree.names.length + tree.name[node]!;
    let list = lists.get(id);
    if (!list) {
      list = { nodes: [], parents: 0, last: -1 };
      lists.set(id, list);
    }
    list.nodes.push(node);
    if (list.last !== parent) list.parents++;
    list.last = parent;
  }
  return [...lists.values()]
    .filter(({ nodes, parents }) => nodes.length >= LEAST && parents >= SECTIONS && nodes.length >= parents * 2)
    .map(({ nodes }) => nodes);
}

/** @param apart whether the elements stand in sections, each of which is a beginning of their keys. */
function entriesOf(
  tree: Tree,
  nodes: readonly number[],
  apart: boolean,
): { readonly list: Entry[]; readonly key: Key } | null {
  const sample = nodes[Math.floor(nodes.length / 2)]!;
  const options: { keyed: (node: number) => { key: string; node: number; attr: number } | null; key: Key }[] = [];
  const inner = firstElement(tree, sample);
  const attributes = tree.attrFirst[sample + 1]! - tree.attrFirst[sample]!;
  // An entry is a key and a value, perhaps with a type; what has more is a record.
  if (inner === -1 && attributes <= 3) {
    for (let at = 0; at < attributes; at++) {
      const name = tree.attrName[tree.attrFirst[sample]! + at]!;
      options.push({
        keyed: (node) => keyedByAttribute(tree, node, name),
        key: { by: 'attribute', name: tree.names[name]! },
      });
    }
  } else if (inner !== -1 && nextElement(tree, inner) !== -1 && nextElement(tree, nextElement(tree, inner)) === -1) {
    options.push({
      keyed: (node) => keyedByChild(tree, node),
      key: { by: 'leaf', path: [tree.names[tree.name[inner]!]!] },
    });
  }
  for (const option of options) {
    const keyed = nodes.map((node) => ({ node, entry: option.keyed(node) }));
    const keys = keyed.flatMap(({ entry }) => (entry ? [entry.key] : []));
    if (keys.length < nodes.length * 0.98) continue;
    const sections = apart ? keyed.flatMap(({ node, entry }) => (entry ? [`${tree.parent[node]}`] : [])) : null;
    // What comes back in every section is a column, and no path.
    if (apart && new Set(keys).size < keys.length * 0.6) continue;
    const separator = separatorIn(keys, sections);
    const steps = separator === null ? (apart ? null : countedKeys(keys)) : (key: string) => stepsOf(key, separator);
    if (steps === null) continue;
    const list = keyed.flatMap(({ node, entry }) =>
      entry
        ? [
            {
              element: node,
              parts: steps(entry.key),
              node: entry.node,
              attr: entry.attr,
            },
          ]
        : [],
    );
    return { list, key: option.key };
  }
  return null;
}

function keyedByAttribute(tree: Tree, node: number, name: number): { key: string; node: number; attr: number } | null {
  let key: string | null = null;
  let other = TEXT;
  for (let at = tree.attrFirst[node]!; at < tree.attrFirst[node + 1]!; at++) {
    if (tree.attrName[at] === name) key = valueAt(tree, { node, attr: at }).trim();
    else other = at;
  }
  if (key === null || firstElement(tree, node) !== -1) return null;
  const text = tree.openEnd[node]! < tree.closeStart[node]!;
  return { key, node, attr: text ? TEXT : other };
}

function keyedByChild(tree: Tree, node: number): { key: string; node: number; attr: number } | null {
  const first = firstElement(tree, node);
  const second = first === -1 ? -1 : nextElement(tree, first);
  if (second === -1 || firstElement(tree, first) !== -1 || firstElement(tree, second) !== -1) return null;
  return { key: valueAt(tree, { node: first, attr: TEXT }).trim(), node: second, attr: TEXT };
}

/** What stands in brackets behind a step, perhaps with the name of what it is: `zone[office]`, `zone[@id='office']`. */
const bracketed = /\[(?:@?[\p{L}_][\p{L}\p{N}_:-]*\s*=\s*)?(["']?)([^\][]*)\1\]/gu;

/** The steps of a path. What stands in brackets is a step like any other, whatever marks are in it. */
function stepsOf(key: string, separator: string): string[] {
  if (!key.includes('[')) return key.split(separator).filter((step) => step !== '');
  const steps: string[] = [];
  let from = 0;
  for (const { 0: whole, 2: name, index } of key.matchAll(bracketed)) {
    append(steps, key.slice(from, index).split(separator));
    steps.push(name!);
    from = index + whole.length;
  }
  append(steps, key.slice(from).split(separator));
  return steps.filter((step) => step !== '');
}

/** Addresses and numbers of slots have marks between their parts, and their beginnings in common, yet are no paths. */
function isPlainValue(key: string): boolean {
  return !/\p{L}/u.test(key) || isLiteral(kindOf(key));
}

/** The marks between the parts of nearly all keys, where the keys share beginnings as paths do; else null. */
function separatorIn(keys: readonly string[], sections: readonly string[] | null): string | null {
  const marks = new Map<string, number>();
  for (const key of keys) {
    if (key.length > 200 || /\s/.test(key)) return null;
    const own = new Set(key.replace(bracketed, '').match(/[^\p{L}\p{M}\p{N}_-]+/gu) ?? []);
    for (const mark of own) marks.set(mark, (marks.get(mark) ?? 0) + 1);
  }
  if (keys.filter(isPlainValue).length > keys.length * 0.5) return null;
  for (const [mark, count] of [...marks].sort((a, b) => b[1] - a[1])) {
    if (count < keys.length * 0.9) break;
    const paths = keys.map((key, at) => (sections ? [sections[at]!, ...stepsOf(key, mark)] : stepsOf(key, mark)));
    if (!sections && areNumbered(paths)) return mark;
    if (count < keys.length * 0.95) continue;
    let deep = 0;
    const heads = new Set<string>();
    const stems = new Set<string>();
    for (const parts of paths) {
      if (parts.length >= 3) deep++;
      heads.add(parts[0]!);
      stems.add(parts.slice(0, -1).join(mark));
    }
    const distinct = new Set(keys).size;
    if (deep < keys.length * 0.6 || heads.size > keys.length * 0.25 || stems.size > keys.length * 0.7) continue;
    if (distinct >= keys.length * 0.6) return mark;
  }
  return null;
}

/** Whether half of some paths lead through numbers to what comes back below other numbers: `front.1.zone`, `front.2.zone`. */
function areNumbered(paths: readonly (readonly string[])[]): boolean {
  const numbers = new Map<string, Set<string>>();
  let distinct = 0;
  for (const path of paths) {
    const at = path.findIndex((step, place) => place > 0 && place < path.length - 1 && /^\d{1,4}$/.test(step));
    if (at === -1) continue;
    const id = JSON.stringify([path.slice(0, at), path.slice(at + 1)]);
    const own = numbers.get(id) ?? new Set();
    numbers.set(id, own);
    if (!own.has(path[at]!)) distinct++;
    own.add(path[at]!);
  }
  const again = [...numbers.values()].filter(({ size }) => size > 1);
  return again.length > 1 && again.length * 2 >= numbers.size && distinct * 2 >= paths.length;
}
