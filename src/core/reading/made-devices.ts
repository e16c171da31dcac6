import { fieldsByShape } from './by-shape.ts';
import type { Given } from './facts.ts';
import type { FieldData } from './fields.ts';
import type { KeyField } from './key-table.ts';

/** So many names of a field tell. */
const SOME = 20;

/**
 * A function that tells of a key whether it names devices that are made of others: a line by what it is dialled over, a bridge
 * by its ports.
 */
export function madeDevices({ fields, readers, devices }: Given): (key: KeyField) => boolean {
  const known = new Map<KeyField, boolean>();
  let byShape: Map<number, FieldData[]> | null = null;
  const isDevices = ({ index }: FieldData) => {
    const { tokens } = readers[index]!.counts;
    return tokens.length > 0 && tokens.slice(0, SOME).every((token) => devices.has(token));
  };
  const isMade = ({ shape, field, kind }: KeyField) => {
    if (kind !== 'name' || !isDevices(field)) return false;
    byShape ??= fieldsByShape(fields);
    return (byShape.get(shape) ?? []).some((other) => other !== field && isDevices(other));
  };
  return (key) => {
    const made = known.get(key) ?? isMade(key);
    known.set(key, made);
    return made;
  };
}
