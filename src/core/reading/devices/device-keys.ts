import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import type { Given } from '../references/facts.ts';
import { isAddresses } from '../roles/role-signs.ts';

/** So many names of a field tell. */
const SOME = 20;

/**
 * A function that tells of a key whether it names devices in records of their own: ports, and what is made of them. What has an
 * address is a network that tells its device.
 */
export function deviceKeys({ fields, readers, devices }: Given): (key: KeyField) => boolean {
  const known = new Map<KeyField, boolean>();
  let byShape: Map<number, FieldData[]> | null = null;
  const isDevices = ({ index }: FieldData) => {
    const { tokens } = readers[index]!.counts;
    return tokens.length > 0 && tokens.slice(0, SOME).every((token) => devices.has(token));
  };
  const areDevices = ({ shape, field, kind }: KeyField) => {
    if (kind !== 'name' || !isDevices(field)) return false;
    byShape ??= fieldsByShape(fields);
    return !(byShape.get(shape) ?? []).some(isAddresses);
  };
  return (key) => {
    const are = known.get(key) ?? areDevices(key);
    known.set(key, are);
    return are;
  };
}
