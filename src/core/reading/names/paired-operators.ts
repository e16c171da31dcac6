import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { isJoined, mayBeOperator, type Operator, operatorKey } from './operators.ts';
import { inner, numberIn } from './pieces.ts';

/** A word is an operator where it stands before so many names. */
const NAMES = 2;

/**
 * What stands on the one side of names that have an operator of the field on the other: `not ` of `not office net`, where
 * ` net` is one. It may stand there alone, too.
 */
export function operatorsBeside(
  tokens: Iterable<string>,
  own: readonly Operator[],
  keys: KeyTable,
  field: FieldData,
): Operator[] {
  const oneSided = own.filter(({ before, after }) => (before === '') !== (after === ''));
  if (oneSided.length === 0) return [];
  const found = new Map<string, { operator: Operator; names: Set<string> }>();
  for (const token of tokens) {
    for (const { before, after } of oneSided) {
      if (token.length <= before.length + after.length || !token.startsWith(before) || !token.endsWith(after)) continue;
      const rest = token.slice(before.length, token.length - after.length);
      const cut = keys.has(rest, field) ? null : (inner(rest, keys, field) ?? numberIn(rest, keys, field));
      if (!cut) continue;
      const operator = { before: rest.slice(0, cut.from), after: rest.slice(cut.from + cut.text.length) };
      if ((before === '' ? operator.after : operator.before) !== '') continue;
      if (!mayBeOperator(operator) || isJoined(operator)) continue;
      const entry = found.get(operatorKey(operator)) ?? { operator, names: new Set() };
      entry.names.add(cut.text);
      found.set(operatorKey(operator), entry);
    }
  }
  return [...found.values()].flatMap(({ operator, names }) =>
    names.size >= NAMES || /^\P{L}+$/u.test(operator.before + operator.after) ? operator : [],
  );
}
