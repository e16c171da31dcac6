import { lowerBound } from '../../text/lower-bound.ts';
import { attributeValue } from '../../xml/site.ts';
import { attribute, attributesOf, elementsOf, isLeaf, nameOf, type Tree } from '../../xml/tree.ts';
import type { SiteSet } from '../fields/site-set.ts';
import { type Captions, captionText } from '../outline/captions.ts';
import { headsOf, linesOf } from '../outline/lines.ts';
import type { Collection, Section } from '../reading.ts';
import { kindIn, stepOf } from './collections.ts';

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
  const listOf = new Map<number, Collection>();
  for (const one of collections)
    if (one.parent === top && one.item !== null) for (const node of one.records) listOf.set(node, one);
  const lists = linesOf(tree);
  const lines = lists.lists.get(top);
  const heads = lines ? headsOf(lines) : new Map<number, string>();
  const blocks: number[][] = [];
  const byHead = new Map<string, number[]>();
  const byList = new Map<Collection, number[]>();
  for (const node of elementsOf(tree, top)) {
    if (isCaption.has(node)) continue;
    const head = heads.get(node);
    const list = captions.has(node) ? undefined : listOf.get(node);
    const block = head === undefined ? list && byList.get(list) : byHead.get(head);
    if (block) {
      block.push(node);
      continue;
    }
    const made = [node];
    blocks.push(made);
    if (head !== undefined) byHead.set(head, made);
    else if (list) byList.set(list, made);
  }
  const own = namesByAttribute(tree, blocks, heads, secrets);
  const kindOf = kindByAttribute(tree, new Set(listOf.values()));
  const sum = (nodes: readonly number[], of: (node: number) => number) =>
    nodes.reduce((total, node) => total + of(node), 0);
  return blocks.map((nodes) => {
    const node = nodes[0]!;
    const joint = nodes.length > 1 && heads.has(node);
    const list = nodes.length > 1 && !joint ? listOf.get(node) : undefined;
    const called = captions.has(node) ? captionText(tree, captions.get(node)!) : own.get(node);
    return {
      node,
      nodes,
      lines: joint,
      step: list ? stepOf(list) : nameOf(tree, node),
      name:
        (joint ? heads.get(node) : (lists.title(node) ?? (list ? kindIn(list.list) : kindOf(node)) ?? called)) ||
        nameOf(tree, node),
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

/** A function from an element to its kind, by the attribute that tells records of its tag apart; null where none does. */
function kindByAttribute(tree: Tree, lists: Iterable<Collection>): (node: number) => string | null {
  const tells = new Map<string, string>();
  for (const { item, list, records } of lists) {
    const kind = kindIn(list);
    const [first, end] = attributesOf(tree, records[0]!);
    for (let at = first; at < end; at++)
      if (kind && attributeValue(tree, at) === kind) tells.set(item!, tree.names[tree.attrName[at]!]!);
  }
  return (node) => {
    const name = tells.get(nameOf(tree, node));
    const at = name === undefined ? -1 : attribute(tree, node, name);
    return at === -1 ? null : attributeValue(tree, at);
  };
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
