import type { Outline } from './outline.ts';

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

/** No more than this many siblings are compared with each other. */
const SAMPLE = 400;

export function structureOf(outline: Outline): Structure {
  const shapes: Shape[] = [];
  const shapeOf = new Int32Array(outline.size).fill(-1);
  const valueSet = new Set<string>();
  for (const value of outline.values) if (value.length <= 64) valueSet.add(value);
  const listed = listedWords(outline, valueSet);
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
    const elements = buckets.filter((b) => !b.repeated && !/^@|\]$/.test(labelText(b)));
    const map = mapAmong(
      outline,
      shape,
      elements.map((b) => ({ name: labelText(b), nodes: b.nodes })),
      listed,
      numbers,
    );
    const inMap = new Set(map);
    const merged: number[] = [];
    for (const [at, bucket] of elements.entries()) if (inMap.has(at)) merged.push(...bucket.nodes);
    if (merged.length) {
      merged.sort((a, b) => a - b);
      add(index, '*', merged, true, true);
    }
    const taken = new Set(map.map((at) => elements[at]!.label));
    for (const bucket of buckets) {
      if (taken.has(bucket.label)) continue;
      const name = labelText(bucket);
      const parts = name.startsWith('@') ? null : discriminated(outline, bucket.nodes, numbers);
      if (!parts) add(index, name, bucket.nodes, bucket.repeated, false);
      else {
        for (const [kind, nodes] of parts)
          add(index, `${name}{${kind}}`, nodes, nodes.length > 1 && bucket.repeated, false);
      }
    }
  }
  return { shapes, shapeOf };
}

/** Values, and the items of values that look like lists: where a tag occurs among them it is likely a key. */
function listedWords(outline: Outline, values: Set<string>): Set<string> {
  for (const value of outline.values) {
    if (value.length > 200 || !/[,;|\s:/]/.test(value)) continue;
    const items = value.split(/[,;|\s:/]+/);
    if (items.length <= 12) for (const item of items) if (item) values.add(item);
  }
  return values;
}

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
): number[] {
  // A part of a key that is a number counts records, also where there is only one.
  const counted = groups.flatMap(({ name, nodes }, at) =>
    /^\d+$/.test(name) && hasInside(outline, nodes[0]!) ? [at] : [],
  );
  if (counted.length > 0 && counted.length >= groups.length * 0.8) return counted;
  if (groups.length < 2) return [];
  const parents = shape.nodes.length;
  // The same few names under each of many parents are fields, not keys.
  const present = groups.reduce((sum, group) => sum + group.nodes.length, 0);
  if (parents >= 3 && present >= groups.length * Math.max(2, parents * 0.6)) return [];
  const inner = groups.map((group, at) => ({ at, group })).filter(({ group }) => hasInside(outline, group.nodes[0]!));
  const known = (list: typeof inner) => list.filter(({ group }) => words.has(group.name)).length;
  if (inner.length >= 2) {
    const alike = cohesion(
      outline,
      inner.map(({ group }) => group.nodes[0]!),
      numbers,
    );
    const share = known(inner) / inner.length;
    const numbered = stemShare(inner.map(({ group }) => group.name));
    // Tables that are called by no value are no records.
    const tables = inner.filter(({ group }) => holdsRecords(group.nodes[0]!, outline)).length * 2 >= inner.length;
    if (tables && share === 0 && numbered <= 0.7) return [];
    const need = inner.length === 2 ? 0.75 : inner.length < 8 ? 0.6 : 0.45;
    const sure = alike - need + (share >= 0.4 ? 0.25 : share > 0 ? 0.05 : -0.1) + (numbered > 0.7 ? 0.2 : 0);
    if (sure >= 0 && (inner.length > 2 || share > 0.4 || numbered === 1))
      return withoutStrangers(outline, inner, words);
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
  return Math.max(0, ...stems.values()) / names.length;
}

/** Labels of everything inside, so that tables whose rows differ are told apart; bounded. */
function signature(outline: Outline, node: number, numbers: Uint8Array): Set<number> {
  const labels = new Set<number>();
  const end = Math.min(outline.after[node]!, node + 60);
  for (let at = node + 1; at < end; at++) if (!numbers[outline.label[at]!]) labels.add(outline.label[at]!);
  return labels;
}

function signatureCohesion(sets: readonly Set<number>[]): number {
  if (sets.length < 2) return 1;
  const counts = new Map<number, number>();
  for (const labels of sets) for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  let sum = 0;
  for (const labels of sets) {
    if (labels.size === 0) continue;
    let shared = 0;
    for (const label of labels) shared += (counts.get(label)! - 1) / (sets.length - 1);
    sum += shared / labels.size;
  }
  return sum / sets.length;
}

/**
 * Elements of one name that are built differently, told apart by an attribute or a leaf (`<table name="…">`,
 * `<object class="…">`): the nodes by its value, or null where they are of one kind.
 */
function discriminated(outline: Outline, nodes: readonly number[], numbers: Uint8Array): Map<string, number[]> | null {
  if (nodes.length < 2) return null;
  const step = Math.max(1, Math.ceil(nodes.length / SAMPLE));
  const sample: number[] = [];
  for (let at = 0; at < nodes.length; at += step) sample.push(nodes[at]!);
  if (!sample.some((node) => outline.after[node]! > node + 2)) return null;
  const sets = sample.map((node) => signature(outline, node, numbers));
  const overall = signatureCohesion(sets);
  const holders = sample.filter((node) => holdsRecords(node, outline)).length;
  const containers = holders >= sample.length * 0.6 ? rareCohesion(sets) : 1;
  const alike = overall >= 0.62 && containers >= 0.45;
  if (alike && overall > 0.97) return null;
  // Candidates: labels whose value every node has; of nodes that are rather alike only the first one.
  const values = new Map<number, (number | undefined)[]>();
  const firstLabel = outline.label[sample[0]! + 1]!;
  for (const [at, node] of sample.entries()) {
    for (let child = node + 1; child < outline.after[node]!; child = outline.after[child]!) {
      if (outline.after[child]! !== child + 1 || outline.value[child]! === -1) continue;
      let list = values.get(outline.label[child]!);
      if (!list) {
        list = new Array(sample.length);
        values.set(outline.label[child]!, list);
      }
      if (list[at] === undefined) list[at] = outline.value[child]!;
    }
  }
  let best = -1;
  let bestGain = 0.25;
  for (const [label, list] of values) {
    let missing = 0;
    const groups = new Map<number, Set<number>[]>();
    for (let at = 0; at < sample.length; at++) {
      const value = list[at];
      if (value === undefined) missing++;
      else {
        const group = groups.get(value);
        if (group) group.push(sets[at]!);
        else groups.set(value, [sets[at]!]);
      }
    }
    if (missing > 0 || groups.size < 2 || groups.size > 200) continue;
    if (alike && (label !== firstLabel || groups.size > sample.length / 2)) continue;
    // What is another for each of them is their name, unless they hold records, each of its own kind.
    if (groups.size === sample.length && holders === 0) continue;
    let within = 0;
    for (const group of groups.values()) within += signatureCohesion(group) * group.length;
    // Groups of one say nothing by themselves: count them for less, more so where nothing repeats.
    const singles = [...groups.values()].filter((group) => group.length === 1).length / sample.length;
    let gain =
      containers < 0.45 && singles > 0.9
        ? 0.75 - containers
        : within / sample.length - overall - singles * (label === firstLabel ? 0.15 : 0.25);
    // A first value that halves the differences tells kinds apart.
    if (alike) gain = 1 - within / sample.length <= (1 - overall) * 0.5 ? gain + 0.17 : 0;
    if (gain > bestGain) {
      bestGain = gain;
      best = label;
    }
  }
  if (best === -1) return null;
  const parts = new Map<string, number[]>();
  for (const node of nodes) {
    let kind = '';
    for (let child = node + 1; child < outline.after[node]!; child = outline.after[child]!) {
      if (outline.label[child] === best && outline.value[child]! !== -1) {
        kind = outline.values[outline.value[child]!]!;
        break;
      }
    }
    const part = parts.get(kind);
    if (part) part.push(node);
    else parts.set(kind, [node]);
  }
  return parts.size > 1 && parts.size <= 400 ? parts : null;
}

/** True for a node that holds several structured nodes of one name. */
function holdsRecords(node: number, { label, after }: Outline): boolean {
  const inside = new Set<number>();
  for (let child = node + 1; child < after[node]!; child = after[child]!) {
    if (after[child]! === child + 1) continue;
    if (inside.has(label[child]!)) return true;
    inside.add(label[child]!);
  }
  return false;
}

/** How alike nodes are in the labels that not nearly all of them have: 0 to 1. */
function rareCohesion(sets: readonly Set<number>[]): number {
  const counts = new Map<number, number>();
  for (const labels of sets) for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  const rare = sets.map((labels) => new Set([...labels].filter((label) => counts.get(label)! < sets.length * 0.8)));
  const size = rare.reduce((sum, labels) => sum + labels.size, 0) / rare.length;
  return size < 1.5 ? 1 : signatureCohesion(rare.filter((labels) => labels.size > 0));
}
