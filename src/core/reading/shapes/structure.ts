import { append, largestOf } from '../../lists.ts';
import { Forms, Marks } from '../names/forms.ts';
import { isGenerated } from '../names/literals.ts';
import type { Outline } from '../outline/outline.ts';
import { signature, signatureCohesion } from './cohesion.ts';
import { contextsAmong } from './contexts-among.ts';
import { holdsRecords } from './held-rows.ts';
import { SAMPLE } from './kinds-of-element.ts';
import { kindsOf } from './layouts.ts';
import { isListOf } from './list-names.ts';

/**
 * A class: all outline nodes of one shape. The root is class 0; every other class is a label below a class, or `*`
 * below a class whose children are told apart by their tags, or a label with the value of a discriminator.
 */
export interface Shape {
  readonly index: number;
  /** Class above, -1 for the root. */
  readonly above: number;
  /** Name of the last step; `*` for records keyed by their tag. */
  readonly step: string;
  /** Outline nodes in document order. */
  readonly nodes: number[];
  /** True where some parent holds several of them. */
  readonly repeated: boolean;
  /** True for the records of a map: their tag is their key. */
  readonly keyedByTag: boolean;
  /** True where nodes have attributes or elements inside. */
  readonly structured: boolean;
  /** Steps from the root. */
  readonly depth: number;
  readonly below: number[];
}

export interface Structure {
  readonly shapes: readonly Shape[];
  /** Class of each outline node. */
  readonly shapeOf: Int32Array;
}

export function structureOf(outline: Outline): Structure {
  const listed = labelsInValues(outline);
  const structure = shapesOf(outline, listed, false);
  const { shapes } = structure;
  // Where many records are called by their tags, one that stands alone is, too.
  const maps = shapes.filter(({ keyedByTag, structured }) => keyedByTag && structured);
  if (maps.length < SCHOOL) return structure;
  const isAlone = ({ above, step, structured, nodes }: Shape) =>
    above !== -1 && structured && nodes.length === 1 && shapes[above]!.nodes.length === 1 && listed.has(step);
  return shapes.some(isAlone) ? shapesOf(outline, listed, true) : structure;
}

/** Lists of records called by their tags that make a way of writing. */
const SCHOOL = 3;

/** @param alone whether the only element inside another may be a record called by its tag. */
function shapesOf(outline: Outline, listed: Set<string>, alone: boolean): Structure {
  const shapes: Shape[] = [];
  const shapeOf = new Int32Array(outline.size).fill(-1);
  const times = new Int32Array(outline.values.length);
  for (const value of outline.value) if (value !== -1) times[value]!++;
  const numbers = Uint8Array.from(outline.labels, (label) => (/^\d+$/.test(label) ? 1 : 0));
  const bucketOf = new Int32Array(outline.labels.length).fill(-1);
  const add = (above: number, step: string, nodes: number[], repeated: boolean, keyedByTag: boolean): number => {
    const index = shapes.length;
    let structured = false;
    for (const node of nodes) {
      shapeOf[node] = index;
      if (outline.after[node]! > node + 1) structured = true;
    }
    const depth = above === -1 ? 0 : shapes[above]!.depth + 1;
    shapes.push({ index, above, step, nodes, repeated, keyedByTag, structured, depth, below: [] });
    if (above !== -1) shapes[above]!.below.push(index);
    return index;
  };
  if (outline.size > 0) add(-1, outline.labels[outline.label[0]!]!, [0], false, false);
  for (let index = 0; index < shapes.length; index++) {
    const shape = shapes[index]!;
    if (!shape.structured) continue;
    const buckets: { label: number; nodes: number[]; repeated: boolean; last: number }[] = [];
    for (const parent of shape.nodes) {
      const end = outline.after[parent]!;
      for (let child = parent + 1; child < end; child = outline.after[child]!) {
        const label = outline.label[child]!;
        let at = bucketOf[label]!;
        if (at === -1) {
          at = buckets.push({ label, nodes: [], repeated: false, last: -1 }) - 1;
          bucketOf[label] = at;
        }
        const bucket = buckets[at]!;
        if (bucket.last === parent) bucket.repeated = true;
        bucket.last = parent;
        bucket.nodes.push(child);
      }
    }
    for (const bucket of buckets) bucketOf[bucket.label] = -1;
    const labelText = (bucket: { label: number }) => outline.labels[bucket.label]!;
    const elements = buckets.filter((b) => !b.repeated && !/^@|[\]}]$/.test(labelText(b)));
    const map = mapAmong(
      outline,
      shape,
      elements.map((b) => ({ name: labelText(b), nodes: b.nodes })),
      listed,
      numbers,
      alone,
    );
    const inMap = new Set(map);
    const merged: number[] = [];
    for (const [at, bucket] of elements.entries()) if (inMap.has(at)) append(merged, bucket.nodes);
    if (merged.length) {
      merged.sort((a, b) => a - b);
      add(index, '*', merged, true, true);
    }
    const taken = new Set(map.map((at) => elements[at]!.label));
    for (const bucket of buckets) {
      if (taken.has(bucket.label)) continue;
      const name = labelText(bucket);
      // Texts of words have their kind.
      const parts = name.startsWith('@') || name.endsWith('}') ? null : kindsOf(outline, bucket.nodes, numbers, times);
      // What stands alone in lists of its own name is one of several, had these more.
      const isItem = buckets.length === 1 && bucket.nodes.length > 1 && isListOf(shape.step, name);
      if (!parts) add(index, name, bucket.nodes, bucket.repeated || isItem, false);
      else {
        for (const [kind, nodes] of parts)
          add(index, `${name}{${kind}}`, nodes, nodes.length > 1 && bucket.repeated, false);
      }
    }
  }
  return { shapes, shapeOf };
}

/** Labels that are values, or items of values that look like lists: where a tag is one it is likely a key. */
function labelsInValues({ labels, values }: Outline): Set<string> {
  const all = new Set(labels);
  // What columns are called is a name of fields, though it stands in a value.
  for (const label of labels) if (label.endsWith(']')) all.delete(label.slice(label.indexOf('[') + 1, -1));
  const forms = new Forms();
  for (const label of all) forms.add(label);
  const found = new Set<string>();
  for (const value of values) {
    if (value.length > 200) continue;
    if (value.length <= 64 && forms.mayHave(value, 0, value.length) && all.has(value)) found.add(value);
    const items: string[] = [];
    const marks = betweenItems.split(value, (from, to) => {
      if (!forms.mayHave(value, from, to)) return;
      const item = value.slice(from, to);
      if (all.has(item)) items.push(item);
    });
    // Of a path only the last step may be the name of a record.
    if (marks > 0 && marks < MOST_ITEMS)
      for (const item of items) if (!value.startsWith('/') || value.endsWith(`/${item}`)) found.add(item);
  }
  return found;
}

/** What stands between names, and around one: of a group, of a fragment, of what is left out. */
const betweenItems = new Marks(/[,;|\s:/@#&!~<>()[\]{}]/);
const MOST_ITEMS = 12;

/** So many that are built alike to this share are of one kind, whatever they are called. */
const MANY = 24;
/** Fewer that are called alike and built alike among others may be so by chance. */
const CALLED = 3;
const ALIKE = 0.7;
const SAME = 0.9;

interface Group {
  readonly name: string;
  readonly nodes: readonly number[];
}

/**
 * Which of the differently named children of a shape are records told apart by their tags. Strong signs: the tags occur
 * as values elsewhere; the children are built alike; the names differ from parent to parent.
 */
function mapAmong(
  outline: Outline,
  shape: Shape,
  groups: readonly Group[],
  words: Set<string>,
  numbers: Uint8Array,
  alone: boolean,
): number[] {
  // A part of a key that is a number counts records, also where there is only one.
  const counted = groups.flatMap(({ name, nodes }, at) =>
    /^\d+$/.test(name) && hasInside(outline, nodes[0]!) ? [at] : [],
  );
  if (counted.length > 0 && counted.length >= groups.length * 0.8) return counted;
  // So does an identifier, or a name with a number, where something is named by it.
  const codes = groups.flatMap(({ name, nodes }, at) =>
    words.has(name) && (isGenerated(name) || /\p{L}\d+$/u.test(name)) && hasInside(outline, nodes[0]!) ? [at] : [],
  );
  if (codes.length > 0 && codes.length === groups.length) return codes;
  if (groups.length === 1 && alone && shape.nodes.length === 1 && words.has(groups[0]!.name)) {
    const [node] = groups[0]!.nodes;
    return hasInside(outline, node!) && !holdsCounted(outline, node!) ? [0] : [];
  }
  if (groups.length < 2) return [];
  const parents = shape.nodes.length;
  // The same few names under each of many parents are fields, not keys.
  const present = groups.reduce((sum, group) => sum + group.nodes.length, 0);
  if (parents >= 3 && present >= groups.length * Math.max(2, parents * 0.6)) return [];
  const inner = groups.map((group, at) => ({ at, group })).filter(({ group }) => hasInside(outline, group.nodes[0]!));
  const known = (list: typeof inner) => list.filter(({ group }) => words.has(group.name)).length;
  if (inner.length >= 2) {
    const first = inner.map(({ group }) => group.nodes[0]!);
    // What has nothing but counted records is a list of these, whatever values say.
    if (first.every((node) => holdsCounted(outline, node))) return [];
    const contexts = contextsAmong(outline, first);
    if (contexts.length > 0) return contexts.map((at) => inner[at]!.at);
    const named = inner.filter(({ group }) => outline.named.has(group.name)).length;
    if (named === inner.length || (named >= CALLED && named * 2 >= inner.length))
      return withoutStrangers(outline, inner, words);
    const alike = cohesion(outline, first, numbers);
    const share = known(inner) / inner.length;
    const numbered = stemShare(inner.map(({ group }) => group.name));
    // Tables of which hardly any is called by a value are no records, unless many are built the same.
    const tables = inner.filter(({ group }) => holdsRecords(group.nodes[0]!, outline)).length * 2 >= inner.length;
    if (tables && share < 0.25 && (inner.length < MANY || alike < SAME)) return [];
    // Lists of plain items are all built alike, whatever they list: without a name that is known they are fields.
    if (share === 0 && inner.every(({ group }) => isList(outline, group.nodes[0]!))) return [];
    const need = inner.length === 2 ? 0.75 : inner.length < 8 ? 0.6 : 0.45;
    const sure =
      alike -
      need +
      (share === 1 && inner.length > 2 ? 0.45 : share >= 0.4 ? 0.25 : share > 0 ? 0.05 : -0.1) +
      (numbered > 0.7 ? 0.2 : 0);
    const twins = parents === 1 && groups.length === 2 && areTwins(outline, first[0]!, first[1]!);
    if (twins || (sure >= 0 && (inner.length > 2 || share > 0.4 || numbered === 1)))
      return withoutStrangers(outline, inner, words);
    // Among sections of a document those that values name, where they are built alike.
    const called = inner.filter(({ group }) => words.has(group.name) && !holdsRecords(group.nodes[0]!, outline));
    const own = called.map(({ group }) => group.nodes[0]!);
    if (called.length >= CALLED && cohesion(outline, own, numbers) >= ALIKE) return called.map(({ at }) => at);
  }
  const leaves = groups.map((group, at) => ({ at, group })).filter(({ group }) => !hasInside(outline, group.nodes[0]!));
  if (inner.length === 0 && leaves.length >= 2 && known(leaves) / leaves.length >= 0.6)
    return leaves.map(({ at }) => at);
  return [];
}

/** Leaves out children that share next to nothing with the rest and whose tag is no value anywhere. */
function withoutStrangers(outline: Outline, inner: { at: number; group: Group }[], words: Set<string>): number[] {
  const counts = new Map<number, number>();
  const labelsOf = (node: number) => {
    const labels = new Set<number>();
    for (let child = node + 1; child < outline.after[node]!; child = outline.after[child]!)
      labels.add(outline.label[child]!);
    return labels;
  };
  const all = inner.map(({ at, group }) => ({ at, name: group.name, labels: labelsOf(group.nodes[0]!) }));
  for (const { labels } of all) for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  return all
    .filter(({ name, labels }) => words.has(name) || [...labels].some((label) => counts.get(label)! > all.length / 3))
    .map(({ at }) => at);
}

/** True where two nodes hold the same names in the same order, and so many that it is no chance. */
function areTwins({ label, after }: Outline, one: number, other: number): boolean {
  const size = after[one]! - one;
  if (size <= TWIN_NAMES || after[other]! - other !== size) return false;
  for (let at = 1; at < size; at++) if (label[one + at] !== label[other + at]) return false;
  return true;
}

const TWIN_NAMES = 4;

/** True for a node all parts of which are called by numbers: a list of records. */
function holdsCounted({ label, labels, after }: Outline, node: number): boolean {
  for (let child = node + 1; child < after[node]!; child = after[child]!)
    if (!/^\d+$/.test(labels[label[child]!]!)) return false;
  return true;
}

/** True for a node that holds nothing but items of one name, each a value by itself. */
function isList({ label, after }: Outline, node: number): boolean {
  for (let child = node + 1; child < after[node]!; child++) if (label[child] !== label[node + 1]) return false;
  return after[node]! > node + 1;
}

function hasInside(outline: Outline, node: number): boolean {
  return outline.after[node]! > node + 1;
}

/** How alike nodes are built: the mean share of labels inside a node that another node has too; 0 to 1. */
function cohesion(outline: Outline, nodes: readonly number[], numbers: Uint8Array): number {
  const step = Math.max(1, Math.ceil(nodes.length / SAMPLE));
  const sets: Set<number>[] = [];
  for (let at = 0; at < nodes.length; at += step) sets.push(signature(outline, nodes[at]!, numbers));
  return signatureCohesion(sets);
}

function stemShare(names: readonly string[]): number {
  const stems = new Map<string, number>();
  for (const name of names) {
    const stem = name.replace(/\d+$/, '');
    if (stem !== name) stems.set(stem, (stems.get(stem) ?? 0) + 1);
  }
  return largestOf([0, ...stems.values()]) / names.length;
}
