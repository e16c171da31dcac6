import { isBooleanPair, parseBoolean } from '../../values/booleans.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import type { Devices } from './device-set.ts';

/**
 * Fields of yes and no, where a port is called by a letter as one of them is: told by the other one, which a field of the
 * name has and which is no port.
 */
export function switchesAmong(fields: readonly FieldData[], devices: Devices): ReadonlySet<FieldData> {
  const byName = new Map<string, FieldData[]>();
  for (const field of fields) {
    // Digits may number records.
    const isSwitch = (text: string) => parseBoolean(text) !== null && !/\d/.test(text);
    if (field.tag || field.distinct.length > 2 || !field.distinct.every(isSwitch)) continue;
    const name = leafName(field);
    byName.set(name, [...(byName.get(name) ?? []), field]);
  }
  const switches = new Set<FieldData>();
  for (const alike of byName.values()) {
    const texts = [...new Set(alike.flatMap(({ distinct }) => distinct))];
    const [one, other] = texts;
    if (texts.length === 2 && isBooleanPair(one!, other!) && !texts.every((text) => devices.has(text)))
      for (const field of alike) switches.add(field);
  }
  return switches;
}
