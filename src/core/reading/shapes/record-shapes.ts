import { contextShapes } from '../keys/contexts.ts';
import { type Kind, kindOf } from '../names/literals.ts';
import type { Outline } from '../outline/outline.ts';
import type { Shape, Structure } from './structure.ts';

/**
 * Shapes whose nodes may be records: they have fields or are called by their tags, and repeat, or are keyed, or stand outside any
 * record but those that are documents of their own.
 */
export function recordShapes(structure: Structure, outline: Outline): boolean[] {
  const lodgers = lodgersAmong(structure, outline);
  const contexts = new Set(contextShapes(structure));
  const is: boolean[] = [];
  const inside: boolean[] = [];
  for (const shape of structure.shapes) {
    const above = shape.above;
    const within =
      above !== -1 &&
      !contexts.has(above) &&
      (inside[above]! || (is[above]! && (structure.shapes[above]!.repeated || structure.shapes[above]!.keyedByTag)));
    inside[shape.index] = within;
    const many = shape.repeated || shape.keyedByTag || lodgers.has(shape.index);
    is[shape.index] =
      (shape.structured || shape.keyedByTag) && above !== -1 && !shape.step.endsWith(']') && (many || !within);
  }
  return is;
}

/** Fewer may have names by chance. */
const FEWEST = 3;
/** Of more of the records around them they are a part. */
const SOME = 0.9;

/**
 * Shapes of records that stand once each in records of several kinds, as the network of a port and that of a VLAN do: they are
 * called alike, each has a name of its own, and so have the records around them.
 */
function lodgersAmong(structure: Structure, outline: Outline): ReadonlySet<number> {
  const { shapes } = structure;
  const byStep = new Map<string, Shape[]>();
  for (const shape of shapes) {
    if (!shape.structured || shape.repeated || shape.keyedByTag || shape.above === -1) continue;
    const alike = byStep.get(shape.step);
    if (alike) alike.push(shape);
    else byStep.set(shape.step, [shape]);
  }
  const lodgers = new Set<number>();
  for (const alike of byStep.values()) {
    const around = alike.map(({ above }) => shapes[above]!);
    const count = alike.reduce((sum, { nodes }) => sum + nodes.length, 0);
    if (count < FEWEST || !haveNames(alike, structure, outline)) continue;
    // One kind of thing may be told apart by what it says of itself, but not where some do without it.
    const kinds = new Set(around.map(({ step }) => step.replace(/\{.*$/, ''))).size;
    const holders = around.reduce((sum, { nodes }) => sum + nodes.length, 0);
    if (kinds < 2 && (alike.length > 1 || count > holders * SOME || !haveAddresses(alike[0]!, structure, outline)))
      continue;
    // Where each has an address, what they lie in may go by numbers, as VLANs do.
    const mayCount = alike.every((one) => haveAddresses(one, structure, outline));
    if (around.every((one) => haveNames([one], structure, outline, mayCount)))
      for (const { index } of alike) lodgers.add(index);
  }
  return lodgers;
}

/** Whether one leaf, called alike in all, is a name that each has and no two have; with `mayCount` also a number. */
function haveNames(alike: readonly Shape[], { shapes }: Structure, outline: Outline, mayCount = false): boolean {
  const leaves = new Map<string, number[]>();
  for (const { below } of alike)
    for (const at of below) {
      const { step, structured, nodes } = shapes[at]!;
      if (structured) continue;
      const known = leaves.get(step);
      if (known) for (const node of nodes) known.push(node);
      else leaves.set(step, [...nodes]);
    }
  const count = alike.reduce((sum, { nodes }) => sum + nodes.length, 0);
  return [...leaves.values()].some((nodes) => {
    if (nodes.length !== count) return false;
    const values = new Set(nodes.map((node) => outline.value[node]!));
    if (values.has(-1) || values.size < count) return false;
    const kinds = [...values].map((value) => kindOf(outline.values[value]!));
    return kinds.every(isName) || (mayCount && kinds.every((kind) => kind === 'integer'));
  });
}

/** Whether one leaf is an address in each. */
function haveAddresses({ below, nodes }: Shape, { shapes }: Structure, outline: Outline): boolean {
  return below.some((at) => {
    const leaf = shapes[at]!;
    if (leaf.structured || leaf.nodes.length !== nodes.length) return false;
    return leaf.nodes.every(
      (node) => outline.value[node] !== -1 && kindOf(outline.values[outline.value[node]!]!) === 'address',
    );
  });
}

const isName = (kind: Kind) => kind === 'name' || kind === 'phrase';

/** For each shape the innermost shape at or above it whose nodes are records; -1 for none. */
export function rowShapes(structure: Structure, records: readonly boolean[]): Int32Array {
  const rows = new Int32Array(structure.shapes.length).fill(-1);
  for (const shape of structure.shapes) {
    rows[shape.index] = records[shape.index] ? shape.index : shape.above === -1 ? -1 : rows[shape.above]!;
  }
  return rows;
}
