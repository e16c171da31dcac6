import { largestOf, leastOf } from '../../lists.ts';
import type { FieldData } from '../fields/fields.ts';
import type { Outline } from '../outline/outline.ts';
import type { Structure } from '../shapes/structure.ts';

/** A record that holds fewer kinds of record is no document of its own. */
const KINDS = 3;
/** Share of the kinds of the fullest that the barest holds where one is laid over the other. */
const LAID = 0.5;

/** Shapes of records that are documents of their own, from the root down. */
export function contextShapes({ shapes }: Structure): number[] {
  const kinds = new Int32Array(shapes.length);
  const isList = ({ repeated, keyedByTag, structured }: (typeof shapes)[number]) =>
    structured && (repeated || keyedByTag);
  for (const shape of shapes)
    if (isList(shape)) for (let at = shape.above; at !== -1; at = shapes[at]!.above) kinds[at]!++;
  return shapes.filter((shape) => isList(shape) && kinds[shape.index]! >= KINDS).map(({ index }) => index);
}

/**
 * Records that are documents of their own: virtual boxes, profiles, contexts. Each holds the same kinds of record, so the same
 * names may stand in several of them, and a name means the record of its own context (relative keys of XML: Buneman and
 * others, 2002).
 */
export class Contexts {
  private readonly shapes: readonly number[];
  private readonly layered = new Map<number, boolean>();

  constructor(
    private readonly outline: Outline,
    private readonly structure: Structure,
  ) {
    this.shapes = contextShapes(structure);
  }

  /** The shape of the records inside which the values of a field tell its records apart; -1 where it has none. */
  scopeOf(field: FieldData, isUnique: (distinct: number, count: number) => boolean): number {
    for (const shape of this.shapes) {
      if (!this.isInside(field.rowShape, shape)) continue;
      const pairs = new Set<string>();
      for (const [place, row] of field.rows.entries()) pairs.add(`${this.around(row, shape)} ${field.which[place]!}`);
      if (isUnique(pairs.size, field.values.length)) return shape;
    }
    return -1;
  }

  /** The node of the shape that an outline node is in; -1 where it is in none. */
  around(node: number, shape: number): number {
    const { shapeOf } = this.structure;
    let at = node;
    while (at !== -1 && shapeOf[at] !== shape) at = this.outline.parent[at]!;
    return at;
  }

  /**
   * Whether contexts are layers: some hold no more than a part of the kinds of record that others have, and what such a one
   * lacks it names in these.
   */
  areLayers(shape: number): boolean {
    let known = this.layered.get(shape);
    if (known === undefined) {
      const { shapes } = this.structure;
      const kinds = new Map<number, number>();
      const inside = shapes[shape]!.below.flatMap((list) => shapes[list]!.below.map((item) => shapes[item]!));
      for (const { nodes, structured } of inside) {
        if (!structured) continue;
        for (const context of new Set(nodes.map((node) => this.around(node, shape))))
          kinds.set(context, (kinds.get(context) ?? 0) + 1);
      }
      const all = [...kinds.values()];
      known = leastOf(all) < largestOf(all) * LAID;
      this.layered.set(shape, known);
    }
    return known;
  }

  /** How many nodes two have around both of them. */
  nearness(one: number, other: number): number {
    const { parent, after } = this.outline;
    let at = one;
    while (at !== -1 && (at > other || after[at]! <= other)) at = parent[at]!;
    let depth = 0;
    for (; at !== -1; at = parent[at]!) depth++;
    return depth;
  }

  private isInside(shape: number, outer: number): boolean {
    const { shapes } = this.structure;
    for (let at = shape === -1 ? -1 : shapes[shape]!.above; at !== -1; at = shapes[at]!.above)
      if (at === outer) return true;
    return false;
  }
}
