import type { FieldData } from '../fields/fields.ts';
import type { Reader } from '../names/tokens.ts';
import { nearestName } from './nearest.ts';
import type { Target } from './references.ts';

/** A word of the dialect is written this many times as often as a name by accident near to it, at least. */
const SHARE = 3;
/** Shorter words are one letter from another by chance. */
const SHORT = 5;
/** Words that are held against all names, since each costs as much. */
const MOST = 200;

export type IsMeant = (token: string, times: number, list: readonly Target[]) => boolean;

/**
 * A test for words that come back and were meant for a record that is hardly named: its key in other capitals, or one letter
 * from it. Of such a record its own name is the odd one; any other word that comes back is one of the dialect.
 */
export function meantForOdd(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  targets: readonly (readonly Target[])[],
): IsMeant {
  let uses: Map<number, Map<string, number>> | null = null;
  const folds = new Map<number, ReadonlyMap<string, string>>();
  let looked = 0;
  return (token, times, list) =>
    list.some(({ key, odds }) => {
      if (odds < 0) return false;
      uses ??= usesOfNames(fields, readers, targets);
      const own = uses.get(key.index);
      if (!own) return false;
      const isOdd = (name: string | null | undefined) =>
        name !== null && name !== undefined && (own.get(name) ?? 0) * SHARE <= times;
      let folded = folds.get(key.index);
      if (!folded) {
        folded = new Map(key.field.distinct.map((name) => [name.toLowerCase(), name]));
        folds.set(key.index, folded);
      }
      if (isOdd(folded.get(token.toLowerCase()))) return true;
      if (token.length < SHORT || !/^\P{N}+$/u.test(token) || looked++ >= MOST) return false;
      return isOdd(nearestName(token, key.field.distinct, 1));
    });
}

/** By key, how often each of its names is named. */
function usesOfNames(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  targets: readonly (readonly Target[])[],
): Map<number, Map<string, number>> {
  const uses = new Map<number, Map<string, number>>();
  for (const field of fields)
    for (const { key, odds, tokens } of targets[field.index]!) {
      if (odds < 0) continue;
      const own = uses.get(key.index) ?? new Map<string, number>();
      uses.set(key.index, own);
      const { tokens: texts, times } = readers[field.index]!.counts;
      for (const at of tokens.list) own.set(texts[at]!, (own.get(texts[at]!) ?? 0) + times[at]!);
    }
  return uses;
}
