import type { FieldData } from '../fields/fields.ts';

/** Records as they lie in each other, by shape. */
export interface Lodging {
  readonly byShape: ReadonlyMap<number, readonly FieldData[]>;
  readonly shapeOf: Int32Array;
  /** The row around a row, -1 for none. */
  readonly above: (row: number) => number;
}

/** The shapes of the records that those of a shape lie in, by its first record; the innermost first. */
export function shapesAround(shape: number, { byShape, shapeOf, above }: Lodging): number[] {
  const around: number[] = [];
  let row = byShape.get(shape)?.[0]?.rows[0] ?? -1;
  while (row !== -1) {
    row = above(row);
    if (row !== -1) around.push(shapeOf[row]!);
  }
  return around;
}
