import type { Devices } from '../devices/device-set.ts';
import { deviceShapesOf } from '../devices/device-shapes.ts';
import { osAggregate } from '../devices/os-names.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { nameAt, namesAt, type Piece, type Reader } from '../names/tokens.ts';
import { rowNamed } from '../references/named-row.ts';
import type { Target } from '../references/references.ts';
import { callField } from './call-field.ts';
import { shapesAround } from './lodging.ts';
import { ADDRESSED, type Candidate, candidatesOf, mostNamed, NOWHERE } from './role-candidates.ts';
import { type Seat, Ways } from './role-ways.ts';
import { seatedFields } from './seated-fields.ts';

/** A logical network on a device: the rows are outline nodes. */
export interface Bound {
  readonly role: string;
  readonly port: string;
  readonly field: FieldData;
  readonly place: number;
  /** What the place calls the port, and where in its value that begins. */
  readonly name: { readonly text: string; readonly from: number };
  /** Records between the network and the place. */
  readonly through?: readonly number[];
  /** The field that tells the last of these on which ports it is. */
  readonly at?: FieldData;
  /** What names the network, where the record of the place joins it with its port. */
  readonly via?: FieldData | null;
}

/** How records lie in each other. */
export interface Rows {
  /** The row around a row, -1 for none. */
  readonly above: (row: number) => number;
  readonly shapeOf: Int32Array;
  /** Shapes whose records have an address. */
  readonly addressed: ReadonlySet<number>;
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
  /** Fields that devices are called by in their own records. */
  readonly deviceNames: ReadonlySet<FieldData>;
}

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
  { above, shapeOf, addressed: haveOwn }: Rows,
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
  const calling = new Set(targets.flatMap((list) => list.filter(({ odds }) => odds >= 0).map(({ key }) => key.field)));
  const byShape = fieldsByShape(fields);
  const isListed = ({ several, index }: FieldData) => several || readers[index]!.separator !== null;
  const isAddressed = (shape: number) => haveOwn.has(shape);
  const isDeviceName = (value: string) => devices.has(value) || osAggregate(value);
  const callOf = (shape: number) => callField(byShape.get(shape) ?? [], keys, portFields, calling, shape);
  /** Devices that have an address, as the records say that name them one by one. */
  const addressed = new Set<string>();
  for (const field of fields)
    if (portFields.has(field.index) && !isListed(field) && isAddressed(field.rowShape))
      for (const token of readers[field.index]!.counts.tokens) addressed.add(token);
  const areAddressed = ({ index }: FieldData) =>
    targets[index]!.some((t) => t.odds >= 0 && isAddressed(t.key.shape)) ||
    readers[index]!.counts.tokens.some((token) => addressed.has(token));
  /** Whether records that list devices are named by others and called by no device. */
  const isGroup = (shape: number) => {
    const called = named.has(shape) ? callOf(shape) : null;
    return called !== null && !portFields.has(called.index) && !called.values.some(isDeviceName);
  };
  // What lists devices, and has an address as they have, is made of none.
  const haveAddress = (shape: number, places: readonly FieldData[]) => isAddressed(shape) || places.some(areAddressed);
  const isZone = (shape: number, lists: readonly FieldData[]) =>
    lists.length > 0 && haveAddress(shape, lists) && isGroup(shape);
  /** Shapes whose records hold others that are named and have an address: the latter are their networks', not their own. */
  const lodging = { byShape, shapeOf, above };
  const holders = new Set([...named.keys()].filter(isAddressed).flatMap((shape) => shapesAround(shape, lodging)));
  const deviceShapes = deviceShapesOf({
    fields,
    byShape,
    keys,
    devices,
    portFields,
    targets,
    named,
    isListed,
    isAddressed: (shape) => isAddressed(shape) && !holders.has(shape),
    isZone,
  });
  const deviceNames = new Set([...deviceShapes.values()].filter((field) => field !== null));
  const source = {
    fields,
    byShape,
    readers,
    keys,
    devices,
    portFields,
    targets,
    deviceShapes,
    isAddressed,
    named,
    above,
    shapeOf,
  };
  const seated = seatedFields(source);
  const nameOfRole = (shape: number) => callField(byShape.get(shape) ?? [], keys, seated, calling, shape);
  const candidates = candidatesOf({ ...source, isListed, isGroup, haveAddress, nameOfRole });
  /** By shape the fields that name its records, and the shapes that have these. */
  const namedBy = new Map<number, Set<string>>();
  for (const { index, rowShape } of fields)
    for (const { odds, key } of rowShape === -1 ? [] : targets[index]!)
      if (odds >= 0)
        namedBy.set(key.shape, (namedBy.get(key.shape) ?? new Set()).add(`field ${index}`).add(`shape ${rowShape}`));
  /** Whether some field names records of both shapes, or fields side by side do. */
  const areNamedAlike = (by: 'field' | 'shape', one: number, other: number) =>
    [...(namedBy.get(one) ?? [])].some((at) => at.startsWith(by) && namedBy.get(other)?.has(at));
  const ledBy = new Map<number, readonly { readonly role: string; readonly seats: readonly Seat[] }[]>();
  const followed = (shape: number) => {
    let led = ledBy.get(shape);
    if (!led) {
      const ways = new Ways(source, shape);
      const name = nameOfRole(shape);
      led = (name?.rows ?? []).map((row, at) => ({ role: name!.values[at]!, seats: ways.of(row) }));
      ledBy.set(shape, led);
    }
    return led;
  };
  let best = candidates.reduce<Candidate | null>((a, b) => (a && a.weight >= b.weight ? a : b), null);
  const isNetwork = (shape: number) => named.has(shape) && isAddressed(shape) && !deviceShapes.has(shape);
  // Hosts may lie in networks, and are none.
  const liesInNetwork = (shape: number) => shapesAround(shape, lodging).some(isNetwork);
  // Of the kinds most named the first that leads to devices; where nothing else tells, the one that does so best.
  const networks = mostNamed(named, (shape) => isNetwork(shape) && !liesInNetwork(shape));
  const ledShare = ({ shape }: { readonly shape: number }) =>
    followed(shape).filter(({ seats }) => seats.length > 0).length / byShape.get(shape)![0]!.values.length;
  const [network] = best ? networks : [...networks].sort((a, b) => ledShare(b) - ledShare(a));
  const isLikelier =
    network &&
    network.shape !== best?.shape &&
    network.times + ADDRESSED > (best?.weight ?? 0) &&
    ledShare(network) >= 0.5;
  if (isLikelier) best = { ...NOWHERE, shape: network.shape, weight: network.times + ADDRESSED };
  const top = best;
  if (!top) return { bindings: [], kinds: [], deviceNames };
  const made = new Map(
    [...devices.composed].flatMap(([shape, names]) =>
      deviceShapes.has(shape) ? [...names].map(([name, row]) => [row, name] as const) : [],
    ),
  );
  const deviceOf = (field: FieldData, place: number, piece: Piece): string | null => {
    const own = made.get(field.rows[place]!);
    if (own !== undefined) return own;
    if (portFields.has(field.index)) return piece.text;
    const likely = targets[field.index]!.filter(({ key, odds }) => odds >= 0 && deviceShapes.has(key.shape));
    const named = rowNamed(piece, likely, keys, field.at[place]!);
    if (!named) return null;
    const called = deviceShapes.get(named.target.key.shape);
    return made.get(named.row) ?? called?.values[called.rows.indexOf(named.row)] ?? null;
  };
  const bindings: Bound[] = [];
  const seen = new Set<string>();
  const bind = (
    { via, by, around, places }: Candidate,
    { name }: RoleKind,
    isBound: (role: string, port: string) => boolean = () => false,
  ) => {
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
          const port = deviceOf(field, place, one);
          if (port === null || isBound(role, port)) continue;
          bound.set(row, field);
          seen.add(`${role} ${port}`);
          bindings.push({ role, port, field, place, name: one, via });
        }
      }
    }
  };
  const kinds = new Map<number, RoleKind>();
  const choose = (one: Candidate) => {
    const kind = { shape: one.shape, name: nameOfRole(one.shape) };
    kinds.set(one.shape, kind);
    bind(one, kind);
  };
  choose(top);
  // What stands beside networks in rules and has an address is one, too, unless it sits where these do, as gateways do.
  const sitsApart = ({ places }: Candidate) => {
    const taken = new Set(bindings.map(({ port }) => port));
    const own = places.flatMap((field) => readers[field.index]!.counts.tokens);
    return own.filter((token) => taken.has(token)).length * 2 <= own.length;
  };
  for (const one of [...candidates].sort((a, b) => b.weight - a.weight)) {
    if (one.weight < ADDRESSED || kinds.has(one.shape)) continue;
    const isAlike =
      areNamedAlike('field', one.shape, top.shape) || (areNamedAlike('shape', one.shape, top.shape) && sitsApart(one));
    if (isAlike) choose(one);
  }
  // Some list their devices, and others of their kind name one.
  const bound = new Set(bindings.map(({ role }) => role));
  for (const one of candidates) {
    const kind = kinds.get(one.shape);
    if (kind && !one.via) bind(one, kind, (role) => bound.has(role));
  }
  // Several tables may say of the same roles where they sit, each of some.
  for (const one of candidates)
    if (top.via && one.told && one.shape === top.shape && one !== top)
      bind(one, kinds.get(top.shape)!, (role, port) => seen.has(`${role} ${port}`));
  // Where all of them are followed, others that are named in their place are networks, too.
  const led = top.places.length === 0 ? networks.filter((one) => ledShare(one) === 1) : [];
  for (const { shape } of led)
    if (areNamedAlike('field', shape, top.shape)) kinds.set(shape, { shape, name: nameOfRole(shape) });
  const told = new Set(bindings.map(({ role }) => role));
  for (const shape of new Set([top.shape, ...(top.places.length === 0 ? kinds.keys() : [])]))
    for (const { role, seats } of followed(shape))
      if (!told.has(role)) for (const seat of seats) bindings.push({ role, ...seat });
  return { bindings, kinds: [...kinds.values()], deviceNames };
}
