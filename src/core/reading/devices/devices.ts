import { append } from '../../lists.ts';
import { fieldsByShape, isKind } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import { patternOf } from '../names/literals.ts';
import type { Structure } from '../shapes/structure.ts';
import { bareName, type Composable, composableFrom, compose, onPorts } from './composed-devices.ts';
import { byRow, isMarks, isPlainLiteral, isTag, isUnit, mayBeDevice, mayBeParent, mostly } from './device-forms.ts';
import { Devices, dropEchoes } from './device-set.ts';
import { osFamily } from './os-names.ts';
import { ownPorts } from './own-ports.ts';
import { routedDevices } from './routed-devices.ts';
import { composeWorded } from './worded-devices.ts';

/** Finds derivations inside records, then names composed from a record's parts elsewhere. */
export function devicesOf(fields: readonly FieldData[], structure: Structure, above: (row: number) => number): Devices {
  const devices = new Devices();
  const byShape = fieldsByShape(fields.filter((field) => field.rowShape !== -1 && !field.several && !isKind(field)));
  let counts: Map<string, number> | null = null;
  const whole = () => {
    counts ??= wholeValues(fields);
    return counts;
  };
  const tables = ownPorts(fields, byShape);
  const byName = new Map(tables.flatMap(({ devices: names }) => names.map((name) => [name, name])));
  const ways = tables.length > 0 ? [byName, ...tables.flatMap(({ byKey }) => byKey)] : [];
  devices.tabled = tables.length > 0;
  for (const { name } of tables) devices.tables.add(name);
  for (const name of byName.keys()) devices.addBase(name);
  for (const { keys } of tables) for (const key of keys) if (!byName.has(key)) devices.deny(key);
  const all: Composable[] = [];
  for (const [shape, list] of byShape) {
    if (
      list.length > 60 ||
      !(
        structure.shapes[shape]!.repeated ||
        structure.shapes[shape]!.keyedByTag ||
        structure.shapes[shape]!.nodes.length <= 3
      )
    )
      continue;
    const usable = list.filter((field) => field.values[0]!.length <= 48);
    const tags = usable.filter((field) => !field.tag && mostly(field.values, isUnit, 1) && field.values.some(isTag));
    const names = usable.filter((field) => mostly(field.values, mayBeDevice));
    for (const tag of tags) {
      append(all, composableFrom(tag, byShape, structure, above, ways));
      if (names.length === 0 && usable.length < 2) continue;
      const tagOf = new Map([...byRow(tag)].filter(([, number]) => isTag(number)));
      for (const name of new Set([...names, ...usable.filter((field) => isNameOf(field, tagOf))])) {
        if (name === tag) continue;
        found(devices, shape, name, tag, tagOf, usable, whole, fields);
      }
    }
  }
  const composable = onPorts(all, structure);
  compose(devices, fields, composable, structure);
  composeWorded(devices, fields, composable);
  dropEchoes(devices, fields);
  if (devices.bases.size === 0) routedDevices(devices, byShape, whole);
  return devices;
}

/** Whether those records of a table that have a number have names as devices have, though others may have none such. */
function isNameOf({ rows, values }: FieldData, tagOf: ReadonlyMap<number, string>): boolean {
  const own = values.filter((_, at) => tagOf.has(rows[at]!));
  return own.length === tagOf.size && own.every(mayBeDevice);
}

/** In how many fields each value stands. */
function wholeValues(fields: readonly FieldData[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { distinct } of fields)
    for (const value of distinct) if (value.length <= 40) counts.set(value, (counts.get(value) ?? 0) + 1);
  return counts;
}

/** IEEE 802.1Q, 9.6: the VLAN that frames without a tag are in where nothing else is said. One record of it tells nothing. */
const UNTAGGED = 1;

/** Looks at one pair of a name and a number in the same records. */
function found(
  devices: Devices,
  shape: number,
  name: FieldData,
  tag: FieldData,
  tagOf: Map<number, string>,
  siblings: readonly FieldData[],
  valuesHeld: () => ReadonlyMap<string, number>,
  fields: readonly FieldData[],
): void {
  let both = 0;
  const stems: { row: number; value: string; stem: string; tag: string }[] = [];
  for (let at = 0; at < name.rows.length; at++) {
    const number = tagOf.get(name.rows[at]!);
    if (number === undefined) continue;
    both++;
    const value = name.values[at]!;
    if (!value.endsWith(number) || value.length === number.length) continue;
    const stem = value.slice(0, value.length - number.length);
    if (!/\d$/.test(stem)) stems.push({ row: name.rows[at]!, value, stem, tag: number });
  }
  if (both === 0 || stems.length < both * 0.6) return;
  // The parent: a sibling that the stem begins with.
  let best: { field: FieldData; hits: number } | null = null;
  for (const field of siblings) {
    // A number by itself is no port that others are made from: two numbers joined are a mark of a route, a time, a range.
    if (field === name || field === tag || field.tag || !mostly(field.values, mayBeParent)) continue;
    const values = byRow(field);
    let hits = 0;
    for (const { row, stem } of stems) {
      if (headOf(stem, values.get(row))) hits++;
    }
    if (hits > (best?.hits ?? 0)) best = { field, hits };
  }
  if (best && best.hits >= stems.length * 0.5 && (best.hits >= 2 || stems.length === 1)) {
    const parents = byRow(best.field);
    for (const { row, value, stem, tag: number } of stems) {
      const parent = headOf(stem, parents.get(row));
      if (parent === null) continue;
      devices.derive(value, parent, stem.slice(parent.length), Number(number));
    }
    // Where few of the records carry a name, the others are called by their parts.
    if (stems.length * 2 >= tagOf.size) {
      devices.derivations.push({ shape, name: name.index, parent: best.field.index, tag: tag.index });
    }
    return;
  }
  // No sibling is the parent: a stem less its marks may be a name elsewhere, as where the parent is named by its key.
  const whole = valuesHeld();
  let cut = 0;
  const cuts: { value: string; parent: string; marks: string; tag: string }[] = [];
  for (const { value, stem, tag: number } of stems) {
    for (let length = stem.length - 1; length >= Math.max(1, stem.length - 7); length--) {
      const parent = stem.slice(0, length);
      const isPort =
        devices.bases.has(parent) || (length > 1 && whole.has(parent) && /\d$/.test(parent) && !isPlainLiteral(parent));
      if (isPort && isMarks(stem.slice(length))) {
        cut++;
        cuts.push({ value, parent, marks: stem.slice(length), tag: number });
        break;
      }
    }
  }
  if (cut >= 2 && cut >= stems.length * 0.6) {
    for (const { value, parent, marks, tag: number } of cuts) devices.derive(value, parent, marks, Number(number));
    devices.derivations.push({ shape, name: name.index, parent: null, tag: tag.index });
    return;
  }
  // Called by the number alone, `vlan30`: one stem for all, and a sibling with few values, each a device elsewhere.
  const stem = stems[0]!.stem;
  if (/\p{L}/u.test(stem) && stems.every((one) => one.stem === stem) && stems.length === both) {
    const tagged = /vlan/i.test(stem);
    if (tagged) {
      for (const { value, tag: number } of stems) devices.named.set(value, { parent: null, tag: Number(number) });
      devices.derivations.push({ shape, name: name.index, parent: null, tag: tag.index });
    }
    // A word for the kind of record may be written as a port is: what an operating system would call one comes first.
    const known = siblings.filter((field) => field.distinct.some((value) => osFamily(value)));
    for (const field of new Set([...known, ...siblings])) {
      if (field === name || field === tag || field.tag || !mostly(field.values, mayBeDevice)) continue;
      const parents = byRow(field);
      const distinct = new Set(field.distinct);
      if (
        (devices.tabled && !field.distinct.some((value) => devices.bases.has(value))) ||
        distinct.size > Math.max(2, stems.length * 0.7) ||
        !(
          tagged ||
          [...distinct].some(osFamily) ||
          ((stems.length > 1 || (/^\p{L}/u.test(stem) && Number(stems[0]!.tag) !== UNTAGGED)) &&
            [...distinct].every((value) => (whole.get(value) ?? 0) >= 2 || hasKin(value, whole)) &&
            fields.some((other) => standTogether(other, name, field, stems[0]!.stem)))
        )
      )
        continue;
      for (const { row, value, tag: number } of stems) {
        const parent = parents.get(row) ?? null;
        devices.named.set(value, { parent, tag: Number(number) });
        if (parent) devices.addBase(parent);
      }
      devices.derivations.push({ shape, name: name.index, parent: field.index, tag: tag.index });
      return;
    }
  }
}

/** The port that the name of a device begins with, marks after it; a word for its kind may stand before it where it is named. */
function headOf(stem: string, parent = ''): string | null {
  const isHead = (name: string) => name !== '' && stem.startsWith(name) && isMarks(stem.slice(name.length));
  return [parent, bareName(parent)].find(isHead) ?? null;
}

/** True for a third field that holds both devices of the stem and values made like the parents. */
function standTogether(other: FieldData, name: FieldData, parent: FieldData, stem: string): boolean {
  if (other === name || other === parent || other.distinct.length > 5000) return false;
  const pattern = patternOf(parent.distinct[0]!);
  let derived = false;
  let base = false;
  for (const value of other.distinct) {
    if (value.startsWith(stem) && /^\d+$/.test(value.slice(stem.length))) derived = true;
    else if (patternOf(value) === pattern) base = true;
    if (derived && base) return true;
  }
  return false;
}

/** True where another value of the file is made like this one, as one port is like the next. */
function hasKin(value: string, whole: ReadonlyMap<string, number>): boolean {
  const digits = /\d+$/.exec(value);
  if (!digits) return false;
  const stem = value.slice(0, digits.index);
  const number = Number(digits[0]);
  for (let other = 0; other <= 24; other++) {
    if (other !== number && whole.has(stem + String(other).padStart(digits[0].length, '0'))) return true;
  }
  return false;
}
