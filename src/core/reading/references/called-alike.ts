import { type FieldData, leafName } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { isBuiltIn } from '../names/dangling.ts';
import { kindOf } from '../names/literals.ts';
import { type Reader, TokenSet } from '../names/tokens.ts';
import type { Target } from './references.ts';
import { tierOf } from './score.ts';

const SOME = 5;
const isOther = ({ counts }: Reader) =>
  counts.tokens.slice(0, SOME).some((token) => kindOf(token) !== 'opaque' && !isBuiltIn(token));

/**
 * What a field of identifiers should name that names nothing: the records that all fields called like it name by such
 * identifiers. A function that tells it of a field without targets; empty where that is not known.
 */
export function calledAlike(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  { keys }: KeyTable,
  targets: readonly (readonly Target[])[],
): (field: FieldData) => readonly Target[] {
  const byName = new Map<string, Target | null>();
  for (const [index, [top, ...more]] of targets.entries()) {
    const name = leafName(fields[index]!);
    // Where a field of the name holds something else, the name says nothing.
    if (!top && isOther(readers[index]!)) byName.set(name, null);
    if (!top) continue;
    const known = byName.get(name);
    const sure = more.length === 0 && top.key.kind === 'opaque' && tierOf(top.odds) === 'certain';
    byName.set(name, sure && (known === undefined || known?.key === top.key) ? top : null);
  }
  // What records are called by somewhere may be so here.
  for (const { field, best, strength } of keys) if (best && strength >= 1) byName.delete(leafName(field));
  return (field) => {
    const top = field.tag ? null : byName.get(leafName(field));
    const { counts } = readers[field.index]!;
    if (!top || !counts.tokens.every((token) => kindOf(token) === 'opaque')) return [];
    return [{ ...top, tokens: new TokenSet([], counts.size), total: counts.size }];
  };
}
