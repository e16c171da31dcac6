import { fieldsByShape } from './by-shape.ts';
import type { Devices } from './device-set.ts';
import type { FieldData } from './fields.ts';
import type { KeyField, KeyTable } from './key-table.ts';
import { kindOf, patternOf } from './literals.ts';
import type { Target } from './references.ts';
import { nameAt, type Reader } from './tokens.ts';

/** A logical network on a device: the rows are outline nodes. */
export interface Bound {
  readonly role: string;
  readonly port: string;
  readonly field: FieldData;
  readonly place: number;
}

export interface RolesFound {
  readonly bindings: readonly Bound[];
  /** Shape of the role records and the field that names them; null where the file has none. */
  readonly shape: number;
  readonly name: FieldData | null;
}

/**
 * Roles are records that others name and that sit on a device: they hold its name, or the key of its record, or a record
 * that joins the two does.
 */
export function rolesOf(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  devices: Devices,
  portFields: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
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
  const isAddressed = (list: readonly FieldData[]) => list.some((field) => isAddressField(field, readers));
  /** Shapes whose records a record with an address names. */
  const seats = new Set<number>();
  for (const field of fields)
    if (targets[field.index]!.some(({ odds }) => odds >= 0) && isAddressed(byShape.get(field.rowShape)!))
      for (const { key, odds } of targets[field.index]!) if (odds >= 0) seats.add(key.shape);
  // Shapes whose records are devices: they derive one, are made of some, or are called by one.
  const deviceShapes = new Map<number, FieldData | null>();
  for (const { shape, name } of devices.derivations) {
    const parts = byShape.get(shape) ?? [];
    if (name !== null || !isAddressed(parts)) deviceShapes.set(shape, name === null ? null : fields[name]!);
  }
  for (const [shape, list] of byShape) {
    const single = list.filter(
      (field) => portFields.has(field.index) && !field.several && readers[field.index]!.separator === null,
    );
    const many = list.filter(
      (field) => portFields.has(field.index) && (field.several || readers[field.index]!.separator !== null),
    );
    if (many.length && !single.some((field) => fieldIsKeyless(field, keys)))
      deviceShapes.set(shape, deviceShapes.get(shape) ?? nameField(list, keys, devices));
    else if (
      !deviceShapes.has(shape) &&
      single.length === 1 &&
      (isBestKey(single[0]!, keys) || named.has(shape)) &&
      single[0]!.distinct.length === single[0]!.values.length &&
      !isAddressed(list) &&
      !list.some((field) => field !== single[0] && targets[field.index]!.some(({ odds }) => odds >= 0)) &&
      !hasOtherName(single[0]!, keys, seats.has(shape))
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
    weight: number;
  }
  const candidates: Candidate[] = [];
  for (const [shape, list] of byShape) {
    if (shape === -1 || deviceShapes.has(shape)) continue;
    const single = list.filter((field) => !field.several && !field.tag);
    const ports = single.filter((field) => portFields.has(field.index));
    const links = single.filter(
      (field) =>
        !portFields.has(field.index) && targets[field.index]!.some((t) => t.odds >= 0 && deviceShapes.has(t.key.shape)),
    );
    // A record that holds no device may hold the key of one.
    const places = [...ports, ...links];
    if (places.length === 0) continue;
    const own = named.get(shape) ?? 0;
    const called = callField(list, keys, portFields, shape);
    if (called && !portFields.has(called.index)) {
      const weight = own + (isAddressed(list) ? 1000 : 0);
      candidates.push({ shape, places, via: null, by: null, weight });
    }
    const isAddressedAt = (at: number) => isAddressed(byShape.get(at) ?? []);
    for (const via of list) {
      if (via.several && !via.tag) continue;
      if (places.includes(via)) continue;
      const by =
        targets[via.index]!.find((t) => t.odds >= 0 && !deviceShapes.has(t.key.shape) && t.key.shape !== shape)?.key ??
        (!isAddressed(list) && list.length <= 4 ? pairedKey(via, keys, isAddressedAt) : null);
      if (!by) continue;
      const joins = isAddressedAt(by.shape) && list.length <= 5;
      const weight = (named.get(by.shape) ?? 0) - (isAddressed(list) ? 4 : 0) + (joins ? 900 : 0);
      candidates.push({ shape: by.shape, places, via, by, weight });
    }
  }
  if (candidates.length === 0) return { bindings: [], shape: -1, name: null };
  const top = candidates.reduce((a, b) => (b.weight > a.weight ? b : a));
  const shape = top.shape;
  const name = callField(byShape.get(shape) ?? [], keys, portFields, shape);
  const nameOf = new Map<number, string>();
  if (name) for (let at = 0; at < name.rows.length; at++) nameOf.set(name.rows[at]!, name.values[at]!);
  const deviceOf = (field: FieldData, place: number): string | null => {
    const value = nameAt(field, readers[field.index]!, place).text;
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
  const viaOf = new Map<number, string>();
  if (top.via) {
    const via = readers[top.via.index]!;
    for (const [at, row] of top.via.rows.entries()) viaOf.set(row, nameAt(top.via, via, at).text);
  }
  const roleOf = (row: number): string | undefined => {
    if (!top.via) return nameOf.get(row);
    const value = viaOf.get(row);
    const named = value === undefined ? -1 : keys.rowOf(value, top.by!, row);
    return named === -1 ? undefined : (nameOf.get(named) ?? value);
  };
  const bound = new Set<number>();
  for (const field of top.places) {
    for (let place = 0; place < field.values.length; place++) {
      const row = field.rows[place]!;
      const role = bound.has(row) ? undefined : roleOf(row);
      const port = role === undefined ? null : deviceOf(field, place);
      if (role === undefined || port === null) continue;
      bound.add(row);
      bindings.push({ role, port, field, place });
    }
  }
  return { bindings, shape, name };
}

/** The key of role records that a field of a joining record pairs with one to one, where no reference was found. */
function pairedKey(field: FieldData, keys: KeyTable, isRole: (shape: number) => boolean): KeyField | null {
  if (field.distinct.length < 2 || field.distinct.length < field.values.length) return null;
  const hits = new Map<number, number>();
  for (const value of field.distinct) {
    keys.each(value, (index) => {
      if (keys.keys[index]!.field !== field) hits.set(index, (hits.get(index) ?? 0) + 1);
    });
  }
  const full = [...hits].filter(([, count]) => count === field.distinct.length).map(([index]) => keys.keys[index]!);
  const roles = full.filter((key) => isRole(key.shape) && key.rows <= field.distinct.length * 1.5);
  return roles.length === 1 ? roles[0]! : null;
}

function isAddressField(field: FieldData, readers: readonly Reader[]): boolean {
  const { kinds } = readers[field.index]!.counts;
  const sample = kinds.slice(0, 20);
  return sample.length > 0 && sample.filter((kind) => kind === 'address').length >= sample.length * 0.7;
}

function isBestKey(field: FieldData, keys: KeyTable): boolean {
  return keys.keys.some((key) => key.field === field && key.best);
}

function fieldIsKeyless(field: FieldData, keys: KeyTable): boolean {
  return !keys.keys.some((key) => key.field === field);
}

/** @param coded whether a code is no name beside what the record is called by. */
function hasOtherName(field: FieldData, keys: KeyTable, coded: boolean): boolean {
  return keys.keys.some(
    (key) =>
      key.shape === field.rowShape &&
      key.field !== field &&
      key.kind === 'name' &&
      key.strength > 0.5 &&
      !(coded && isCode(key.field)),
  );
}

function nameField(list: readonly FieldData[], keys: KeyTable, devices: Devices): FieldData | null {
  const called = list.filter((field) => !field.several && keys.keys.some((key) => key.field === field));
  return (
    called.find((field) => field.values.some((value) => devices.has(value))) ??
    called.find((field) => field.values.every((value) => /\p{L}/u.test(value))) ??
    null
  );
}

/** The field by which people call the records: a tag, else a name before an identifier. */
function callField(
  list: readonly FieldData[],
  keys: KeyTable,
  portFields: ReadonlySet<number>,
  shape: number,
): FieldData | null {
  const rows = Math.max(0, ...list.map((field) => field.values.length));
  const unique = list.filter(
    (field) =>
      (!field.several || field.tag) &&
      !portFields.has(field.index) &&
      field.values.length >= rows * 0.9 &&
      (field.distinct.length >= field.values.length * 0.9 || keys.keys.some((key) => key.field === field)),
  );
  const isName = (field: FieldData) =>
    field.values.filter((value) => kindOf(value) === 'name').length >= field.values.length * 0.7;
  const best = keys.keys.find((key) => key.shape === shape && key.best)?.field ?? null;
  const plain = unique.filter((field) => isName(field) && !isCode(field));
  const isPhrase = (field: FieldData) => {
    const kinds = field.distinct.map(kindOf);
    return kinds.filter((kind) => kind === 'phrase' || kind === 'name').length >= kinds.length * 0.9;
  };
  // Beside a code, of two texts that tell records apart the first is a name of several words, and the other a remark.
  const texts = unique.filter((field) => !field.tag && !isCode(field) && isPhrase(field));
  const words = plain.some((field) => field.distinct.every((value) => kindOf(value) === 'name'));
  if (!words && best && isCode(best) && texts.length > 1) return texts[0]!;
  if (best && isName(best) && unique.includes(best) && (!isCode(best) || plain.length === 0)) return best;
  return (
    plain.find((field) => field.tag) ??
    plain[0] ??
    unique.find((field) => field.tag && isName(field)) ??
    unique.find(isName) ??
    unique.find(isPhrase) ??
    best ??
    unique[0] ??
    null
  );
}

/** True where all values are numbers of one form (`ro0001`), or letters and digits of one build (`7KQ2RZ3TRM`, `K-7Q2R`). */
function isCode(field: FieldData): boolean {
  const values = field.distinct;
  const withDigits = values.filter((value) => /\d/.test(value)).length;
  // Of codes that chance makes, a few have no digit.
  if (values.length < 3 || withDigits < values.length * 0.6) return false;
  if (withDigits === values.length && new Set(values.map(patternOf)).size === 1) return true;
  const build = (value: string) => value.replace(/[\p{L}\d]/gu, 'x');
  const first = build(values[0]!);
  return first.length >= 6 && !/\s/.test(first) && values.every((value) => build(value) === first);
}
