import { unitsOf } from '../compile/units.ts';
import type { OutlinePart, Plan, PlanOutline } from '../plan/plan.ts';
import { sectionIndex } from '../reading/keys/sections.ts';
import type { Reading } from '../reading/reading.ts';
import { nameOf, type Tree } from '../xml/tree.ts';
import { landmarksOf, pathsOf } from './landmarks.ts';
import { type KeySpec, MARK, markOf, RecordMarks } from './record-marks.ts';

/** So many records are marked in an outline at most, the smaller collections first: a plan stays small. */
const MOST_MARKS = 20_000;

/** The plan as it is kept: with the file that it was made for, and what it takes to find its places in another one. */
export function sealed(
  plan: Plan,
  { tree, hash, name }: { readonly tree: Tree; readonly hash: string; readonly name: string },
  reading: Reading,
): Plan {
  const outline = { ...outlineOf(tree, reading), landmarks: landmarksOf(tree, reading, pathsOf(plan)) };
  return { ...plan, file: { name, hash }, outline };
}

/**
 * What a backup is made of: names of sections and collections, with the number of their entries and marks of their
 * records. Names of elements only: where the tag of a record is its key, `*` stands for it, so no value is told.
 */
export function outlineOf(tree: Tree, reading: Reading): PlanOutline {
  const chain = chainNames(tree, reading);
  const sections = new Map<string, number>();
  for (const { node } of reading.sections) sections.set(chain(node), 0);
  const sectionOf = sectionIndex(tree, reading.sections);
  for (const entry of unitsOf(tree, reading).nodes) {
    const section = reading.sections[sectionOf(entry)];
    if (section) sections.set(chain(section.node), sections.get(chain(section.node))! + 1);
  }
  const marks = new RecordMarks(tree, reading);
  const groups = groupsOf(tree, reading);
  const specs = new Map([...groups].map(([name, group]) => [name, commonSpec(marks, group.collections)]));
  const ids = recordIds(marks, groups, specs);
  let left = MOST_MARKS;
  const marked = new Set<string>();
  for (const [name, { records }] of [...groups].sort(([, a], [, b]) => a.records.length - b.records.length)) {
    if (records.length > left) break;
    left -= records.length;
    marked.add(name);
  }
  return {
    sections: [...sections].map(([name, count]) => ({ name, count })),
    collections: [...groups].map(([name, { records }]): OutlinePart => {
      const part = { name, count: records.length };
      if (!marked.has(name)) return part;
      return { ...part, key: specs.get(name)!, marks: records.map((node) => ids.get(node)!).join('') };
    }),
  };
}

export interface Group {
  readonly collections: Reading['collections'][number][];
  readonly records: number[];
}

/** Collections that stand alike in the file, by the names from the root to their records. */
export function groupsOf(tree: Tree, reading: Reading): Map<string, Group> {
  const chain = chainNames(tree, reading);
  const groups = new Map<string, Group>();
  for (const collection of reading.collections) {
    const name = `${chain(collection.parent)}/${collection.item ?? '*'}`;
    const group = groups.get(name) ?? { collections: [], records: [] };
    groups.set(name, group);
    group.collections.push(collection);
    for (const node of collection.records) group.records.push(node);
  }
  return groups;
}

function commonSpec(marks: RecordMarks, collections: Group['collections']): KeySpec {
  const specs = new Set(collections.map((one) => marks.specFor(one)));
  return specs.size === 1 ? [...specs][0]! : '';
}

/** A mark for each record, in which the records around it count, too. */
export function recordIds(
  marks: RecordMarks,
  groups: ReadonlyMap<string, Group>,
  specs: ReadonlyMap<string, KeySpec>,
): Map<number, string> {
  const { tree } = marks;
  const spec = new Map<number, KeySpec>();
  for (const [name, { records }] of groups) for (const node of records) spec.set(node, specs.get(name) ?? '');
  const ids = new Map<number, string>();
  for (const node of [...spec.keys()].sort((a, b) => a - b)) {
    let around = tree.parent[node]!;
    while (around !== -1 && !ids.has(around)) around = tree.parent[around]!;
    const own = marks.mark(node, spec.get(node)!);
    ids.set(node, around === -1 ? own.padEnd(MARK, '.') : markOf(`${ids.get(around)} ${own}`));
  }
  return ids;
}

/** A function from a node to the names from the root to it. */
export function chainNames(tree: Tree, reading: Reading): (node: number) => string {
  const tagged = new Set<number>();
  for (const { item, records } of reading.collections) if (item === null) for (const node of records) tagged.add(node);
  const known = new Map<number, string>();
  const chain = (node: number): string => {
    if (node === -1) return '';
    let name = known.get(node);
    if (name === undefined) {
      name = `${chain(tree.parent[node]!)}/${tagged.has(node) ? '*' : nameOf(tree, node)}`;
      known.set(node, name);
    }
    return name;
  };
  return chain;
}
