import { append } from '../../lists.ts';
import { kindFields } from '../fields/by-shape.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { isLiteral, isSlot, kindOf } from '../names/literals.ts';
import type { Reader } from '../names/tokens.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';
import { osAggregate, osFamily } from './os-names.ts';

/**
 * Fields whose values are devices. From the devices that structure proved, port by port: a field that mostly holds known
 * devices holds devices, and so what else stands in it is one, too. Names as operating systems give them start it off
 * where no structure does.
 */
export function portFieldsOf(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  keys: KeyTable,
  structure: Structure,
  devices: Devices,
  switches: ReadonlySet<FieldData>,
): Set<number> {
  const chosen = new Set<number>();
  const kinds = kindFields(fields);
  const names = new Map<number, string[]>();
  /** Shapes of records that hold ports. */
  const holders = new Set<number>();
  for (const field of fields) {
    if (kinds.has(field) || switches.has(field)) continue;
    const list: string[] = [];
    for (const token of readers[field.index]!.counts.tokens) {
      if (token.length > 48) continue;
      if (!isLiteral(kindOf(token)) || devices.has(token) || isSlot(token)) list.push(token);
      if (list.length >= 3000) break;
    }
    if (list.length && list.length >= readers[field.index]!.counts.size * 0.5) names.set(field.index, list);
    if (list.length && list.every(isSlot)) holders.add(field.rowShape);
  }
  const proven = devices.bases.size > 0;
  const together = listsInFields(fields, names);
  const doubted = new Set<string[]>();
  const fieldsWith = new Map<string, number>();
  for (const list of names.values()) for (const token of list) fieldsWith.set(token, (fieldsWith.get(token) ?? 0) + 1);
  for (const [index, list] of names) {
    if (fields[index]!.tag) continue;
    const os = list.filter((token) => osFamily(token));
    if (os.length === 0 || os.length < list.length * 0.5) continue;
    const rest = list.filter((token) => !osFamily(token) && !osAggregate(token) && !/\d$/.test(token));
    if (rest.length > list.length * 0.1) continue;
    // Short keys may look like such names by chance: where ports are known, one that records go by is none by its look.
    const keyed = os.filter((token) => keys.has(token, fields[index]!) && !devices.has(token)).length;
    // Nor is one word that stands in many records and nowhere else.
    const { counts } = readers[index]!;
    const constant = counts.size === 1 && counts.times[0]! >= CONSTANT && proven && fieldsWith.get(list[0]!) === 1;
    if ((keyed > 0 && (proven || os.length < 2)) || constant) doubted.add(os);
    else for (const token of os) devices.addBase(token);
  }
  // Records that go by numbers of sockets are those of ports.
  for (const key of keys.keys) {
    const { distinct } = key.field;
    if (key.best && !key.field.tag && distinct.length > 1 && distinct.every(isSlot))
      for (const slot of distinct) devices.addBase(slot);
  }
  let addressed: Set<number> | null = null;
  const isAddressed = ({ rowShape }: FieldData) => {
    addressed ??= new Set(fields.flatMap((one) => (kindOf(one.values[0]!) === 'address' ? [one.rowShape] : [])));
    return addressed.has(rowShape);
  };
  const isHolder = (token: string, field: FieldData) => {
    let found = false;
    keys.each(token, (index) => {
      const { shape } = keys.keys[index]!;
      if (shape !== field.rowShape && holders.has(shape)) found = true;
    });
    return found;
  };
  // Ports beside numbers of sockets, or names of records that hold ports: bridges and dialled lines, which are devices as well.
  const isMade = (list: readonly string[], field: FieldData) => {
    if (list.length < 2 || list.length > MANY) return false;
    const others = list.filter((token) => !devices.has(token) && !devices.matchesPattern(token));
    // Names without numbers may be those of zones; each stands once where networks sit on devices.
    const numbered = others.every((token) => endsInNumber.test(token));
    if (!numbered && (field.distinct.length < field.values.length || !isAddressed(field))) return false;
    return others.length < list.length && others.every((token) => isSlot(token) || isHolder(token, field));
  };
  /** Words that stand before ports. */
  const words = new Set<string>();
  for (let round = 0; round < 5; round++) {
    let grew = false;
    for (const [index, list] of names) {
      if (chosen.has(index)) continue;
      let exact = 0;
      let pattern = 0;
      let derived = 0;
      for (const token of list) {
        if (devices.derived.has(token)) derived++;
        if (devices.has(token)) exact++;
        else if (devices.matchesPattern(token) || derivedLike(token, devices)) pattern++;
      }
      const sure = exact >= list.length * 0.5 && exact + pattern >= list.length * 0.6;
      const shaped = exact > 0 && exact + pattern >= list.length * 0.8;
      const whole = (list.length === 1 && together.get(index)) || list;
      const allShaped =
        whole.length >= 2 &&
        (whole === list ? pattern : whole.filter((token) => devices.matchesPattern(token)).length) >=
          whole.length * 0.9 &&
        list.every((token) => !keys.has(token) || isKeyHere(token, fields[index]!, keys));
      // Where one tagged device stands, other names that end in a number are ports that have no tags.
      const beside =
        derived > 0 &&
        list.every((token) => devices.has(token) || (endsInNumber.test(token) && !keys.has(token, fields[index]!)));
      // One alone may have the form of a port by chance, behind a word that stands before others it has not.
      const behind =
        pattern === list.length && wordsIn(fields[index]!, readers[index]!).every((word) => words.has(word));
      if (!sure && !shaped && !allShaped && !beside && !behind && !isMade(list, fields[index]!)) continue;
      chosen.add(index);
      if (exact > 0)
        for (const word of wordsIn(fields[index]!, readers[index]!)) if (/\p{L}/u.test(word)) words.add(word);
      for (let at = fields[index]!.rowShape; at !== -1; at = structure.shapes[at]!.above) holders.add(at);
      grew = true;
      for (const token of list) learn(token, devices, keys, structure, fields[index]!);
    }
    // Unless it stands among known ones: a table of ports, which holds some that no role sits on.
    for (const os of doubted) {
      if (os.filter((token) => devices.has(token) || devices.matchesPattern(token)).length * 3 < os.length) continue;
      doubted.delete(os);
      for (const token of os) devices.addBase(token);
      grew = true;
    }
    if (!grew) break;
  }
  return chosen;
}

/** In so many records one word says of what kind they are, rather than on which port. */
export const CONSTANT = 4;

/** Networks that sit on bridges and lines are not so many. */
const MANY = 200;

const endsInNumber = /^(?:\p{L}[^\s,;|]{0,20}\d|\d+(?:\/\d+)+)$/u;

/** What fields of one record hold whose names differ in a last digit (`member1`, `member2`), by each of them. */
function listsInFields(
  fields: readonly FieldData[],
  names: ReadonlyMap<number, readonly string[]>,
): ReadonlyMap<number, readonly string[]> {
  const lists = new Map<string, string[]>();
  const of = new Map<number, string[]>();
  for (const [index, own] of names) {
    const field = fields[index]!;
    const name = leafName(field);
    if (!/\d$/.test(name)) continue;
    const id = `${field.rowShape} ${name.slice(0, -1)}`;
    const list = lists.get(id) ?? [];
    lists.set(id, list);
    append(list, own);
    of.set(index, list);
  }
  return of;
}

/** What stands before each name of a field, with the mark behind it: `jack:` of `jack:0/1`; also where one has nothing. */
const wordsIn = ({ distinct }: FieldData, { pieces }: Reader): readonly string[] =>
  pieces === null
    ? ['']
    : pieces.flatMap((own, at) => (own.length === 1 ? distinct[at]!.slice(0, own[0]!.from) : ['']));

function isKeyHere(token: string, field: FieldData, keys: KeyTable): boolean {
  let elsewhere = false;
  keys.each(token, (index) => {
    if (keys.keys[index]!.field !== field) elsewhere = true;
  });
  return !elsewhere;
}

/** A name made like the derived ones, on a port that is not known yet. */
function derivedLike(token: string, devices: Devices): { base: string; tag: number } | null {
  const digits = /\d{1,4}$/.exec(token);
  if (!digits) return null;
  for (const separator of devices.separators.keys()) {
    const stem = token.slice(0, digits.index);
    if (separator === '' || !stem.endsWith(separator)) continue;
    const base = stem.slice(0, stem.length - separator.length);
    if (base !== '' && (devices.matchesPattern(base) || osFamily(base))) return { base, tag: Number(digits[0]) };
  }
  return null;
}

function learn(token: string, devices: Devices, keys: KeyTable, structure: Structure, field: FieldData): void {
  if (devices.has(token)) return;
  const derived = derivedLike(token, devices);
  if (derived) {
    devices.addBase(derived.base);
    devices.derived.set(token, derived);
    return;
  }
  // A slot and a socket are no device that is made of others.
  if (isSlot(token)) {
    devices.addBase(token);
    return;
  }
  if (osAggregate(token) || isAggregate(token, keys, structure, field)) {
    devices.named.set(token, { parent: null, tag: null });
    return;
  }
  if (devices.matchesPattern(token) || osFamily(token) || (/\d/.test(token) && !/\s/.test(token)))
    devices.addBase(token);
}

/** True where another record is called by the name: it is a device of its own, made of others. */
function isAggregate(token: string, keys: KeyTable, structure: Structure, field: FieldData): boolean {
  let found = false;
  keys.each(token, (index) => {
    const key = keys.keys[index]!;
    if (key.shape !== field.rowShape && key.field !== field && structure.shapes[key.shape]!.structured) found = true;
  });
  return found && !osFamily(token);
}
