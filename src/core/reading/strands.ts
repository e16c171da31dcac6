import { nameOf, type Tree } from '../xml/tree.ts';
import type { Field } from './fields.ts';

/**
 * A part of a field whose places have one name. Most fields are one strand; a field of records keyed by their tags, or
 * of values wrapped in an element of their own (`<secret><text>…</text></secret>`), falls into one for each name, since
 * the name says what the value is about.
 */
export interface Strand {
  readonly field: Field;
  /** Indices of places in the field. */
  readonly places: readonly number[];
  /** The name that tells, as written: the leaf's own, or that of the element wrapped around the value. */
  readonly name: string;
  /** The same for all strands that stand side by side in records of one kind. */
  readonly company: string;
}

/** More names than this and the names are keys. */
const MANY = 60;

export function strandsOf(tree: Tree, fields: readonly Field[]): readonly Strand[] {
  const wrappers = wrapperNames(tree, fields);
  const strands: Strand[] = [];
  for (const field of fields) {
    const steps = field.steps;
    const last = steps[steps.length - 1]!;
    if (last === 'name()') continue;
    const wrapped = wrappers.has(last) && steps.length > 1;
    const told = steps.length - (wrapped ? 2 : 1);
    const company = steps.slice(0, told).join('/');
    if (steps[told] !== '*') {
      strands.push({ field, places: field.values.map((_, place) => place), name: bareName(steps[told]!), company });
      continue;
    }
    const byName = new Map<number, number[]>();
    for (let place = 0; place < field.nodes.length && byName.size <= MANY; place++) {
      const node = field.nodes[place]!;
      const name = tree.name[wrapped && field.attrs[place]! < 0 ? tree.parent[node]! : node]!;
      const group = byName.get(name);
      if (group) group.push(place);
      else byName.set(name, [place]);
    }
    if (byName.size > MANY) byName.clear();
    if (byName.size === 0) strands.push({ field, places: field.values.map((_, place) => place), name: '*', company });
    for (const [name, places] of byName) strands.push({ field, places, name: bareName(tree.names[name]!), company });
  }
  return strands;
}

/** `secret` of `@secret`, of `cell[secret]` and of `site:secret`. */
function bareName(step: string): string {
  const name = /\[(.+)\]$/.exec(step)?.[1] ?? step;
  return name.slice(Math.max(name.lastIndexOf(':'), name.startsWith('@') ? 0 : -1) + 1);
}

/** Last steps of values that stand alone in an element, under elements of several names. */
function wrapperNames(tree: Tree, fields: readonly Field[]): ReadonlySet<string> {
  const counts = new Map<string, { alone: number; all: number; above: Set<number> }>();
  for (const field of fields) {
    const last = field.steps[field.steps.length - 1]!;
    if (last === 'name()' || last === '*' || last.endsWith(']')) continue;
    let count = counts.get(last);
    if (!count) {
      count = { alone: 0, all: 0, above: new Set() };
      counts.set(last, count);
    }
    for (let at = 0; at < field.nodes.length; at += Math.max(1, field.nodes.length >> 4)) {
      const node = field.nodes[at]!;
      const holder = field.attrs[at]! >= 0 ? node : tree.parent[node]!;
      count.all++;
      if (holder === -1 || !isAlone(tree, node, field.attrs[at]!)) continue;
      count.alone++;
      count.above.add(tree.name[holder]!);
    }
  }
  const names = new Set<string>();
  for (const [name, { alone, all, above }] of counts) if (above.size >= 3 && alone >= all * 0.8) names.add(name);
  return names;
}

/** Whether a value is all that its element holds, a mark of its type left aside. */
function isAlone(tree: Tree, node: number, attr: number): boolean {
  if (attr >= 0) {
    const attributes = tree.attrFirst[node + 1]! - tree.attrFirst[node]!;
    return tree.after[node] === node + 1 && attributes <= 2 && tree.openEnd[node]! >= tree.closeStart[node]!;
  }
  const parent = tree.parent[node]!;
  if (parent === -1) return false;
  return node === parent + 1 && tree.after[parent] === tree.after[node] && nameOf(tree, parent) !== nameOf(tree, node);
}
