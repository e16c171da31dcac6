import { Devices, dropEchoes } from './device-set.ts';
import type { FieldData } from './fields.ts';
import { kindOf, patternOf } from './literals.ts';
import { osFamily } from './os-names.ts';
import type { Structure } from './structure.ts';

const ROWS = 300;

/** Finds derivations inside records, then names composed from a record's parts elsewhere. */
export function devicesOf(fields: readonly FieldData[], structure: Structure): Devices {
  const devices = new Devices();
  const byShape = new Map<number, FieldData[]>();
  for (const field of fields) {
    if (field.rowShape === -1 || field.several) continue;
    const list = byShape.get(field.rowShape);
    if (list) list.push(field);
    else byShape.set(field.rowShape, [field]);
  }
  let counts: Map<string, number> | null = null;
  const whole = () => {
    counts ??= wholeValues(fields);
    return counts;
  };
  const composable: {
    shape: number;
    parent: FieldData;
    tag: FieldData;
    rows: Map<number, { parent: string; tag: string }>;
  }[] = [];
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
    const tags = usable.filter((field) => !field.tag && mostly(field.values, isTag, 1));
    const names = usable.filter((field) => mostly(field.values, mayBeDevice));
    for (const tag of tags) {
      if (names.length === 0 && usable.length < 2) continue;
      const tagOf = byRow(tag);
      for (const name of names) {
        if (name === tag) continue;
        found(devices, shape, name, tag, tagOf, usable, whole, fields);
      }
      for (const parent of usable) {
        if (parent === tag || parent.tag || tag.distinct.length < Math.min(50, tag.values.length * 0.3)) continue;
        if (!mostly(parent.values, mayBeParent)) continue;
        const rows = new Map<number, { parent: string; tag: string }>();
        for (let at = 0; at < parent.rows.length; at++) {
          const number = tagOf.get(parent.rows[at]!);
          if (number !== undefined) rows.set(parent.rows[at]!, { parent: parent.values[at]!, tag: number });
        }
        if (rows.size) composable.push({ shape, parent, tag, rows });
      }
    }
  }
  compose(devices, fields, composable, structure);
  dropEchoes(devices, fields);
  return devices;
}

/** In how many fields each value stands. */
function wholeValues(fields: readonly FieldData[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { distinct } of fields)
    for (const value of distinct) if (value.length <= 40) counts.set(value, (counts.get(value) ?? 0) + 1);
  return counts;
}

function byRow(field: FieldData): Map<number, string> {
  const map = new Map<number, string>();
  for (let at = 0; at < field.rows.length; at++) map.set(field.rows[at]!, field.values[at]!);
  return map;
}

const isTag = (value: string) => value.length <= 4 && /^[1-9]\d{0,3}$/.test(value) && Number(value) <= 4094;
const mayBeDevice = (value: string) =>
  value.length <= 40 && /\d$/.test(value) && /\D/.test(value) && !isPlainLiteral(value);
const mayBeParent = (value: string) => value.length <= 40 && /\p{L}|\//u.test(value) && !isPlainLiteral(value);

function isPlainLiteral(value: string): boolean {
  const kind = kindOf(value);
  return kind === 'address' || kind === 'mac' || kind === 'integer' || kind === 'opaque' || kind === 'text';
}

function mostly(values: readonly string[], test: (value: string) => boolean, mayMiss = 0): boolean {
  const step = Math.max(1, Math.floor(values.length / ROWS));
  let seen = 0;
  let good = 0;
  for (let at = 0; at < values.length; at += step) {
    seen++;
    if (test(values[at]!)) good++;
  }
  return good >= seen * 0.8 || (good > seen / 2 && seen - good <= mayMiss);
}

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
    if (field === name || field === tag || field.tag) continue;
    const values = byRow(field);
    let hits = 0;
    for (const { row, stem } of stems) {
      const parent = values.get(row);
      if (parent && stem.startsWith(parent) && isMarks(stem.slice(parent.length))) hits++;
    }
    if (hits > (best?.hits ?? 0)) best = { field, hits };
  }
  if (best && best.hits >= stems.length * 0.5 && (best.hits >= 2 || stems.length === 1)) {
    const parents = byRow(best.field);
    for (const { row, value, stem, tag: number } of stems) {
      const parent = parents.get(row);
      if (!parent || !stem.startsWith(parent) || !isMarks(stem.slice(parent.length))) continue;
      addDerived(devices, value, parent, stem.slice(parent.length), Number(number));
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
    for (let length = stem.length - 1; length >= Math.max(2, stem.length - 7); length--) {
      const parent = stem.slice(0, length);
      if (whole.has(parent) && isMarks(stem.slice(length)) && /\d$/.test(parent) && !isPlainLiteral(parent)) {
        cut++;
        cuts.push({ value, parent, marks: stem.slice(length), tag: number });
        break;
      }
    }
  }
  if (cut >= 2 && cut >= stems.length * 0.6) {
    for (const { value, parent, marks, tag: number } of cuts) addDerived(devices, value, parent, marks, Number(number));
    devices.derivations.push({ shape, name: name.index, parent: null, tag: tag.index });
    return;
  }
  // Called by the number alone, `vlan30`: one stem for all, and a sibling with few values, each a device elsewhere.
  const stem = stems[0]!.stem;
  if (stems.every((one) => one.stem === stem) && stems.length === both) {
    const tagged = /vlan/i.test(stem);
    if (tagged) {
      for (const { value, tag: number } of stems) devices.named.set(value, { parent: null, tag: Number(number) });
      devices.derivations.push({ shape, name: name.index, parent: null, tag: tag.index });
    }
    for (const field of siblings) {
      if (field === name || field === tag || field.tag || !mostly(field.values, mayBeDevice)) continue;
      const parents = byRow(field);
      const distinct = new Set(field.distinct);
      if (
        distinct.size > Math.max(2, stems.length * 0.7) ||
        !(
          tagged ||
          [...distinct].some(osFamily) ||
          ((stems.length > 1 || /^\p{L}/u.test(stem)) &&
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

/** What may stand between a port and its tag: a few marks and letters. */
const isMarks = (text: string) => /^[^\d\s,;|]{1,7}$/.test(text);

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

function addDerived(devices: Devices, name: string, parent: string, marks: string, tag: number): void {
  devices.addBase(parent);
  devices.addDerived(name, parent, tag);
  devices.separators.set(marks, (devices.separators.get(marks) ?? 0) + 1);
}

/** Names elsewhere that are a record's parent, marks, and its number, where the record itself has no such name. */
function compose(
  devices: Devices,
  fields: readonly FieldData[],
  composable: readonly {
    shape: number;
    parent: FieldData;
    tag: FieldData;
    rows: Map<number, { parent: string; tag: string }>;
  }[],
  structure: Structure,
): void {
  if (composable.length === 0) return;
  const byTag = new Map<string, { from: number; parent: string; row: number }[]>();
  for (const [from, { rows }] of composable.entries()) {
    for (const [row, { parent, tag }] of rows) {
      const list = byTag.get(tag);
      if (!list) byTag.set(tag, [{ from, parent, row }]);
      else if (list.length < 40) list.push({ from, parent, row });
    }
  }
  const votes = new Map<
    string,
    { from: number; marks: string; hits: Map<string, { row: number; parent: string; tag: number }> }
  >();
  for (const field of fields) {
    if (field.tag || !mostlyOne(field.values)) continue;
    for (const value of field.distinct) {
      if (value.length > 48) continue;
      const digits = /\d{1,4}$/.exec(value);
      if (!digits || digits.index === 0) continue;
      const list = byTag.get(digits[0]);
      if (!list) continue;
      const stem = value.slice(0, digits.index);
      for (const { from, parent, row } of list) {
        const marks = stem.length - parent.length;
        if (marks < 1 || !stem.startsWith(parent) || !isMarks(stem.slice(parent.length))) continue;
        if (devices.separators.size > 0 && !devices.separators.has(stem.slice(parent.length))) continue;
        if (field.rowShape === composable[from]!.shape && field !== composable[from]!.parent) continue;
        const id = `${from} ${stem.slice(parent.length)}`;
        let vote = votes.get(id);
        if (!vote) {
          vote = { from, marks: stem.slice(parent.length), hits: new Map() };
          votes.set(id, vote);
        }
        vote.hits.set(value, { row, parent, tag: Number(digits[0]) });
      }
    }
  }
  const best = new Map<number, { hits: number; id: string }>();
  for (const [id, vote] of votes) {
    const { shape } = composable[vote.from]!;
    if (vote.hits.size < 2 && structure.shapes[shape]!.nodes.length > 2) continue;
    if (vote.hits.size > (best.get(shape)?.hits ?? 0)) best.set(shape, { hits: vote.hits.size, id });
  }
  for (const [shape, { id }] of best) {
    const vote = votes.get(id)!;
    const { parent, tag } = composable[vote.from]!;
    const names = new Map<string, number>();
    if (devices.derivations.some((known) => known.shape === shape && known.name !== null)) continue;
    for (const [name, { row, parent: base, tag: number }] of vote.hits) {
      names.set(name, row);
      addDerived(devices, name, base, vote.marks, number);
    }
    devices.composed.set(shape, names);
    devices.derivations.push({ shape, name: null, parent: parent.index, tag: tag.index });
  }
}

const mostlyOne = (values: readonly string[]) => mostly(values, (value) => value.length <= 200);
