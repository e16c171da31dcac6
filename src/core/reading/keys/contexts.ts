import type { FieldData } from '../fields/fields.ts';
import type { Outline } from '../outline/outline.ts';
import type { Structure } from '../shapes/structure.ts';

/** A record that holds fewer kinds of record is no document of its own. */
const KINDS = 3;

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
