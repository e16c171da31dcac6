import { type FieldData, leafName } from './fields.ts';
import type { FieldProfile } from './profiles.ts';

/** Fewer pairs of fields of one name tell nothing. */
const LEAST = 8;

export interface LeafNames {
  /** By field. */
  readonly names: readonly string[];
  /** False where one name means something else in every kind of record. */
  readonly meaning: boolean;
}

/**
 * A name for each field, so that fields that hold the same thing have the same name. Most files mean the same by one word
 * wherever it stands; where one-letter names are handed out anew in each kind of record, they say nothing beyond it, and
 * the record's shape is made part of the name.
 */
export function leafNamesOf(fields: readonly FieldData[], profiles: readonly FieldProfile[]): LeafNames {
  const names = fields.map(leafName);
  const meaning = haveMeaning(fields, names, profiles);
  if (meaning) return { names, meaning };
  return { names: names.map((name, at) => (fields[at]!.tag ? name : `${fields[at]!.rowShape} ${name}`)), meaning };
}

/** Whether fields of one name hold values of one kind more often than any two fields do. */
function haveMeaning(
  fields: readonly FieldData[],
  names: readonly string[],
  profiles: readonly FieldProfile[],
): boolean {
  const last = new Map<string, number>();
  const kinds = new Map<string, number>();
  let pairs = 0;
  let same = 0;
  let all = 0;
  for (const { index, tag } of fields) {
    if (tag) continue;
    const { kind } = profiles[index]!;
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    all++;
    const before = last.get(names[index]!);
    last.set(names[index]!, index);
    if (before === undefined || fields[before]!.rowShape === fields[index]!.rowShape) continue;
    pairs++;
    if (profiles[before]!.kind === kind) same++;
  }
  if (pairs < LEAST) return true;
  let chance = 0;
  for (const count of kinds.values()) chance += (count / all) ** 2;
  return same / pairs > chance + 0.4 * (1 - chance);
}
