import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, isOneEach, leafName } from '../fields/fields.ts';
import type { Reader } from '../names/tokens.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import { isVlanWord } from '../numbers/vlan-ids.ts';
import type { Target } from '../references/references.ts';
import type { Devices } from './device-set.ts';
import { isTags, linksOf, MARK } from './unnamed-tags.ts';

/**
 * Tagged devices in one table with the ports that they name: records that have a VLAN ID and no device's name. They get the name
 * that the operating system would give.
 */
export function composeRows(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  devices: Devices,
  portFields: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
): void {
  if (devices.derivations.length > 0 || devices.bases.size === 0) return;
  const byShape = fieldsByShape(fields);
  for (const [shape, list] of byShape) {
    const named = list.find((field) => portFields.has(field.index) && isOneEach(field) && holdsDevices(field, devices));
    if (shape === -1 || !named) continue;
    const rows = new Set(named.rows);
    for (const { field, deviceOf } of linksOf(list, byShape, readers, devices, targets, true)) {
      const isOpen = (one: FieldData) =>
        one !== field && isTags(one, deviceOf) && one.rows.every((row) => !rows.has(row) && deviceOf.has(row));
      const tags = list.filter(isOpen);
      const tag = tags.length === 1 ? tags[0] : tags.find((one) => isVlanWord(leafName(one)));
      if (!tag) continue;
      const names = new Map<string, number>();
      for (const [place, row] of tag.rows.entries()) {
        const base = deviceOf.get(row)!;
        const name = `${base}${MARK}${tag.values[place]!}`;
        devices.derived.set(name, { base, tag: Number(tag.values[place]!) });
        names.set(name, row);
      }
      devices.composed.set(shape, names);
      devices.derivations.push({ shape, name: named.index, parent: field?.index ?? null, tag: tag.index });
      break;
    }
  }
}
