import type { FieldData } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import { isHardware, pairedKey } from './role-signs.ts';
import type { WaySource } from './role-ways.ts';

/** Where it may be written which role sits on which device. */
export interface Candidate {
  shape: number;
  /** Fields that hold the device, or its key; a record may have any of them. */
  places: readonly FieldData[];
  via: FieldData | null;
  /** The key by which `via` names the role. */
  by: KeyField | null;
  /** Whether the role is the record around the one that holds the device. */
  around: boolean;
  /** Whether the joining record has an address, or the role: one of several tables that say so. */
  told: boolean;
  weight: number;
}

/** What is known when such places are looked for. */
export interface RoleSource extends Omit<WaySource, 'fields' | 'readers'> {
  readonly isListed: (field: FieldData) => boolean;
  /** Whether records that list devices are named by others and called by no device. */
  readonly isGroup: (shape: number) => boolean;
  /** Whether records of a shape have an address, or the devices in some fields. */
  readonly haveAddress: (shape: number, places: readonly FieldData[]) => boolean;
  /** The field by which records on devices are called. */
  readonly nameOfRole: (shape: number) => FieldData | null;
}

/** What an address counts for, against how often records are named. */
export const ADDRESSED = 1000;

/** Fields of a record that does little more than name a device. */
const FEW = 4;

/** Of networks that are followed to their devices one by one. */
export const NOWHERE = { places: [], via: null, by: null, around: false, told: false };

/** More kinds of record are not followed. */
const MOST = 6;

/** The shapes that pass, those first whose records are named most often: some of them. */
export function mostNamed(named: ReadonlyMap<number, number>, test: (shape: number) => boolean) {
  return [...named]
    .filter(([shape]) => test(shape))
    .map(([shape, times]) => ({ shape, times }))
    .sort((a, b) => b.times - a.times)
    .slice(0, MOST);
}

/** Where it may be written which role sits on which device, in every way that a file may say so. */
export function candidatesOf(source: RoleSource): Candidate[] {
  const { byShape, keys, devices, portFields, targets, deviceShapes, above, shapeOf, named } = source;
  const { isAddressed, isListed, isGroup, haveAddress, nameOfRole } = source;
  const candidates: Candidate[] = [];
  const addLists = (shape: number, places: readonly FieldData[], around: boolean) => {
    if (places.length === 0 || !isGroup(shape)) return;
    const weight = named.get(shape)! + (haveAddress(shape, places) ? ADDRESSED : 0);
    candidates.push({ shape, places, via: null, by: null, around, told: false, weight });
  };
  const namesOthers = ({ index, rowShape }: FieldData) =>
    targets[index]!.some(({ key, odds }) => odds >= 0 && key.shape !== rowShape);
  const addJoins = (
    list: readonly FieldData[],
    places: readonly FieldData[],
    keyOf: (via: FieldData) => KeyField | null | undefined,
    bonus: (by: KeyField) => number,
  ) => {
    for (const via of list) {
      if ((via.several && !via.tag) || places.includes(via)) continue;
      const by = keyOf(via);
      if (!by) continue;
      const weight = (named.get(by.shape) ?? 0) + bonus(by);
      const told = isAddressed(via.rowShape) || isAddressed(by.shape);
      candidates.push({ shape: by.shape, places, via, by, around: false, told, weight });
    }
  };
  for (const [shape, list] of byShape) {
    if (shape === -1) continue;
    const roleKey = (via: FieldData) =>
      targets[via.index]!.find((t) => t.odds >= 0 && !deviceShapes.has(t.key.shape) && t.key.shape !== shape)?.key;
    const single = list.filter((field) => !field.several && !field.tag);
    const ports = single.filter((field) => portFields.has(field.index));
    addLists(
      shape,
      list.filter((field) => portFields.has(field.index) && !field.tag && isListed(field)),
      false,
    );
    if (deviceShapes.has(shape)) {
      // A table of devices says of each which role it is, where one of the two has an address.
      const device = deviceShapes.get(shape);
      if (device && ports.includes(device))
        addJoins(
          list,
          [device],
          (via) => {
            const by = via.distinct.length * 2 >= via.values.length ? roleKey(via) : undefined;
            return by && (isAddressed(shape) || isAddressed(by.shape)) ? by : null;
          },
          () => 900,
        );
      // So do tagged devices that only their parts name.
      for (const via of device === null && devices.composed.has(shape) ? single : []) {
        const by = via.distinct.length === via.values.length ? roleKey(via) : undefined;
        if (!by || !isAddressed(by.shape)) continue;
        const weight = (named.get(by.shape) ?? 0) + 900;
        candidates.push({ shape: by.shape, places: [via], via, by, around: false, told: true, weight });
      }
      continue;
    }
    if (ports.length > 0 && list.length <= FEW && !named.has(shape)) {
      const around = above(ports[0]!.rows[0]!);
      if (around !== -1 && !deviceShapes.has(shapeOf[around]!)) addLists(shapeOf[around]!, ports, true);
    }
    const links = single.filter(
      (field) =>
        !portFields.has(field.index) && targets[field.index]!.some((t) => t.odds >= 0 && deviceShapes.has(t.key.shape)),
    );
    // A record that holds no device may hold the key of one.
    const places = [...ports, ...links];
    if (places.length === 0) continue;
    const called = nameOfRole(shape);
    if (called && !portFields.has(called.index) && !isHardware(called) && (named.has(shape) || !namesOthers(called))) {
      const weight = (named.get(shape) ?? 0) + (haveAddress(shape, places) ? ADDRESSED : 0);
      candidates.push({ shape, places, via: null, by: null, around: false, told: false, weight });
    }
    addJoins(
      list,
      places,
      (via) => {
        const by = roleKey(via);
        // A network that others name is no less one for the VLAN that it is on.
        if (by) return by.vlans && called !== null && isAddressed(shape) && named.has(shape) ? null : by;
        return !isAddressed(shape) && !named.has(shape) && list.length <= 4 ? pairedKey(via, keys, isAddressed) : null;
      },
      (by) => {
        if (isAddressed(by.shape)) return (list.length <= 5 ? 900 : 0) - (isAddressed(shape) ? 4 : 0);
        // Zones that devices with addresses are in, a row for each.
        return list.length <= FEW && haveAddress(by.shape, places) ? ADDRESSED : isAddressed(shape) ? -4 : 0;
      },
    );
  }
  return candidates;
}
