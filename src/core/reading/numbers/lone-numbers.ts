import { type FieldData, leafName } from '../fields/fields.ts';
import { type KeyTable, keyOn } from '../keys/key-table.ts';
import type { Reader } from '../names/tokens.ts';
import type { Structure } from '../shapes/structure.ts';
import { endingsOf, letters } from './number-names.ts';

/**
 * Keys of records that stand alone in their kind, where nothing tells records apart: the number that is called as identifiers
 * are here, where another field has the record's own name before that, `timetable_no`.
 */
export function loneNumbers(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  structure: Structure,
): void {
  const endings = endingsOf({ fields, readers, keys, structure });
  if (endings.length === 0) return;
  const numbers = fields.filter(({ tag, index }) => !tag && readers[index]!.counts.kinds[0] === 'integer');
  const named = new Set(numbers.map((field) => letters(leafName(field))));
  for (const field of numbers) {
    if (field.values.length > 1 || field.rowShape === -1) continue;
    const { step, nodes } = structure.shapes[field.rowShape]!;
    const name = letters(leafName(field));
    if (nodes.length === 1 && endings.includes(name) && named.has(letters(step) + name)) keyOn(field, keys);
  }
}
