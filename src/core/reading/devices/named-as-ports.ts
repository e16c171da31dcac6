import { type FieldData, isOneEach, leafName } from '../fields/fields.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import type { Target } from '../references/references.ts';
import { isAddresses, isHardwareEach } from '../roles/role-signs.ts';
import { isTag } from './device-forms.ts';
import type { Devices } from './device-set.ts';
import { osAggregate } from './os-names.ts';

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
  for (const field of fields) {
    const list = byShape.get(field.rowShape) ?? [];
    // What names those that have the addresses may be a zone.
    if (isOneEach(field) && holdsDevices(field, devices) && list.some(isHardwareEach) && !list.some(isAddresses))
      ports.set(field.rowShape, leafName(field));
  }
  if (ports.size === 0) return;
  for (const [shape, list] of byShape) {
    if (ports.has(shape) || list.some(isAddresses)) continue;
    const words = new Set<string>();
    for (const { index } of list)
      for (const { key, odds } of targets[index]!) if (odds >= 0) words.add(ports.get(key.shape) ?? '');
    // What names records itself joins these with ports: it is no name of its own.
    const isOwn = ({ index }: FieldData) => !targets[index]!.some(({ odds }) => odds >= 0);
    const own = list.find((field) => isOneEach(field) && words.has(leafName(field)) && isOwn(field));
    // Those that operating systems give are known as they are.
    if (own?.distinct.every((value) => /^\p{L}[\p{L}-]*\d{1,2}$/u.test(value) && !osAggregate(value)))
      for (const name of own.distinct) if (!devices.has(name)) devices.named.set(name, { parent: null, tag: null });
  }
}

/**
 * Where one field names records of several kinds, and some of these are devices by a field of theirs, the others are devices by
 * the field of that name, or by their only numbered name.
 */
export function fromKin(
  fields: readonly FieldData[],
  devices: Devices,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  targets: readonly (readonly Target[])[],
): void {
  for (const { index, tag } of fields) {
    const keys = targets[index]!.filter(({ odds }) => odds >= 0).map(({ key }) => key);
    const named = new Set(keys.map(({ shape }) => shape));
    if (tag || named.size < 2) continue;
    const kinds = [...named].map((shape) => byShape.get(shape) ?? []);
    // Networks are none, though each says on which it sits.
    const others = kinds.filter((list) => !list.some(isAddresses));
    const device = others.flat().find((field) => isOneEach(field) && holdsDevices(field, devices));
    if (!device) continue;
    // Named by their names, the others are, too; what these are called says less.
    const byName = keys.some(({ field }) => field === device);
    for (const list of kinds) {
      // What has a VLAN ID names the port below besides.
      const isTagged = list.some(({ distinct, values }) => distinct.length > 1 && values.every(isTag));
      if (list.some((field) => isAddresses(field) || (!isTagged && holdsDevices(field, devices)))) continue;
      const key = keys.find(({ field }) => list.includes(field))?.field;
      const free = list.filter((field) => isOneEach(field) && field !== key);
      const own = byName
        ? key
        : (free.find((field) => leafName(field) === leafName(device)) ??
          (hasTags(list) ? undefined : soleNumbered(free)));
      if (!own?.distinct.every(isWord)) continue;
      for (const name of own.distinct) if (!devices.has(name)) devices.named.set(name, { parent: null, tag: null });
    }
  }
}

const hasTags = (list: readonly FieldData[]) => list.some(({ values }) => values.every(isTag));

/** The only field of names that end in a number. */
function soleNumbered(list: readonly FieldData[]): FieldData | undefined {
  const found = list.filter(({ distinct }) => distinct.every((name) => /^\p{L}[\p{L}_-]*\d{1,3}$/u.test(name)));
  return found.length === 1 ? found[0] : undefined;
}

const isWord = (text: string) => /^(?!\d+$)\S{1,24}$/.test(text);
