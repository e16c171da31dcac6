/**
 * A field: all places of one shape. Two places have the same shape when the chains of names from the root are equal,
 * indices left out and `*` put for tags that are keys of records. Values are the strong evidence that a reading works
 * with, so they are decoded and trimmed once, here, and shared.
 */
export interface Field {
  /** Its place in the table. */
  readonly index: number;
  /** Names from the root down; the last one is `@name` for an attribute, `name()` for a record's own tag. */
  readonly steps: readonly string[];
  /** `/root/section/item/leaf`: the steps joined. */
  readonly template: string;
  /** Parallel arrays, one entry for each place with a value, in document order. Empty values are left out. */
  readonly nodes: readonly number[];
  /** Index of the attribute, or TEXT, or TAG: with `nodes` a site (see xml/site.ts). */
  readonly attrs: readonly number[];
  /** Decoded and trimmed. */
  readonly values: readonly string[];
  /** Index of the innermost collection around it, -1 for none. */
  readonly collection: number;
  /** The innermost record around each place, as an element; -1 for none. */
  readonly records: readonly number[];
}

/** The name that people know a field by: its last step without marks. */
export function leafName(field: Field): string {
  const last = field.steps[field.steps.length - 1] ?? '';
  return last.startsWith('@') ? last.slice(1) : last;
}
