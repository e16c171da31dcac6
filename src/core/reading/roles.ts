import { fieldsByShape } from './by-shape.ts';
import { callField, hasOtherName, nameField } from './call-field.ts';
import type { Devices } from './device-set.ts';
import type { FieldData } from './fields.ts';
import type { KeyField, KeyTable } from './key-table.ts';
import { osAggregate } from './os-names.ts';
import type { Target } from './references.ts';
import { fieldIsKeyless, isAddressField, isBestKey, isHardware, pairedKey } from './role-signs.ts';
import { nameAt, namesAt, type Reader } from './tokens.ts';

/** A logical network on a device: the rows are outline nodes. */
export interface Bound {
  readonly role: string;
  readonly port: string;
  readonly field: FieldData;
  readonly place: number;
  /** What the place calls the port, and where in its value that begins. */
  readonly name: { readonly text: string; readonly from: number };
}

/** How records lie in each other. */
export interface Rows {
  /** The row around a row, -1 for none. */
  readonly above: (row: number) => number;
  readonly shapeOf: Int32Array;
}

/** Shape of role records and the field that names them; null for none. */
export interface RoleKind {
  readonly shape: number;
  readonly name: FieldData | null;
}

export interface RolesFound {
  readonly bindings: readonly Bound[];
  /** Mostly one; several where networks of two kinds stand apart, as those outside and those inside. */
  readonly kinds: readonly RoleKind[];
}

/** What an address counts for, against how often records are named. */
const ADDRESSED = 1000;

/** Fields of a record that does little more than name a device. */
const FEW = 4;

/**
 * Roles are records that others name and that sit on a device: they hold its name, or the key of its record, or a record
 * that joins the two does; or the record of the device names them beside its address; or they list their devices.
 */
export function rolesOf(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  devices: Devices,
  portFields: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
  { above, shapeOf }: Rows,
): RolesFound {
  const named = new Map<number, number>();
  for (const field of fields) {
    for (const { key, odds, tokens } of targets[field.index]!) {
      if (odds < 0 || key.shape === field.rowShape) continue;
      let times = 0;
      for (const token of tokens.list) times += readers[field.index]!.counts.times[token]!;
      named.set(key.shape, (named.get(key.shape) ?? 0) + times);
    }
  }
  const byShape = fieldsByShape(fields);
  const isListed = ({ several, index }: FieldData) => several || readers[index]!.separator !== null;
  const isAddressed = (list: readonly FieldData[]) => list.some((field) => isAddressField(field, readers));
  /** Shapes whose records a record with an address names, and the field that does; those that others name than named networks and devices. */
  const seats = new Map<number, FieldData>();
  const spoken = new Set<number>();
  const derivers = new Set(devices.derivations.map(({ shape }) => shape));
  for (const field of fields) {
    const likely = targets[field.index]!.filter(({ odds }) => odds >= 0);
    const isSeat = likely.length > 0 && isAddressed(byShape.get(field.rowShape)!);
    for (const { key } of isSeat ? likely : []) seats.set(key.shape, field);
    const isOther = !derivers.has(field.rowShape) && (!isSeat || !named.has(field.rowShape));
    if (isOther) for (const { key } of likely) spoken.add(key.shape);
  }
  const isAddressedAt = (at: number) => isAddressed(byShape.get(at) ?? []);
  const isDeviceName = (value: string) => devices.has(value) || osAggregate(value);
  const callOf = (shape: number) => callField(byShape.get(shape) ?? [], keys, portFields, shape);
  /** Devices that have an address, as the records say that name them one by one. */
  const addressed = new Set<string>();
  for (const field of fields)
    if (portFields.has(field.index) && !isListed(field) && isAddressedAt(field.rowShape))
      for (const token of readers[field.index]!.counts.tokens) addressed.add(token);
  const areAddressed = ({ index }: FieldData) =>
    targets[index]!.some((t) => t.odds >= 0 && isAddressedAt(t.key.shape)) ||
    readers[index]!.counts.tokens.some((token) => addressed.has(token));
  /** Whether records that list devices are named by others and called by no device. */
  const isGroup = (shape: number) => {
    const called = named.has(shape) ? callOf(shape) : null;
    return called !== null && !portFields.has(called.index) && !called.values.some(isDeviceName);
  };
  // What lists devices, and has an address as they have, is made of none.
  const haveAddress = (shape: number, places: readonly FieldData[]) =>
    isAddressedAt(shape) || places.some(areAddressed);
  const isZone = (shape: number, lists: readonly FieldData[]) =>
    lists.length > 0 && haveAddress(shape, lists) && isGroup(shape);
  // Shapes whose records are devices: they derive one, are made of some, or are called by one.
  const deviceShapes = new Map<number, FieldData | null>();
  for (const { shape, name } of devices.derivations) {
    const parts = byShape.get(shape) ?? [];
    if (name !== null || !isAddressed(parts)) deviceShapes.set(shape, name === null ? null : fields[name]!);
  }
  const namesOther = ({ index, rowShape }: FieldData) =>
    targets[index]!.some(({ odds, key }) => odds >= 0 && key.shape !== rowShape && !deviceShapes.has(key.shape));
  // Twice, since what is made of devices may stand before these.
  for (const [shape, list] of [...byShape, ...byShape]) {
    const single = list.filter((field) => portFields.has(field.index) && !isListed(field));
    const many = list.filter((field) => portFields.has(field.index) && isListed(field));
    const made = list.find((field) => field.distinct.every(osAggregate) && isBestKey(field, keys));
    if (made && !isAddressed(list)) deviceShapes.set(shape, made);
    if (isZone(shape, many)) deviceShapes.delete(shape);
    else if (many.length && !single.some((field) => fieldIsKeyless(field, keys)))
      deviceShapes.set(shape, deviceShapes.get(shape) ?? nameField(list, keys, devices));
    else if (
      !deviceShapes.has(shape) &&
      single.length === 1 &&
      (isBestKey(single[0]!, keys) || named.has(shape)) &&
      single[0]!.distinct.length === single[0]!.values.length &&
      !isAddressed(list) &&
      !list.some((field) => field !== single[0] && namesOther(field)) &&
      ((seats.has(shape) && !spoken.has(shape)) || !hasOtherName(single[0]!, keys, seats.get(shape)))
    ) {
      deviceShapes.set(shape, single[0]!);
    }
  }
  interface Candidate {
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
  const candidates: Candidate[] = [];
  // What names a device, by itself or by its record, is no name of what sits on it.
  const seated = new Set(portFields);
  for (const { index, rowShape } of fields)
    if (targets[index]!.some(({ key, odds }) => odds >= 0 && key.shape !== rowShape && deviceShapes.has(key.shape)))
      seated.add(index);
  const nameOfRole = (shape: number) => callField(byShape.get(shape) ?? [], keys, seated, shape);
  const addLists = (shape: number, places: readonly FieldData[], around: boolean) => {
    if (places.length === 0 || !isGroup(shape)) return;
    const weight = named.get(shape)! + (haveAddress(shape, places) ? ADDRESSED : 0);
    candidates.push({ shape, places, via: null, by: null, around, told: false, weight });
  };
  const namesOthers = ({ index, rowShape }: FieldData) =>
    targets[index]!.some(({ key, odds }) => odds >= 0 && key.shape !== rowShape);
  /** Whether some field names records of both shapes. */
  const areNamedAlike = (one: number, other: number) =>
    targets.some((list) => {
      const shapes = list.filter(({ odds }) => odds >= 0).map(({ key }) => key.shape);
      return shapes.includes(one) && shapes.includes(other);
    });
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
      const told = isAddressed(list) || isAddressedAt(by.shape);
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
            return by && (isAddressed(list) || isAddressedAt(by.shape)) ? by : null;
          },
          () => 900,
        );
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
      (via) => roleKey(via) ?? (!isAddressed(list) && list.length <= 4 ? pairedKey(via, keys, isAddressedAt) : null),
      (by) => (isAddressedAt(by.shape) && list.length <= 5 ? 900 : 0) - (isAddressed(list) ? 4 : 0),
    );
  }
  if (candidates.length === 0) return { bindings: [], kinds: [] };
  const top = candidates.reduce((a, b) => (b.weight > a.weight ? b : a));
  const chosen = [top];
  for (const one of [...candidates].sort((a, b) => b.weight - a.weight))
    if (
      one.weight >= ADDRESSED &&
      areNamedAlike(one.shape, top.shape) &&
      !chosen.some(({ shape }) => shape === one.shape)
    )
      chosen.push(one);
  const deviceOf = (field: FieldData, place: number, value: string): string | null => {
    if (portFields.has(field.index)) return value;
    for (const { key, odds } of targets[field.index]!) {
      if (odds < 0 || !deviceShapes.has(key.shape)) continue;
      const row = keys.rowOf(value, key, field.at[place]!);
      if (row === -1) continue;
      const source = deviceShapes.get(key.shape) ?? null;
      for (const [name, own] of (source === null && devices.composed.get(key.shape)) || [])
        if (own === row) return name;
      const device = source ? source.rows.indexOf(row) : -1;
      if (source && device >= 0) return source.values[device]!;
    }
    return null;
  };
  const bindings: Bound[] = [];
  const seen = new Set<string>();
  const bind = ({ via, by, around, places }: Candidate, { name }: RoleKind, again = false) => {
    const nameOf = new Map(name?.rows.map((row, at) => [row, name.values[at]!]));
    const viaOf = new Map(via?.rows.map((row, at) => [row, nameAt(via, readers[via.index]!, at).text]));
    const roleOf = (row: number): string | undefined => {
      if (!via) return nameOf.get(around ? above(row) : row);
      const value = viaOf.get(row);
      const named = value === undefined ? -1 : keys.rowOf(value, by!, row);
      return named === -1 ? undefined : (nameOf.get(named) ?? value);
    };
    /** By row the field that told its device first. */
    const bound = new Map<number, FieldData>();
    for (const field of places) {
      for (let place = 0; place < field.values.length; place++) {
        const row = field.rows[place]!;
        const role = (bound.get(row) ?? field) === field ? roleOf(row) : undefined;
        if (role === undefined) continue;
        const reader = readers[field.index]!;
        for (const one of isListed(field) ? namesAt(field, reader, place) : [nameAt(field, reader, place)]) {
          const port = deviceOf(field, place, one.text);
          if (port === null || (again && seen.has(`${role} ${port}`))) continue;
          bound.set(row, field);
          seen.add(`${role} ${port}`);
          bindings.push({ role, port, field, place, name: one });
        }
      }
    }
  };
  const kinds = chosen.map(({ shape }) => ({ shape, name: nameOfRole(shape) }));
  for (const [at, one] of chosen.entries()) bind(one, kinds[at]!);
  // Several tables may say of the same roles where they sit, each of some.
  for (const one of candidates)
    if (top.via && one.told && one.shape === top.shape && one !== top) bind(one, kinds[0]!, true);
  return { bindings, kinds };
}
