import { isTick, type Plan, subjectOf } from '../plan/plan.ts';
import { stepOf } from '../reading/keys/collections.ts';
import type { Collection, Reading, Section } from '../reading/reading.ts';
import type { Trouble } from '../trouble.ts';
import { pathFinder, pathOf } from '../xml/path.ts';
import { elementsOf, isElement, nameOf, type Tree } from '../xml/tree.ts';
import { followLineage } from './lineage.ts';
import { RECORD, spreadRecords } from './spread.ts';
import { unitsOf } from './units.ts';

/**
 * The path that stands for all records of a collection: `/box[1]/rules[1]/rule[*]`; `*[*]` where tags are keys,
 * `object{segment}[*]` where those of one tag are of several kinds.
 */
export const collectionPath = (tree: Tree, collection: Collection): string =>
  `${pathOf(tree, collection.parent)}/${stepOf(collection)}[*]`;

/** The path that stands for a section: its element, all records that it is made of, or lines of a list by their name. */
export function sectionPath(tree: Tree, { node, nodes, lines, name, step }: Section): string {
  if (nodes.length === 1) return pathOf(tree, node);
  const parent = tree.parent[node]!;
  return `${pathOf(tree, parent)}/${lines ? `section(${written(name)})` : `${step}[*]`}`;
}

const written = (name: string) => encodeURIComponent(name).replace(/[()]/g, (mark) => (mark === '(' ? '%28' : '%29'));
const inList = /\/section\(([^()/]*)\)$/;

/**
 * How closely a path speaks of an element: what is said more closely counts. A section of lines stands for more than a
 * collection, that for more than a record of several elements.
 */
export function closeness(path: string): number {
  if (inList.test(path)) return 0;
  return path.endsWith('[*]') ? 1 : path.endsWith(RECORD) ? 2 : 3;
}

/** A function from a path to the nodes it stands for; see `closeness`. */
export function placeFinder(tree: Tree, reading: Reading): (path: string) => readonly number[] {
  const find = pathFinder(tree);
  let byParent: Map<number, Reading['collections'][number][]> | null = null;
  const collectionsAt = (parent: number) => {
    if (!byParent) {
      byParent = new Map();
      for (const collection of reading.collections) {
        const kin = byParent.get(collection.parent);
        if (kin) kin.push(collection);
        else byParent.set(collection.parent, [collection]);
      }
    }
    return byParent.get(parent) ?? [];
  };
  return (path) => {
    if (path.endsWith(RECORD)) {
      const node = find(path.slice(0, -RECORD.length));
      return node === -1 ? [] : [node, ...(spreadRecords(tree, reading).get(node) ?? [])];
    }
    const lines = inList.exec(path);
    if (lines) {
      const holder = find(path.slice(0, lines.index));
      const section = reading.sections.find(
        (one) => one.lines && tree.parent[one.node] === holder && written(one.name) === lines[1],
      );
      return section?.nodes ?? [];
    }
    if (!path.endsWith('[*]')) {
      const node = find(path);
      return node === -1 ? [] : [node];
    }
    const cut = path.lastIndexOf('/');
    const parent = find(path.slice(0, cut));
    if (parent === -1) return [];
    const item = path.slice(cut + 1, -3);
    // A path without a kind means the records of all kinds.
    const held = collectionsAt(parent).filter((one) => stepOf(one) === item || (one.item ?? '*') === item);
    if (held.length > 0) return held.flatMap(({ records }) => records);
    // Too few of them to be read as a collection: their name says as much.
    return [...elementsOf(tree, parent)].filter((node) => nameOf(tree, node) === item);
  };
}

/**
 * The elements that the plan leaves out, none inside another, in document order, each with the subject of its decision.
 * Of the decisions about a node and the nodes around it the nearest counts, and one about the node itself more than one
 * about its collection or, of a record of several elements, about the record. What is kept inside something left out keeps the elements around it as a shell: their tags and
 * attributes and, of records, all that belongs to them and to no other record.
 */
export function leftOutNodes(tree: Tree, reading: Reading, plan: Plan, troubles: Trouble[]): Map<number, string> {
  const find = placeFinder(tree, reading);
  const out = new Map<number, string>();
  const kept = new Set<number>();
  const ticks = plan.decisions.filter(isTick).sort((a, b) => closeness(a.path) - closeness(b.path));
  for (const decision of ticks) {
    const nodes = find(decision.path);
    const leave = decision.kind === 'leave-out';
    if (nodes.length === 0)
      troubles.push({ code: leave ? 'plan-path-missing' : 'plan-keep-missing', params: { path: decision.path } });
    for (const node of nodes) {
      if (node === tree.root && leave) troubles.push({ code: 'plan-root-left-out', params: { path: decision.path } });
      else if (leave) {
        out.set(node, subjectOf(decision));
        kept.delete(node);
      } else {
        out.delete(node);
        kept.add(node);
      }
    }
  }
  followLineage(tree, out, kept);
  const tops = kept.size === 0 || out.size === 0 ? outermost(tree, out) : around(tree, reading, out, kept);
  return reading.captions.size === 0 || tops.size === 0 ? tops : withCaptions(tree, reading, tops, out);
}

/** A caption goes just where what it names goes, and takes that along where it is what was named. */
function withCaptions(
  tree: Tree,
  reading: Reading,
  tops: ReadonlyMap<number, string>,
  asked: ReadonlyMap<number, string>,
): Map<number, string> {
  const all = new Map(tops);
  for (const [named, caption] of reading.captions) {
    const owner = tops.get(named) ?? asked.get(caption);
    if (owner === undefined) all.delete(caption);
    else all.set(caption, owner).set(named, owner);
  }
  return outermost(tree, all);
}

function outermost(tree: Tree, asked: ReadonlyMap<number, string>): Map<number, string> {
  const tops = new Map<number, string>();
  let end = 0;
  for (const node of [...asked.keys()].sort((a, b) => a - b)) {
    if (node < end) continue;
    tops.set(node, asked.get(node)!);
    end = tree.after[node]!;
  }
  return tops;
}

function around(
  tree: Tree,
  reading: Reading,
  out: ReadonlyMap<number, string>,
  kept: ReadonlySet<number>,
): Map<number, string> {
  /** The node whose decision counts, -1 for none. */
  const rule = new Int32Array(tree.size).fill(-1);
  const gone = new Uint8Array(tree.size);
  for (let node = 0; node < tree.size; node++) {
    const parent = tree.parent[node]!;
    rule[node] = out.has(node) || kept.has(node) ? node : parent === -1 ? -1 : rule[parent]!;
    gone[node] = rule[node] !== -1 && out.has(rule[node]!) ? 1 : 0;
  }
  const holds = new Uint8Array(tree.size);
  for (let node = tree.size - 1; node >= 0; node--) {
    const parent = tree.parent[node]!;
    if (parent !== -1 && isElement(tree, node) && (!gone[node] || holds[node])) holds[parent] = 1;
  }
  const records = new Uint8Array(tree.size);
  for (const collection of reading.collections) for (const node of collection.records) records[node] = 1;
  const { of } = unitsOf(tree, reading);
  const tops = new Map<number, string>();
  for (let node = 0; node < tree.size; ) {
    const unit = of[node]!;
    const own = unit !== -1 && records[unit] && holds[unit] && rule[node]! <= unit;
    if (gone[node] && !holds[node] && !own && isElement(tree, node)) {
      tops.set(node, out.get(rule[node]!)!);
      node = tree.after[node]!;
    } else node++;
  }
  return tops;
}
