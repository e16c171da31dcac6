import type { FieldData } from './fields.ts';

/** Fields by the shape of their records, in their order, without what is only said of leaves. */
export function fieldsByShape(fields: readonly FieldData[]): Map<number, FieldData[]> {
  const byShape = new Map<number, FieldData[]>();
  for (const field of fields) {
    if (field.aside) continue;
    const list = byShape.get(field.rowShape);
    if (list) list.push(field);
    else byShape.set(field.rowShape, [field]);
  }
  return byShape;
}

/** True for the field that says of what kind its records are. */
export const isKind = ({ distinct, steps }: FieldData): boolean =>
  distinct.length === 1 && steps.some((step) => step.endsWith(`{${distinct[0]!}}`));
