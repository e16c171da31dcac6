import { type Site, TEXT, valueAt } from '../xml/site.ts';
import { elementsOf, firstElement, type Tree } from '../xml/tree.ts';
import type { Builder } from './outline-builder.ts';
import { sources } from './properties.ts';
import type { ValuePool } from './value-pool.ts';

/** A node of a tree that the file writes as a flat list: what it is called, the element that says so, what is below. */
export interface FlatNode {
  readonly name: string;
  readonly element: number;
  /** Where its value stands; null for none. */
  readonly site: Site | null;
  readonly below: readonly FlatNode[];
}

/** Lists of elements side by side that write down a tree, by their first element. */
export interface FlatLists {
  readonly trees: ReadonlyMap<number, readonly FlatNode[]>;
  /** Elements of these lists. */
  readonly members: ReadonlySet<number>;
  /** How many nodes the trees have. */
  readonly size: number;
}

/** The values of a list's elements: one column for each attribute, element inside, or text of their own. */
export interface FlatColumn {
  /** As a step of a key: `@name` for an attribute. */
  readonly step: string;
  readonly sites: readonly (Site | null)[];
  /** Decoded and trimmed, empty for none. */
  readonly values: readonly string[];
}

/** More values than these and an element is a record by itself. */
const MOST = 5;

type Manner = (nodes: readonly number[], columns: readonly FlatColumn[], tag: string) => FlatNode[] | null;

/** A first look at a list takes so many of its elements. */
const SAMPLE = 60;
/** Names of fields are so many at least. */
const NAMES = 4;

/** Whether a column holds names of fields: words, not many, that come again. */
function holdsNames({ values }: FlatColumn): boolean {
  const names = new Set(values);
  return (
    names.size >= NAMES &&
    names.size * 2 <= values.length &&
    [...names].every((name) => /^[\p{L}_][\p{L}\p{M}\p{N}_.:-]*$/u.test(name))
  );
}

/**
 * Lists that write down a tree, told by one of the given manners of writing.
 * @param manners what the elements of a list write, by their columns and their name; null where they do not write so.
 */
export function flatListsOf(tree: Tree, manners: readonly Manner[]): FlatLists | null {
  const trees = new Map<number, readonly FlatNode[]>();
  const members = new Set<number>();
  let size = 0;
  for (const { nodes } of sources(tree)) {
    const middle = cellsOf(tree, nodes[nodes.length >> 1]!);
    if (!middle || middle.size < 3 || middle.size > MOST || !isFlat(tree, nodes)) continue;
    const step = Math.max(1, Math.floor(nodes.length / SAMPLE));
    if (
      !columnsOf(
        tree,
        nodes.filter((_, at) => at % step === 0),
      )?.some(holdsNames)
    )
      continue;
    const columns = columnsOf(tree, nodes);
    if (!columns) continue;
    const tag = tree.names[tree.name[nodes[0]!]!]!;
    for (const manner of manners) {
      const found = manner(nodes, columns, tag);
      if (!found) continue;
      trees.set(nodes[0]!, found);
      for (const node of nodes) members.add(node);
      size += count(found);
      break;
    }
  }
  return trees.size > 0 ? { trees, members, size } : null;
}

const count = (nodes: readonly FlatNode[]): number => nodes.reduce((sum, { below }) => sum + 1 + count(below), 0);

/** Adds a tree below a node of the outline. */
export function addFlat(b: Builder, pool: ValuePool, nodes: readonly FlatNode[], above: number): void {
  for (const { name, element, site, below } of nodes) {
    const value = site === null ? -1 : site.attr === TEXT ? pool.ofText(site.node) : pool.ofAttribute(site.attr);
    const own = b.add(b.labelOf(name), above, element, site?.node ?? element, site?.attr ?? TEXT, value);
    b.part[own] = 1;
    addFlat(b, pool, below, own);
  }
}

function isFlat(tree: Tree, nodes: readonly number[]): boolean {
  const step = Math.max(1, nodes.length >> 4);
  for (let at = 0; at < nodes.length; at += step) if (!cellsOf(tree, nodes[at]!)) return false;
  return true;
}

/** Where the values of a flat element stand, by the step that leads there; null for one that is deeper, or has a step twice. */
function cellsOf(tree: Tree, node: number): Map<string, Site> | null {
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

function columnsOf(tree: Tree, nodes: readonly number[]): FlatColumn[] | null {
  const columns = new Map<string, { sites: (Site | null)[]; values: string[] }>();
  for (const [at, node] of nodes.entries()) {
    const cells = cellsOf(tree, node);
    if (!cells) return null;
    for (const [step, site] of cells) {
      let column = columns.get(step);
      if (!column) {
        if (columns.size === MOST) return null;
        column = { sites: new Array(nodes.length).fill(null), values: new Array(nodes.length).fill('') };
        columns.set(step, column);
      }
      column.sites[at] = site;
      column.values[at] = valueAt(tree, site).trim();
    }
  }
  return [...columns].map(([step, column]) => ({ step, ...column }));
}
