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

/** Fields that say of what kind their records are, also where these lie in others and are told apart by no kind. */
export function kindFields(fields: readonly FieldData[]): ReadonlySet<FieldData> {
  const kinds = fields.filter(isKind);
  if (kinds.length === 0) return new Set();
  const share = new Map<string, { kinds: number; all: number }>();
  for (const field of fields) {
    const name = field.steps.at(-1)!;
    const known = share.get(name) ?? { kinds: 0, all: 0 };
    share.set(name, { kinds: known.kinds + (isKind(field) ? 1 : 0), all: known.all + 1 });
  }
  const isUsual = (field: FieldData) => {
    const { kinds, all } = share.get(field.steps.at(-1)!)!;
    return kinds > 2 && kinds * 4 > all * 3 && !field.several;
  };
  return new Set(fields.filter((field) => isKind(field) || isUsual(field)));
}
