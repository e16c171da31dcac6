import { type PartSite, type Site, TEXT, valueAt } from '../../xml/site.ts';
import { elementsOf, firstElement, type Tree } from '../../xml/tree.ts';

/** A node of a tree that the file writes as a flat list: what it is called, the element that says so, what is below. */
export interface FlatNode {
  readonly name: string;
  readonly element: number;
  /** Where its value stands; null for none. */
  readonly site: PartSite | null;
  readonly below: readonly FlatNode[];
  /** Other places that say the same value, as each triple does of its subject. */
  readonly again?: readonly Site[];
  /** True for what an element says of the node around it, as its number: it is no line of its own. */
  readonly about?: boolean;
}

/** The values of a list's elements: one column for each attribute, element inside, or text of their own. */
export interface FlatColumn {
  /** As a step of a key: `@name` for an attribute. */
  readonly step: string;
  readonly sites: readonly (Site | null)[];
  /** Decoded and trimmed, empty for none. */
  readonly values: readonly string[];
}

/** A column with no more different words, in a list of many, only marks what its value is. */
const TYPES = 8;
/** Names of fields are so many at least. */
const NAMES = 4;
/** More values than these and an element is a record by itself. */
export const MOST_COLUMNS = 5;

/** Whether a column says no more than of what type the other values are: `<node … type="text">`. */
export function marksType({ values }: FlatColumn): boolean {
  const types = new Set(values);
  return types.size <= TYPES && types.size * 4 <= values.length;
}

export const isFieldName = (text: string) => /^[\p{L}_][\p{L}\p{M}\p{N}_.:-]*$/u.test(text);

/** Whether a column holds names of fields: words, not many, that come again. */
export function holdsNames({ values }: FlatColumn): boolean {
  const names = new Set(values);
  return names.size >= NAMES && names.size * 2 <= values.length && [...names].every(isFieldName);
}

/** Where the values of a flat element stand, by the step that leads there; null for one that is deeper, or has a step twice. */
export function cellsOf(tree: Tree, node: number): Map<string, Site> | null {
  const cells = new Map<string, Site>();
  for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++)
    cells.set(`@${tree.names[tree.attrName[attr]!]}`, { node, attr });
  if (firstElement(tree, node) === -1) {
    if (tree.openEnd[node]! < tree.closeStart[node]!) cells.set('', { node, attr: TEXT });
    return cells;
  }
  for (const child of elementsOf(tree, node)) {
    const step = tree.names[tree.name[child]!]!;
    if (cells.has(step) || firstElement(tree, child) !== -1 || tree.attrFirst[child] !== tree.attrFirst[child + 1])
      return null;
    cells.set(step, { node: child, attr: TEXT });
  }
  return cells;
}

/** Null where an element is deeper, or all have too many values. */
export function columnsOf(tree: Tree, nodes: readonly number[]): FlatColumn[] | null {
  const columns = new Map<string, { sites: (Site | null)[]; values: string[] }>();
  for (const [at, node] of nodes.entries()) {
    const cells = cellsOf(tree, node);
    if (!cells) return null;
    for (const [step, site] of cells) {
      let column = columns.get(step);
      if (!column) {
        if (columns.size === MOST_COLUMNS) return null;
        column = { sites: new Array(nodes.length).fill(null), values: new Array(nodes.length).fill('') };
        columns.set(step, column);
      }
      column.sites[at] = site;
      column.values[at] = valueAt(tree, site).trim();
    }
  }
  return [...columns].map(([step, column]) => ({ step, ...column }));
}
