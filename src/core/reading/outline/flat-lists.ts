import { type Site, TEXT, valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { cellsOf, columnsOf, type FlatNode, holdsNames, MOST_COLUMNS } from './flat-columns.ts';
import { nodesOf } from './flat-nodes.ts';
import { mayBePaths, pathLinesOf } from './flat-paths.ts';
import { triplesOf } from './flat-triples.ts';
import type { Builder } from './outline-builder.ts';
import { propertiesOf, sources } from './properties.ts';
import type { ValuePool } from './value-pool.ts';

/** Lists of elements side by side that write down a tree, by their first element. */
export interface FlatLists {
  readonly trees: ReadonlyMap<number, readonly FlatNode[]>;
  /** Elements of these lists. */
  readonly members: ReadonlySet<number>;
  /** How many nodes the trees have. */
  readonly size: number;
  /** Where elements name the one that they lie in by its number: that one's element. */
  readonly around: ReadonlyMap<number, number>;
  /** By `placeKey`, the other places that say the same value. */
  readonly again: ReadonlyMap<string, readonly Site[]>;
}

export const placeKey = ({ node, attr }: Site): string => `${node} ${attr}`;

/** A first look at a list takes so many of its elements. */
const SAMPLE = 60;

const known = new WeakMap<Tree, FlatLists | null>();

/** Lists that write down a tree: of nodes, of triples, or of lines that are a path and a value. Null for none. */
export function flatListsOf(tree: Tree): FlatLists | null {
  let lists = known.get(tree);
  if (lists === undefined) {
    lists = find(tree);
    known.set(tree, lists);
  }
  return lists;
}

function find(tree: Tree): FlatLists | null {
  const trees = new Map<number, readonly FlatNode[]>();
  const members = new Set<number>();
  const around = new Map<number, number>();
  const again = new Map<string, readonly Site[]>();
  let size = 0;
  const properties = propertiesOf(tree);
  for (const { parent, nodes } of sources(tree)) {
    if (properties?.entries.has(parent)) continue;
    const found = treeOf(tree, nodes, around);
    if (!found) continue;
    trees.set(nodes[0]!, found);
    for (const node of nodes) members.add(node);
    size += count(found);
    for (const { below } of found)
      for (const { site, again: others = [] } of below)
        if (site && others.length > 0) again.set(placeKey(site), others);
  }
  return trees.size > 0 ? { trees, members, size, around, again } : null;
}

const count = (nodes: readonly FlatNode[]): number => nodes.reduce((sum, { below }) => sum + 1 + count(below), 0);

/** What elements side by side write down; null where they are records, or anything else. */
function treeOf(tree: Tree, nodes: readonly number[], around: Map<number, number>): FlatNode[] | null {
  const step = Math.max(1, Math.floor(nodes.length / SAMPLE));
  const sample = nodes.filter((_, at) => at % step === 0);
  const look = columnsOf(tree, sample);
  if (!look) return null;
  if (look.length === 1) return mayBePaths(look[0]!.values) ? lines(tree, nodes) : null;
  const columns =
    look.length > 2 && look.length <= MOST_COLUMNS && look.some(holdsNames) ? columnsOf(tree, nodes) : null;
  const numbered = columns && nodesOf(nodes, columns);
  if (numbered) addAround(numbered, around);
  return numbered ?? (columns && triplesOf(nodes, columns, tree.names[tree.name[nodes[0]!]!]!));
}

function addAround(nodes: readonly FlatNode[], around: Map<number, number>): void {
  for (const { element, below } of nodes) {
    for (const one of below) if (one.element !== element) around.set(one.element, element);
    addAround(below, around);
  }
}

function lines(tree: Tree, nodes: readonly number[]): FlatNode[] | null {
  const sites = nodes.flatMap((node) => [...(cellsOf(tree, node)?.values() ?? [])]);
  if (sites.length !== nodes.length) return null;
  return pathLinesOf(
    nodes,
    sites.map((site) => valueAt(tree, site)),
    sites,
  );
}

/** Adds a tree below a node of the outline. */
export function addFlat(b: Builder, tree: Tree, pool: ValuePool, nodes: readonly FlatNode[], above: number): void {
  for (const { name, element, site, below } of nodes) {
    const own = b.add(
      b.labelOf(name),
      above,
      element,
      site?.node ?? element,
      site?.attr ?? TEXT,
      numberOf(tree, pool, site),
    );
    if (site?.part) b.begins.set(own, site.part[0]);
    b.part[own] = 1;
    addFlat(b, tree, pool, below, own);
  }
}

function numberOf(tree: Tree, pool: ValuePool, site: FlatNode['site']): number {
  if (site === null) return -1;
  if (site.part) return pool.ofString(valueAt(tree, site));
  return site.attr === TEXT ? pool.ofText(site.node) : pool.ofAttribute(site.attr);
}
