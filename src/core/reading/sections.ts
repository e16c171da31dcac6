import { lowerBound } from '../text/lower-bound.ts';
import { attributeValue } from '../xml/site.ts';
import { attributesOf, elementsOf, isLeaf, nameOf, type Tree } from '../xml/tree.ts';
import { type Captions, captionText } from './captions.ts';
import { headsOf, linesOf } from './lines.ts';
import type { Collection, Section } from './reading.ts';
import type { SiteSet } from './site-set.ts';

/** A longer attribute is no name, in units. */
const LONGEST = 120;

/**
 * The blocks of the section list: children of the root, or of the one wrapper that holds everything. Records that stand
 * there side by side are one block, not one each, and so are lines of a flat list whose keys begin alike.
 */
export function sectionsOf(
  tree: Tree,
  recordsIn: (from: number, to: number) => number,
  collections: readonly Collection[],
  captions: Captions,
  secrets: SiteSet,
): Section[] {
  const isCaption = new Set(captions.values());
  let top = tree.root;
  for (let depth = 0; depth < 3; depth++) {
    const inner = [...elementsOf(tree, top)].filter((node) => !isLeaf(tree, node));
    if (inner.length !== 1) break;
    top = inner[0]!;
  }
  const isRecord = new Set<number>();
  for (const { parent, item, records } of collections)
    if (parent === top && item !== null) for (const node of records) isRecord.add(node);
  const lists = linesOf(tree);
  const lines = lists.lists.get(top);
  const heads = lines ? headsOf(lines) : new Map<number, string>();
  const blocks: number[][] = [];
  const byHead = new Map<string, number[]>();
  const byTag = new Map<string, number[]>();
  for (const node of elementsOf(tree, top)) {
    if (isCaption.has(node)) continue;
    const head = heads.get(node);
    if (head === undefined && (!isRecord.has(node) || captions.has(node))) {
      blocks.push([node]);
      continue;
    }
    const joint = head === undefined ? byTag : byHead;
    const name = head ?? nameOf(tree, node);
    const block = joint.get(name);
    if (block) block.push(node);
    else {
      const made = [node];
      blocks.push(made);
      joint.set(name, made);
    }
  }
  const own = namesByAttribute(tree, blocks, heads, secrets);
  const sum = (nodes: readonly number[], of: (node: number) => number) =>
    nodes.reduce((total, node) => total + of(node), 0);
  return blocks.map((nodes) => {
    const node = nodes[0]!;
    const joint = nodes.length > 1 && heads.has(node);
    const called = captions.has(node) ? captionText(tree, captions.get(node)!) : own.get(node);
    return {
      node,
      nodes,
      lines: joint,
      name: (joint ? heads.get(node) : (lists.title(node) ?? called)) ?? nameOf(tree, node),
      records: sum(nodes, (one) => recordsIn(one, tree.after[one]!)),
      size: sum(nodes, (one) => tree.end[one]! - tree.start[one]!),
    };
  });
}

/**
 * What sections of one tag are called instead: their first attribute, where it tells them all apart, as in a dump of tables
 * or a flat list. Secrets are no names.
 */
function namesByAttribute(
  tree: Tree,
  blocks: readonly (readonly number[])[],
  lines: ReadonlyMap<number, string>,
  secrets: SiteSet,
): Map<number, string> {
  const kin = new Map<number, number[]>();
  for (const [node, ...others] of blocks) {
    if (others.length > 0) continue;
    const known = kin.get(tree.name[node!]!);
    if (known) known.push(node!);
    else kin.set(tree.name[node!]!, [node!]);
  }
  const names = new Map<number, string>();
  for (const nodes of kin.values()) {
    if (nodes.length < 2 && !lines.has(nodes[0]!)) continue;
    const called = nodes.map((node) => {
      const [first, end] = attributesOf(tree, node);
      const name = first === end || secrets.has(node, first) ? '' : attributeValue(tree, first).trim();
      return name.length > LONGEST ? '' : name;
    });
    if (called.includes('') || new Set(called).size < nodes.length) continue;
    for (const [at, node] of nodes.entries()) names.set(node, called[at]!);
  }
  return names;
}

/** A function from a node to the index of the section it lies in, -1 for none. */
export function sectionIndex(tree: Tree, sections: readonly Section[]): (node: number) => number {
  const tops = sections.flatMap(({ nodes }, section) => nodes.map((node) => ({ node, section })));
  tops.sort((a, b) => a.node - b.node);
  const nodes = Int32Array.from(tops, ({ node }) => node);
  return (node) => {
    const at = lowerBound(nodes, node + 1) - 1;
    return at >= 0 && node < tree.after[nodes[at]!]! ? tops[at]!.section : -1;
  };
}
