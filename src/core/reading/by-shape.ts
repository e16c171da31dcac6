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

/**
 * Fields that say of what kind their records are, also where these lie in others and are told apart by no kind, or only by
 * the table that they stand in: each kind has one word, and another one than the next.
 */
export function kindFields(fields: readonly FieldData[]): ReadonlySet<FieldData> {
  const share = new Map<string, { kinds: number; all: number; readonly words: Set<string> }>();
  for (const field of fields) {
    const name = field.steps.at(-1)!;
    const known = share.get(name) ?? { kinds: 0, all: 0, words: new Set() };
    if (isKind(field)) known.kinds++;
    if (field.distinct.length === 1) known.words.add(field.distinct[0]!);
    known.all++;
    share.set(name, known);
  }
  const isUsual = (field: FieldData) => {
    const { kinds, all, words } = share.get(field.steps.at(-1)!)!;
    const isMost = (count: number) => count > 2 && count * 4 > all * 3;
    return !field.several && (isMost(kinds) || (field.distinct.length === 1 && isMost(words.size)));
  };
  return new Set(fields.filter((field) => isKind(field) || isUsual(field)));
}
