import type { KeyField } from '../keys/key-table.ts';
import type { Kind } from '../names/literals.ts';
import type { TokenCounts } from '../names/tokens.ts';
import type { Reach } from '../numbers/number-chance.ts';
import type { Facts } from './facts.ts';
import type { Evidence } from './score.ts';

export type Misses = Pick<Evidence, 'alikeMisses' | 'otherMisses' | 'vocabularyMisses'>;

/** A token that a key may leave unexplained, and how much that says. */
export interface Name {
  readonly token: number;
  readonly kind: Kind;
  readonly common: boolean;
}

/** Names that nothing explains, by what that says against a key. */
export function missesOf(
  key: KeyField,
  reach: Reach | null,
  names: readonly Name[],
  counts: TokenCounts,
  facts: Facts,
  explained: Uint8Array,
): Misses {
  const patterns = facts.patternsOf(key);
  let alikeMisses = 0;
  let otherMisses = 0;
  let vocabularyMisses = 0;
  for (const { token, kind, common } of names) {
    if (explained[token] === 1) continue;
    if (kind === 'integer' && (key.kind !== 'integer' || !(reach?.includes(counts.tokens[token]!) ?? true))) continue;
    if (common) vocabularyMisses++;
    else if (kind === key.kind || patterns.has(counts.patternOf(token))) alikeMisses++;
    else otherMisses++;
  }
  return { alikeMisses, otherMisses, vocabularyMisses };
}
