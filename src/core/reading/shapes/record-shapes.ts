import { contextShapes } from '../keys/contexts.ts';
import type { Structure } from './structure.ts';

/**
 * Shapes whose nodes may be records: they have fields or are called by their tags, and repeat, or are keyed, or stand outside any
 * record but those that are documents of their own.
 */
export function recordShapes(structure: Structure): boolean[] {
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
    const many = shape.repeated || shape.keyedByTag;
    is[shape.index] =
      (shape.structured || shape.keyedByTag) && above !== -1 && !shape.step.endsWith(']') && (many || !within);
  }
  return is;
}

/** For each shape the innermost shape at or above it whose nodes are records; -1 for none. */
export function rowShapes(structure: Structure, records: readonly boolean[]): Int32Array {
  const rows = new Int32Array(structure.shapes.length).fill(-1);
  for (const shape of structure.shapes) {
    rows[shape.index] = records[shape.index] ? shape.index : shape.above === -1 ? -1 : rows[shape.above]!;
  }
  return rows;
}
