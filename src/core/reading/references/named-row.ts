import type { KeyTable } from '../keys/key-table.ts';
import type { Piece } from '../names/tokens.ts';
import type { Target } from './references.ts';

/**
 * The record that a name in a value stands for, by the first of the kinds that explain it; null for none.
 * @param place the outline node that has the name.
 */
export function rowNamed(
  { text, token }: Pick<Piece, 'text' | 'token'>,
  targets: readonly Target[],
  keys: KeyTable,
  place: number,
): { readonly row: number; readonly target: Target } | null {
  for (const target of targets) {
    if (!target.tokens.has(token)) continue;
    const row = keys.rowOf(text, target.key, place);
    if (row !== -1) return { row, target };
  }
  return null;
}
