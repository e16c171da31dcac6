import type { FieldData } from '../fields/fields.ts';
import type { Facts, Given } from './facts.ts';

/**
 * The keys of several kinds of record where each name of a field is one of theirs, and of one kind: it names these, also where it
 * tells its own records apart. Null where there are none.
 */
export function partsOf(
  { index, rowShape }: FieldData,
  found: readonly (readonly [key: number, tokens: readonly number[]])[],
  { keys }: Given,
  { leaf, directions }: Facts,
  all: number,
): ReadonlySet<number> | null {
  const byShape = new Map<number, (typeof found)[number]>();
  for (const one of found) {
    const key = keys.keys[one[0]]!;
    const { shape, kind, field, best } = key;
    // An identifier beside the records' own is that of another, unless they begin with it.
    if (
      (kind === 'opaque' && !best && !directions.isFirst(key)) ||
      kind === 'integer' ||
      shape === rowShape ||
      leaf[field.index] === leaf[index]
    )
      continue;
    if (one[1].length > (byShape.get(shape)?.[1].length ?? 0)) byShape.set(shape, one);
  }
  const parts = [...byShape.values()];
  const names = parts.flatMap(([, tokens]) => tokens);
  if (parts.length < 2 || all < FEWEST || names.length !== all || new Set(names).size !== all) return null;
  // Where they have no others, they may name the field's records, a part of these each.
  if (parts.every(([index, tokens]) => keys.keys[index]!.rows === tokens.length)) return null;
  return new Set(parts.map(([index]) => index));
}

/** Fewer names may be so by chance. */
const FEWEST = 3;

/** Whether names are words for kinds of record, each with a number: `pt1`, `sw4`. */
export function areOfSeveralWords(names: readonly string[]): boolean {
  const words = new Set(names.map((name) => /^(\p{L}+)[ _-]?\d{1,4}$/u.exec(name)?.[1]));
  return words.size > 1 && !words.has(undefined);
}
