import { attributeValue, TAG, TEXT, valueAt } from '../../xml/site.ts';
import { firstElement, isElement, nameOf, nextElement, type Tree } from '../../xml/tree.ts';
import { CAPTION, type Captions, captionRoles, captionsOf, captionText } from './captions.ts';
import { columnsOf } from './columns.ts';
import { emptyNamesOf } from './empty-names.ts';
import { addFlat, flatListsOf } from './flat-lists.ts';
import { nestedNamesOf, withNested } from './nested-names.ts';
import { nestedPairsOf, type PairRole } from './nested-pairs.ts';
import { nestingOf } from './nesting.ts';
import { numberedTagsOf } from './numbered-tags.ts';
import { addEntries } from './open-properties.ts';
import { operationsOf } from './operations.ts';
import { Builder } from './outline-builder.ts';
import { pairsOf } from './pairs.ts';
import { propertiesOf } from './properties.ts';
import { settingsIn, type TextOfSettings } from './settings-in-text.ts';
import { slotsOf } from './slots.ts';
import { tablesOf } from './tables.ts';
import { valueAttributesOf } from './value-attributes.ts';
import { type Padded, ValuePool } from './value-pool.ts';
import { holdsWrapped, isAlone, type Wrappers, wrappedLeaf, wrappersOf } from './wrappers.ts';

/**
 * The document as the inference sees it: one node for each element and each attribute, in document order, parents
 * before children. Elements that are cells of a row get the name of their column as a label, wrappers that add nothing
 * but a level are folded into what they wrap, and the keys of a property list are opened into a tree, so that every
 * school of writing looks the same from here on.
 */
export interface Outline {
  readonly tree: Tree;
  readonly size: number;
  readonly labels: readonly string[];
  /** Arrays of length `size`. `label` is an index into `labels`. */
  readonly label: Int32Array;
  readonly parent: Int32Array;
  /** One past the last node inside. */
  readonly after: Int32Array;
  /** The element that people would point at: the record itself, not its wrapper; of a property list the first entry. */
  readonly element: Int32Array;
  /** The site of the value: a node, and the index of an attribute, or TEXT. */
  readonly node: Int32Array;
  readonly attr: Int32Array;
  /** Index into `values`, -1 where there is none. */
  readonly value: Int32Array;
  /** Decoded and trimmed, each text once (long ones may repeat). */
  readonly values: readonly string[];
  readonly padded: Padded;
  /** Heads of tables, as elements: they name columns and have no node. */
  readonly headers: ReadonlySet<number>;
  /** 1 for nodes that stand for a part of a key: their label is written in no tag. */
  readonly part: Uint8Array;
  /** Of values that are a part of the text at their site: where they begin in it. */
  readonly begins: ReadonlyMap<number, number>;
  /** Elements that only name the one behind them; they have no node. */
  readonly captions: Captions;
  /** What empty elements say that name records by their tags. */
  readonly named: ReadonlySet<string>;
  /** Elements that add nothing but a level, see wrappers.ts; null where there are none. */
  readonly wrappers: Wrappers | null;
}

export function outlineOf(tree: Tree): Outline {
  const nesting = nestingOf(tree);
  const slots = slotsOf(tree);
  const nested = nestedNamesOf(tree, nesting, slots);
  const nestedPairs = nestedPairsOf(tree, nesting);
  const columns = withNested(columnsOf(tree), nested);
  const names = emptyNamesOf(tree);
  const numbered = numberedTagsOf(tree, names);
  const wrappers = wrappersOf(tree, columns, numbered, names);
  const tables = tablesOf(tree);
  const properties = propertiesOf(tree);
  const valueAttributes = valueAttributesOf(tree);
  const captions = captionsOf(tree);
  const roles = captionRoles(tree, captions);
  const several = settingsIn(tree);
  const headers = several?.headers.size
    ? new Set([...(tables?.headers ?? []), ...several.headers])
    : (tables?.headers ?? new Set());
  const flat = flatListsOf(tree);
  const operations = operationsOf(tree);
  const isCaption = new Set(captions.values());
  const pairs = properties || captions.size > 0 ? null : pairsOf(tree);
  let extra = 0;
  if (properties) for (const list of properties.entries.values()) for (const { parts } of list) extra += parts.length;
  for (const texts of several ? [several.ofText, several.ofAttribute] : [])
    for (const { settings } of texts.values()) extra += settings.length;
  if (flat) extra += flat.size;
  const b = new Builder(tree.size + tree.attrName.length + extra);
  const pool = new ValuePool(tree);
  const place = new Int32Array(tree.size).fill(-1);
  const elementLabel = new Int32Array(tree.names.length).fill(-1);
  const attributeLabel = new Int32Array(tree.names.length).fill(-1);
  const labelOfElement = (name: number) => {
    if (elementLabel[name] === -1) elementLabel[name] = b.labelOf(numbered?.get(name) ?? tree.names[name]!);
    return elementLabel[name]!;
  };
  const labelOfAttribute = (name: number) => {
    if (attributeLabel[name] === -1) attributeLabel[name] = b.labelOf(`@${tree.names[name]!}`);
    return attributeLabel[name]!;
  };
  const isSpace = tree.names.map((name) => name === 'xmlns' || name.startsWith('xmlns:'));
  /** The attribute that calls an element: a cell by its column, a section of a property list. */
  const callerOf = (at: number) => properties?.called.get(at) ?? columns?.attributeOf(at) ?? -1;
  const addAttributes = (node: number, owner: number, except: number) => {
    for (let a = tree.attrFirst[node]!; a < tree.attrFirst[node + 1]!; a++) {
      const name = tree.attrName[a]!;
      if (isSpace[name] || a === except) continue;
      const settings = several?.ofAttribute.get(a);
      if (settings) addSettings(settings, owner, node, a);
      else b.add(labelOfAttribute(name), owner, node, node, a, pool.ofAttribute(a));
    }
  };
  /** A record that was made, and is still to be told what is done to it. */
  let made = -1;
  for (let at = 0; at < tree.size; at++) {
    if (!isElement(tree, at)) continue;
    if (made !== -1) addOperations(made);
    made = operations?.of.has(at) ? at : -1;
    if (headers.has(at) || operations?.members.has(at)) {
      at = tree.after[at]! - 1;
      continue;
    }
    const holder = tree.parent[at]!;
    const above = holder === -1 ? -1 : place[holder]!;
    if (properties?.members.has(at)) {
      const list = properties.entries.get(holder)!;
      if (list[0]!.element === at) addEntries(b, pool, list, above);
      at = tree.after[at]! - 1;
      continue;
    }
    if (flat?.members.has(at)) {
      const nodes = flat.trees.get(at);
      if (nodes) addFlat(b, tree, pool, nodes, above);
      at = tree.after[at]! - 1;
      continue;
    }
    if (isCaption.has(at)) continue;
    const caption = captions.get(at);
    if (caption !== undefined) {
      const role = roles.get(at) ?? 'part';
      const tag = tree.names[tree.name[role === 'part' ? caption : at]!]!;
      const label = b.labelOf(role === 'part' ? `${tag}[${captionText(tree, caption)}]` : tag);
      place[at] = b.add(label, above, at, at, TEXT, firstElement(tree, at) === -1 ? pool.ofText(at) : -1);
      if (role === 'record') b.add(b.labelOf(CAPTION), place[at]!, caption, caption, TEXT, pool.ofText(caption));
      addAttributes(at, place[at]!, -1);
      continue;
    }
    const role = nestedPairs.size > 0 ? nestedPairs.get(at) : undefined;
    if (role !== undefined) {
      const holder = addNestedPair(at, role, above);
      at = holder === -1 ? tree.after[at]! - 1 : holder;
      continue;
    }
    const pair = pairs?.nameOf(at) ?? null;
    if (pair !== null) {
      const named = firstElement(tree, at);
      addPair(at, nextElement(tree, named), b.labelOf(`${tree.names[tree.name[at]!]}[${pair}]`), above);
      // What is inside a value that is no leaf and no list is read on below; the rest is done.
      at = place[nextElement(tree, named)] === -1 ? tree.after[at]! - 1 : nextElement(tree, named);
      continue;
    }
    if (nested?.isList(at)) {
      addItems(at, at, columnLabel(at), above);
      at = tree.after[at]! - 1;
      continue;
    }
    const name = tree.name[at]!;
    const leaf = firstElement(tree, at) === -1;
    if (slots && slots.slotOf(at) !== -1) {
      place[at] = above;
      addAttributes(at, above, slots.countIn(at));
      continue;
    }
    if (slots && addSlot(at, slots.valueIn(at), above)) {
      at = tree.after[at]! - 1;
      continue;
    }
    // A wrapper takes the place of what it wraps.
    if (wrappers?.body[name] && !leaf && isAlone(tree, at)) {
      place[at] = above;
      addAttributes(at, above, -1);
      continue;
    }
    if (names?.has(at)) {
      place[at] = b.add(columnLabel(holder), above, at, at, TAG, pool.ofString(nameOf(tree, at)));
      continue;
    }
    if ((wrappers || names) && !leaf && holdsWrapped(tree, at, wrappers, names)) {
      const inner = firstElement(tree, at);
      for (let child: number = inner; child !== -1; child = nextElement(tree, child)) {
        const own = addWrapped(child, child === inner ? at : child, columnLabel(at), above);
        if (child === inner) {
          place[at] = own;
          addAttributes(at, own, callerOf(at));
        }
      }
      at = tree.after[at]! - 1;
      continue;
    }
    const settings = several && textOfSettings(at);
    if (settings) {
      const { kind } = settings;
      const label = kind === null ? labelOfElement(name) : b.labelOf(`${tree.names[name]}{${kind}}`);
      const own = b.add(label, above, at, at, TEXT, -1);
      place[at] = own;
      if (several.ofText.has(at)) addSettings(settings, own, at, TEXT);
      addAttributes(at, own, -1);
      continue;
    }
    const column = callerOf(at);
    const sole = leaf ? valueAttributeOf(at) : -1;
    if (sole !== -1) {
      place[at] = b.add(columnLabel(at), above, at, at, sole, pool.ofAttribute(sole));
      continue;
    }
    const own = b.add(columnLabel(at), above, at, at, TEXT, leaf ? pool.ofText(at) : -1);
    place[at] = own;
    addAttributes(at, own, column);
  }
  if (made !== -1) addOperations(made);
  /** What is done to a record, as what lies in it. */
  function addOperations(record: number): void {
    for (const { element, slot } of operations!.of.get(record)!) {
      const isPart = slot !== null || firstElement(tree, element) === -1;
      const label = slot === null ? labelOfElement(tree.name[element]!) : b.labelOf(attributeValue(tree, slot));
      if (isPart) addWhole(element, label, place[record]!, false);
      else
        for (let child = firstElement(tree, element); child !== -1; child = nextElement(tree, child))
          addWhole(child, labelOfElement(tree.name[child]!), place[record]!, true);
    }
  }
  function addWhole(at: number, label: number, above: number, attributes: boolean): void {
    const first = firstElement(tree, at);
    const own = b.add(label, above, at, at, TEXT, first === -1 ? pool.ofText(at) : -1);
    if (attributes) addAttributes(at, own, -1);
    for (let child = first; child !== -1; child = nextElement(tree, child))
      addWhole(child, labelOfElement(tree.name[child]!), own, true);
  }
  /** The value of a wrapped leaf, or of an element that is a name itself. */
  function addWrapped(child: number, element: number, label: number, above: number): number {
    if (names?.has(child)) return b.add(label, above, element, child, TAG, pool.ofString(nameOf(tree, child)));
    const value = wrappedLeaf(tree, child, wrappers);
    const attr = valueAttributeOf(value);
    if (attr === -1) return b.add(label, above, element, value, TEXT, pool.ofText(value));
    return b.add(label, above, element, value, attr, pool.ofAttribute(attr));
  }
  /** What a leaf says in its text, or in its one attribute, where that is several settings. */
  function textOfSettings(at: number): TextOfSettings | undefined {
    const own = several!.ofText.get(at);
    const sole = tree.attrFirst[at]!;
    return own ?? (tree.attrFirst[at + 1]! - sole === 1 ? several!.ofAttribute.get(sole) : undefined);
  }
  function addSettings({ settings }: TextOfSettings, owner: number, node: number, attr: number): void {
    const text = valueAt(tree, { node, attr });
    for (const { name, from, to } of settings)
      b.begins.set(b.add(b.labelOf(name), owner, node, node, attr, pool.ofString(text.slice(from, to))), from);
  }
  /** The attribute that holds the value of a leaf; -1 for none. */
  function valueAttributeOf(at: number): number {
    const sole = tree.attrFirst[at]!;
    return tree.attrFirst[at + 1]! - sole === 1 && valueAttributes?.[tree.attrName[sole]!] ? sole : -1;
  }
  /** A slot of a plain value, or of a list of such; false for any other element. */
  function addSlot(at: number, value: number, above: number): boolean {
    if (value === -1) return false;
    const list = callerOf(at) !== -1 && slots!.isList(at);
    if (!list && firstElement(tree, value) !== -1) return false;
    const label = columnLabel(at);
    for (let item = list ? firstElement(tree, value) : value; item !== -1; item = nextElement(tree, item)) {
      const begins = place[at] === -1;
      const own = b.add(label, above, begins ? at : item, item, TEXT, pool.ofText(item));
      if (begins) place[at] = own;
      if (begins) addAttributes(at, own, callerOf(at));
      if (begins && list) addAttributes(value, own, slots!.countIn(value));
      addAttributes(item, own, -1);
    }
    return true;
  }
  /** One pair: a leaf, a list of leaves, or a node that takes in what its value holds. */
  function addPair(at: number, holder: number, label: number, above: number): void {
    const first = firstElement(tree, holder);
    if (first === -1) {
      b.add(label, above, at, holder, TEXT, pool.ofText(holder));
      return;
    }
    let list = true;
    for (let child = first; child !== -1; child = nextElement(tree, child)) {
      if (firstElement(tree, child) !== -1 || tree.name[child] !== tree.name[first]) list = false;
    }
    if (list) addItems(at, holder, label, above);
    else place[holder] = b.add(label, above, at, at, TEXT, -1);
  }
  /** A list of leaves, each of which has the name of the list. */
  function addItems(at: number, holder: number, label: number, above: number): void {
    const first = firstElement(tree, holder);
    for (let child = first; child !== -1; child = nextElement(tree, child))
      b.add(label, above, child === first ? at : child, child, TEXT, pool.ofText(child));
  }
  /** A pair among pairs that lie in each other; the element whose inside is still to be read, -1 for none. */
  function addNestedPair(at: number, role: PairRole, above: number): number {
    const named = firstElement(tree, at);
    const holder = nextElement(tree, named);
    const tag = tree.names[tree.name[at]!]!;
    const leaf = firstElement(tree, holder) === -1;
    const label = b.labelOf(role === 'part' ? `${tag}[${valueAt(tree, { node: named, attr: TEXT }).trim()}]` : tag);
    if (leaf && role !== 'record') {
      place[at] = b.add(label, above, at, holder, TEXT, pool.ofText(holder));
      return -1;
    }
    const own = b.add(label, above, at, at, TEXT, -1);
    place[at] = own;
    if (role === 'record') b.add(labelOfElement(tree.name[named]!), own, named, named, TEXT, pool.ofText(named));
    if (leaf) {
      b.add(labelOfElement(tree.name[holder]!), own, holder, holder, TEXT, pool.ofText(holder));
      return -1;
    }
    place[holder] = own;
    return holder;
  }
  function columnLabel(at: number): number {
    const column = callerOf(at);
    if (column !== -1) return b.labelOf(`${tree.names[tree.name[at]!]}[${attributeValue(tree, column)}]`);
    const header = tables?.columnOf.get(at);
    return header === undefined ? labelOfElement(tree.name[at]!) : b.labelOf(header);
  }
  const named = new Set([...(names ?? [])].map((at) => nameOf(tree, at)));
  return { tree, ...b.finish(), values: pool.values, padded: pool.padded, headers, captions, named, wrappers };
}
