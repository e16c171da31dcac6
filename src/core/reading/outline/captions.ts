import { TEXT, valueAt } from '../../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import { isColumnName } from './column-name.ts';
import { areRecords } from './nested-names.ts';

/**
 * Elements that do nothing but name the element behind them, as terms and descriptions in a list:
 * `<key>port</key><string>igb0</string><key>mtu</key><number>1500</number>`. From the named element to its caption.
 */
export type Captions = ReadonlyMap<number, number>;

/** Captions of one list differ, but for a few. */
const DOUBLED = 0.05;
/** Most look like names of columns; what records are called may be anything short. */
const MOSTLY = 0.8;
const LONGEST = 61;

interface Count {
  pairs: number;
  rows: number;
  doubled: number;
  named: number;
  readonly names: Map<string, number>;
}

/**
 * Finds captions as one finds cells: every element of their name is a leaf that stands before another element, several
 * to a parent, and their texts come back under other parents. Empty where the document has none.
 */
export function captionsOf(tree: Tree): Captions {
  const uses = new Int32Array(tree.names.length);
  const counts = new Map<number, Count>();
  const own = new Set<string>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    uses[tree.name[node]!]!++;
    const first = firstElement(tree, node);
    if (first === -1 || !alternates(tree, first)) continue;
    const name = tree.name[first]!;
    let count = counts.get(name);
    if (!count) {
      count = { pairs: 0, rows: 0, doubled: 0, named: 0, names: new Map() };
      counts.set(name, count);
    }
    count.rows++;
    own.clear();
    for (let at = first; at !== -1; at = nextElement(tree, nextElement(tree, at))) {
      const text = captionText(tree, at);
      count.pairs++;
      if (isColumnName(text)) count.named++;
      if (own.has(text)) count.doubled++;
      own.add(text);
      count.names.set(text, (count.names.get(text) ?? 0) + 1);
    }
  }
  const chosen = new Set<number>();
  for (const [name, { pairs, rows, doubled, named, names }] of counts) {
    if (
      pairs !== uses[name] ||
      named < pairs * MOSTLY ||
      pairs < 6 ||
      rows < 2 ||
      pairs < rows * 2 ||
      doubled > pairs * DOUBLED
    )
      continue;
    let again = 0;
    for (const times of names.values()) if (times > 1) again += times;
    if (again >= pairs * 0.6) chosen.add(name);
  }
  const captions = new Map<number, number>();
  if (chosen.size === 0) return captions;
  for (let node = 0; node < tree.size; node++)
    if (isElement(tree, node) && chosen.has(tree.name[node]!)) captions.set(nextElement(tree, node), node);
  return captions;
}

export const captionText = (tree: Tree, caption: number): string => valueAt(tree, { node: caption, attr: TEXT }).trim();

/** Ends the key of records that are called by their captions: the element before the record, see `keySite`. */
export const CAPTION = 'caption()';
/** Captions that come back so often name fields. */
const FIELD = 3;

/** What is behind a caption: a part of the structure, called so; a record, which has it as a key; an item, which it counts. */
export type CaptionRole = 'part' | 'record' | 'item';

/** Roles of captioned elements, by what else stands in their parents; parts are left out. */
export function captionRoles(tree: Tree, captions: Captions): ReadonlyMap<number, CaptionRole> {
  const roles = new Map<number, CaptionRole>();
  if (captions.size === 0) return roles;
  const times = new Map<string, number>();
  const inside = new Map<number, number[]>();
  for (const [node, caption] of captions) {
    const text = captionText(tree, caption);
    times.set(text, (times.get(text) ?? 0) + 1);
    const list = inside.get(tree.parent[node]!);
    if (list) list.push(node);
    else inside.set(tree.parent[node]!, [node]);
  }
  const called = (node: number) => captionText(tree, captions.get(node)!);
  for (const nodes of inside.values()) {
    if (nodes.length < 2 || nodes.some((node) => firstElement(tree, node) === -1)) continue;
    const counted = nodes.every((node) => /^\d+$/.test(called(node)));
    const fields = nodes.filter((node) => times.get(called(node))! >= FIELD).length;
    if (!counted && fields * 2 > nodes.length) continue;
    if (!areRecords(nodes, (node) => (inside.get(node) ?? []).map(called))) continue;
    for (const node of nodes) roles.set(node, counted ? 'item' : 'record');
  }
  return roles;
}

/** Whether the children from `first` on are captions and what they name, in turn. */
function alternates(tree: Tree, first: number): boolean {
  const name = tree.name[first]!;
  for (let at = first; at !== -1; ) {
    const named = nextElement(tree, at);
    if (named === -1 || tree.name[at] !== name || tree.name[named] === name) return false;
    if (firstElement(tree, at) !== -1 || tree.attrFirst[at + 1]! > tree.attrFirst[at]!) return false;
    const length = tree.closeStart[at]! - tree.openEnd[at]!;
    if (length === 0 || length > LONGEST) return false;
    at = nextElement(tree, named);
  }
  return true;
}
