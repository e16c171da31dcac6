import { attributeIndexed, firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';

/** Fewer slots are no school of writing. */
const LEAST = 12;
/** Share of the slots that hold one value, are called by the attribute, and lie in values of other slots. */
const NEARLY_ALL = 0.9;
const NESTED = 0.5;
/** Types at most. */
const MOST = 12;

/**
 * Elements of one name that hold one value each, an element whose tag is its type, which may hold slots or values itself:
 * `<slot k="zones"><map><slot k="office"><text>…`.
 */
export interface Slots {
  readonly tags: ReadonlySet<number>;
  /** Name of the attribute that calls a slot. */
  readonly attribute: number;
  /** The value of a slot; -1 for any other element, and for an empty slot. */
  valueIn(node: number): number;
  /** The slot that an element is the value of; -1 for any other. */
  slotOf(node: number): number;
  /** True for a slot whose value is a list of values that hold nothing themselves. */
  isList(node: number): boolean;
  /** The attribute of a value that counts what it holds; -1 for none. */
  countIn(value: number): number;
}

/** The slots of a document; null where it is not written so. */
export function slotsOf(tree: Tree): Slots | null {
  const count = new Int32Array(tree.names.length);
  const sole = new Int32Array(tree.names.length);
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const name = tree.name[node]!;
    count[name]!++;
    if (tree.attrFirst[node + 1]! > tree.attrFirst[node]! && soleElement(tree, node) !== -1) sole[name]!++;
  }
  for (const [name, all] of count.entries()) {
    if (all < LEAST || sole[name]! < all * NEARLY_ALL) continue;
    const attribute = callerOf(tree, name, all);
    if (attribute === -1 || !lieInValues(tree, name, all)) continue;
    const valueIn = (node: number) => (tree.name[node] === name ? soleElement(tree, node) : -1);
    return {
      tags: new Set([name]),
      attribute,
      valueIn,
      slotOf(node) {
        const above = tree.parent[node]!;
        return above !== -1 && valueIn(above) === node ? above : -1;
      },
      isList(node) {
        const value = valueIn(node);
        const first = value === -1 ? -1 : firstElement(tree, value);
        for (let at = first; at !== -1; at = nextElement(tree, at))
          if (tree.name[at] === name || firstElement(tree, at) !== -1) return false;
        return first !== -1;
      },
      countIn(value) {
        let held = 0;
        for (let at = firstElement(tree, value); at !== -1; at = nextElement(tree, at)) held++;
        for (let attr = tree.attrFirst[value]!; attr < tree.attrFirst[value + 1]!; attr++)
          if (textOf(tree, attr) === String(held)) return attr;
        return -1;
      },
    };
  }
  return null;
}

/** The one element that an element holds; -1 where it holds none or several. */
function soleElement(tree: Tree, node: number): number {
  const first = firstElement(tree, node);
  return first !== -1 && nextElement(tree, first) === -1 ? first : -1;
}

/** The attribute that nearly all elements of a name have, with many values; -1 for none. */
function callerOf(tree: Tree, name: number, all: number): number {
  const times = new Map<number, number>();
  for (let node = 0; node < tree.size; node++) {
    if (tree.name[node] !== name || !isElement(tree, node)) continue;
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++)
      times.set(tree.attrName[attr]!, (times.get(tree.attrName[attr]!) ?? 0) + 1);
  }
  const full = [...times].filter(([, count]) => count >= all * NEARLY_ALL);
  return full.length === 1 && isApart(tree, name, full[0]![0]) ? full[0]![0] : -1;
}

/** Whether an attribute tells slots of one value apart. */
function isApart(tree: Tree, name: number, attribute: number): boolean {
  for (let node = 0; node < tree.size; node++) {
    if (tree.name[node] !== name || !isElement(tree, node)) continue;
    const next = nextElement(tree, node);
    if (next === -1 || tree.name[next] !== name) continue;
    const [a, b] = [attributeIndexed(tree, node, attribute), attributeIndexed(tree, next, attribute)];
    if (a !== -1 && b !== -1 && textOf(tree, a) === textOf(tree, b)) return false;
  }
  return true;
}

const textOf = (tree: Tree, attr: number) => tree.text.slice(tree.valueStart[attr]!, tree.valueEnd[attr]!);

/** Whether elements of a name hold values of a few types, which stand nowhere but in these and in each other. */
function lieInValues(tree: Tree, name: number, all: number): boolean {
  const types = new Set<number>();
  for (let node = 0; node < tree.size && types.size <= MOST; node++) {
    const value = tree.name[node] === name && isElement(tree, node) ? soleElement(tree, node) : -1;
    if (value !== -1) types.add(tree.name[value]!);
  }
  if (types.size < 2 || types.size > MOST || types.has(name)) return false;
  let inTypes = 0;
  let values = 0;
  let strange = 0;
  for (let node = 0; node < tree.size; node++) {
    const above = tree.parent[node]!;
    if (!isElement(tree, node) || above === -1) continue;
    if (tree.name[node] === name && types.has(tree.name[above]!)) inTypes++;
    if (!types.has(tree.name[node]!)) continue;
    values++;
    if (tree.name[above] !== name && !types.has(tree.name[above]!)) strange++;
  }
  // Where slots lie in none, each is a part of a record.
  return (inTypes >= all * NESTED || inTypes === 0) && strange <= values * (1 - NEARLY_ALL);
}
