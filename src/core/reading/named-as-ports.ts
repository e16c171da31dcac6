import type { Devices } from './device-set.ts';
import { type FieldData, isOneEach, leafName } from './fields.ts';
import { kindOf } from './literals.ts';
import { holdsDevices } from './number-tables.ts';
import { osAggregate } from './os-names.ts';
import type { Target } from './references.ts';

/**
 * What names ports and is called by a numbered name as they are, under the same word: bundles, bridges, dial sessions. Ports are
 * such as have a hardware address each.
 */
export function fromMade(
  fields: readonly FieldData[],
  devices: Devices,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  targets: readonly (readonly Target[])[],
): void {
  const ports = new Map<number, string>();
  for (const field of fields)
    if (isOneEach(field) && holdsDevices(field, devices) && byShape.get(field.rowShape)?.some(isHardware))
      ports.set(field.rowShape, leafName(field));
  if (ports.size === 0) return;
  for (const [shape, list] of byShape) {
    if (ports.has(shape) || list.some(isAddresses)) continue;
    const words = new Set<string>();
    for (const { index } of list)
      for (const { key, odds } of targets[index]!) if (odds >= 0) words.add(ports.get(key.shape) ?? '');
    const own = list.find((field) => isOneEach(field) && words.has(leafName(field)));
    // Those that operating systems give are known as they are.
    if (own?.distinct.every((value) => /^\p{L}[\p{L}-]*\d{1,2}$/u.test(value) && !osAggregate(value)))
      for (const name of own.distinct) if (!devices.has(name)) devices.named.set(name, { parent: null, tag: null });
  }
}

const isHardware = (field: FieldData): boolean => isOneEach(field) && kindOf(field.values[0]!) === 'mac';

const isAddresses = ({ values }: FieldData): boolean => kindOf(values[0]!) === 'address';
