import type { FieldData } from './fields.ts';

/** Fields by the shape of their records, in their order. */
export function fieldsByShape(fields: readonly FieldData[]): Map<number, FieldData[]> {
  const byShape = new Map<number, FieldData[]>();
  for (const field of fields) {
    const list = byShape.get(field.rowShape);
    if (list) list.push(field);
    else byShape.set(field.rowShape, [field]);
  }
  return byShape;
}
