import { largestOf } from '../../lists.ts';
import { isKind } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import type { Target } from '../references/references.ts';
import { hasOtherName, nameField } from '../roles/call-field.ts';
import { fieldIsKeyless, isBestKey, isHardware, isHardwareEach } from '../roles/role-signs.ts';
import type { Derivation, Devices } from './device-set.ts';
import { osAggregate } from './os-names.ts';

/** What is known of kinds of record before the devices among them are. */
export interface Kinds {
  readonly fields: readonly FieldData[];
  readonly byShape: ReadonlyMap<number, readonly FieldData[]>;
  readonly keys: KeyTable;
  readonly devices: Devices;
  readonly portFields: ReadonlySet<number>;
  readonly targets: readonly (readonly Target[])[];
  /** How often records of a shape are named. */
  readonly named: ReadonlyMap<number, number>;
  readonly isListed: (field: FieldData) => boolean;
  readonly isAddressed: (shape: number) => boolean;
  readonly isZone: (shape: number, lists: readonly FieldData[]) => boolean;
}

/** Rounds in which kinds of record that only others made devices are taken out; the last word is theirs after that. */
const ROUNDS = 6;

/**
 * Shapes whose records are devices: they derive one, are made of some, or are called by one. The field by which they are called
 * so; null where a name is only made of their parts.
 */
export function deviceShapesOf(kinds: Kinds): ReadonlyMap<number, FieldData | null> {
  const { fields, byShape, keys, devices, portFields, targets, named, isListed, isAddressed, isZone } = kinds;
  const { seats, speakers, callers } = spokenOf(kinds);
  const found = new Map<number, FieldData | null>();
  // What has an address, and another name by which it is called, is a network that tells its device.
  const isNetwork = ({ shape, name, tag }: Derivation) => {
    const called = callers.get(shape);
    return isAddressed(shape) && (called ? [...called].some((by) => by !== (name ?? tag)) : name === null);
  };
  for (const one of devices.derivations)
    if (!isNetwork(one)) found.set(one.shape, one.name === null ? null : fields[one.name]!);
  /** Whether each record has a device of its own, and most have a hardware address or are sure to be ports by something else. */
  const isOwnName = (field: FieldData, list: readonly FieldData[]) => {
    const isOneEach = (one: FieldData, least: number) =>
      !one.several && one.distinct.length === one.values.length && one.values.length >= least;
    const most = largestOf(list.map(({ values, several }) => (several ? 0 : values.length)));
    return (
      isOneEach(field, most) &&
      !targets[field.index]!.some(({ odds }) => odds >= 0) &&
      (list.some((one) => isHardwareEach(one) && isHardware(one) && one.values.length * 2 >= field.values.length) ||
        (devices.tabled && field.values.every((value) => devices.has(value))))
    );
  };
  // What is on a VLAN that lists ports, and is called by no device's name, is on each of these.
  const isVlan = (shape: number, name: FieldData | null) =>
    keys.keys.some((key) => key.shape === shape && key.vlans) &&
    !name?.distinct.some((value) => devices.has(value) || /\d$/.test(value));
  // What names devices with addresses, and is named by something else than these, is a zone of one.
  const isZoneOfOne = (shape: number, device: FieldData) =>
    isZone(shape, [device]) &&
    !callers.get(shape)?.has(device.index) &&
    targets[device.index]!.some(({ key, odds }) => odds >= 0 && key.shape !== shape && isAddressed(key.shape));
  /** Shapes that may be devices if those are that they name, and that name them. */
  const open = new Map<number, FieldData>();
  for (const [shape, list] of byShape) {
    const single = list.filter((field) => portFields.has(field.index) && !isListed(field));
    const many = list.filter((field) => portFields.has(field.index) && isListed(field));
    const made = list.find((field) => field.distinct.every(osAggregate) && isBestKey(field, keys));
    if (made && !isAddressed(shape)) found.set(shape, made);
    // What is called by its parts has no name besides: the port that it names is another.
    const isMade = found.get(shape) === null;
    const own = isAddressed(shape) || isMade ? undefined : single.find((field) => isOwnName(field, list));
    if (own) found.set(shape, own);
    else if (isZone(shape, many)) found.delete(shape);
    else if (many.length && !single.some((field) => fieldIsKeyless(field, keys))) {
      const called = nameField(
        list.filter((field) => !isListed(field)),
        keys,
        devices,
      );
      if (!isVlan(shape, called)) found.set(shape, found.get(shape) ?? called);
    } else if (!found.has(shape) && single.length > 0 && !isAddressed(shape)) {
      // Of several devices that is its own which is no other's.
      const namesNone = ({ index }: FieldData) =>
        !targets[index]!.some(({ key, odds }) => odds >= 0 && key.shape !== shape);
      const [device, other] = single.length > 1 ? single.filter(namesNone) : single;
      if (!device || other) continue;
      if (device.distinct.length < device.values.length || isZoneOfOne(shape, device)) continue;
      if (isBestKey(device, keys) || named.has(shape)) open.set(shape, device);
    }
  }
  const mayBe = (shape: number) => found.has(shape) || open.has(shape);
  const isDevice = (shape: number, device: FieldData) => {
    const named = byShape
      .get(shape)!
      .flatMap((field) => (field === device ? [] : targets[field.index]!.filter(({ odds }) => odds >= 0)))
      .map(({ key }) => key.shape);
    if (!named.every(mayBe)) return false;
    // Networks sit on it, or it is made of others, and only devices name it besides.
    const isSeat = seats.has(shape) || named.some((other) => other !== shape);
    return (isSeat && [...(speakers.get(shape) ?? [])].every(mayBe)) || !hasOtherName(device, keys, seats.get(shape));
  };
  for (let round = 0, before = -1; round < ROUNDS && open.size !== before; round++) {
    before = open.size;
    for (const [shape, device] of open) if (!isDevice(shape, device)) open.delete(shape);
  }
  // What is called by a numbered name, and names the device that it goes over, is no second name of that: a dialled line.
  const ownName = (shape: number, over: FieldData) => {
    if (!targets[over.index]!.some(({ key, odds }) => odds >= 0 && key.shape !== shape)) return over;
    const isNumbered = (value: string) => /^\p{L}[\p{L}_-]*\d{1,3}$/u.test(value);
    const isName = (field: FieldData) =>
      field !== over && !fieldIsKeyless(field, keys) && !isKind(field) && field.distinct.every(isNumbered);
    return byShape.get(shape)!.find(isName) ?? over;
  };
  for (const [shape, device] of open) found.set(shape, ownName(shape, device));
  return found;
}

/** By shape who names its records, and by what. */
interface Spoken {
  /** The field by which a record with an address names them. */
  readonly seats: ReadonlyMap<number, FieldData>;
  /** The shapes of all others that name them, but for networks that are named themselves. */
  readonly speakers: ReadonlyMap<number, ReadonlySet<number>>;
  /** The fields by which they are called: names, no numbers. */
  readonly callers: ReadonlyMap<number, ReadonlySet<number>>;
}

function spokenOf({ fields, targets, named, isAddressed }: Kinds): Spoken {
  const seats = new Map<number, FieldData>();
  const speakers = new Map<number, Set<number>>();
  const callers = new Map<number, Set<number>>();
  const add = (to: Map<number, Set<number>>, shape: number, one: number) => {
    const known = to.get(shape);
    if (known) known.add(one);
    else to.set(shape, new Set([one]));
  };
  for (const field of fields) {
    const isSeat = isAddressed(field.rowShape);
    for (const { odds, key } of targets[field.index]!) {
      if (odds < 0) continue;
      if (isSeat) seats.set(key.shape, field);
      if (!isSeat || !named.has(field.rowShape)) add(speakers, key.shape, field.rowShape);
      if (key.shape !== field.rowShape && key.kind === 'name') add(callers, key.shape, key.field.index);
    }
  }
  return { seats, speakers, callers };
}
