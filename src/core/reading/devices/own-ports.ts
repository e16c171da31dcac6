import { largestOf } from '../../lists.ts';
import { isMac, maybeMac } from '../../values/mac.ts';
import { type FieldData, isNearlyOneEach, isOneEach, leafName } from '../fields/fields.ts';
import { isSlot, kindOf } from '../names/literals.ts';
import { bareName } from './composed-devices.ts';
import { osFamily } from './os-names.ts';

/** A table of ports: its devices, what else its records go by, which is called as no device, and by each of that the device. */
export interface OwnPorts {
  readonly name: FieldData;
  readonly devices: readonly string[];
  readonly keys: readonly string[];
  readonly byKey: readonly ReadonlyMap<string, string>[];
}

/** Shares of records that have a hardware address, and of names that are counted. */
const NEARLY_ALL = 0.8;
/** More records are no sockets of one box. */
const MOST = 600;

/**
 * Tables of ports that show by themselves what they are: each record has a hardware address, no other, and a name that counts
 * sockets, as operating systems give them or beside a rate. What others name the records by is rather not the device's name.
 */
export function ownPorts(
  fields: readonly FieldData[],
  byShape: ReadonlyMap<number, readonly FieldData[]>,
): readonly OwnPorts[] {
  const tables = [...byShape].flatMap(([shape, list]) => {
    const macs = list.find(isHardware);
    if (!macs || shape === -1) return [];
    // What is made of ports may stand beside them, without a hardware address of its own.
    const rows = new Set(macs.rows);
    const ofPorts = (field: FieldData) => field.rows.filter((row) => rows.has(row)).length;
    const isFull = (field: FieldData) => ofPorts(field) >= rows.size * NEARLY_ALL;
    // Where each has an address, they are clients, or networks.
    if (list.some((field) => kindOf(field.values[0]!) === 'address' && isFull(field))) return [];
    const keys = list
      .filter((field) => field !== macs && isOneEach(field) && isFull(field))
      .map((field) => ({
        field,
        values: field.values.filter((_, at) => rows.has(field.rows[at]!)),
        rows: field.rows.filter((row) => rows.has(row)),
      }));
    const names = keys.filter(({ values }) => areCounted(values));
    return names.length > 0 ? [{ list, keys, names }] : [];
  });
  let known: ReadonlySet<FieldData> | null = null;
  const isSpoken = ({ field }: { readonly field: FieldData }) => {
    known ??= spokenElsewhere(
      fields,
      tables.flatMap(({ keys }) => keys.map((key) => key.field)),
    );
    return known.has(field);
  };
  let general: ReadonlySet<string> | null = null;
  const isGeneral = ({ field }: { readonly field: FieldData }) => {
    general ??= identifierNames(fields);
    return general.has(leafName(field));
  };
  return tables.flatMap(({ list, keys, names }) => {
    const name = names.length === 1 ? names[0]! : (names.find(isOs) ?? nameOf(names, isSpoken, isGeneral));
    // Clients are counted, too, but have neither rates nor names that operating systems give.
    if (!isOs(name) && !list.some(isRate)) return [];
    const others = keys.filter((key) => key !== name);
    const deviceOf = new Map(name.rows.map((row, at) => [row, name.values[at]!]));
    const byKey = others.map(
      ({ rows, values }) => new Map(values.map((value, at) => [value, deviceOf.get(rows[at]!) ?? ''])),
    );
    return [{ name: name.field, devices: name.values, keys: others.flatMap(({ field }) => field.distinct), byKey }];
  });
}

/**
 * The device's of several names: rather none that is called as identifiers are, nor that others name the records by, and what
 * stands first only counts them.
 */
function nameOf<T extends Names>(all: readonly T[], isSpoken: (one: T) => boolean, isGeneral: (one: T) => boolean): T {
  const own = all.filter((one) => !isGeneral(one));
  const names = own.length > 0 ? own : all;
  const free = names.filter((one) => !isSpoken(one));
  return free.findLast(areWords) ?? free[0] ?? names.findLast(areWords) ?? names[0]!;
}

/** A hardware address for each record. */
const isHardware = (field: FieldData): boolean =>
  field.values.length >= 2 &&
  field.values.length <= MOST &&
  isNearlyOneEach(field) &&
  field.values.every((value) => isMac(value) || maybeMac(value));

/** Names of the ports in one of the fields that they may be called by. */
type Names = Pick<FieldData, 'values'>;

const isOs = ({ values }: Names): boolean => values.filter(osFamily).length * 2 >= values.length;

const areWords = ({ values }: Names): boolean => values.every((value) => /^\S{1,24}$/.test(value));

/** Rates of sockets in Mbit/s (IEEE 802.3), a word in place of some, or behind: both ways at once, or not. */
const rates = new Set(['10', '100', '1000', '2500', '5000', '10000', '25000', '40000', '50000', '100000']);
const rateOf = (value: string): string => value.replace(/[-/ ]\p{L}{1,6}$/u, '');
export const isRate = ({ several, tag, distinct }: FieldData): boolean =>
  !several &&
  !tag &&
  distinct.some((value) => rates.has(rateOf(value))) &&
  distinct.every((value) => rates.has(rateOf(value)) || /^\p{L}{1,12}$/u.test(value));

/** Whether names are counted: by the number that they end in, by a letter behind a mark, or by letters alone. */
export function areCounted(names: readonly string[]): boolean {
  if (names.length < 2) return false;
  const stems = new Map<string, number>();
  for (const name of names) {
    const stem = stemOf(name);
    if (stem !== null) stems.set(stem, (stems.get(stem) ?? 0) + 1);
  }
  let counted = 0;
  for (const times of stems.values()) counted += times;
  return counted >= names.length * NEARLY_ALL && stems.size <= Math.max(2, names.length / 2);
}

/** What comes before the last number or letter that counts; null for a name without one. */
function stemOf(name: string): string | null {
  if (name.length > 24) return null;
  if (isSlot(name)) return '#/';
  const [, stem] = /^(\p{L}[^,;|]{0,19}?)\d{1,3}$/u.exec(name) ?? /^(.{1,18}[-_./: ])\p{L}$/u.exec(name) ?? [];
  if (stem !== undefined) return stem.replace(/\d+/g, '#');
  return /^\p{Lu}$/u.test(name) ? '' : null;
}

/** What the identifiers of several kinds of record are called: each record has one, which a machine made or counted. */
function identifierNames(fields: readonly FieldData[]): ReadonlySet<string> {
  const kinds = new Map<string, { made: number; other: boolean }>();
  for (const field of fields) {
    if (field.rowShape === -1 || field.tag) continue;
    const name = leafName(field);
    const known = kinds.get(name) ?? { made: 0, other: false };
    kinds.set(name, known);
    if (!isOneEach(field) || !field.distinct.every(isIdentifier)) known.other = true;
    else if (field.values.length > 1 && !hasGaps(field)) known.made++;
  }
  return new Set([...kinds].flatMap(([name, { made, other }]) => (made > 1 && !other ? [name] : [])));
}

const code = /^\p{L}{0,3}(\d+)$/u;

const isIdentifier = (value: string): boolean => code.test(value) || kindOf(value) === 'opaque';

/** Codes do not count where numbers before the last are no one's. */
function hasGaps({ distinct }: FieldData): boolean {
  const numbers = distinct.map((value) => Number(code.exec(value)?.[1] ?? 0));
  return largestOf(numbers) > distinct.length + 1;
}

/** Those of some fields that others name records by: their values stand elsewhere, also behind a word and a mark, or in a list. */
function spokenElsewhere(fields: readonly FieldData[], keys: readonly FieldData[]): ReadonlySet<FieldData> {
  const of = new Map<string, FieldData[]>();
  for (const key of keys) for (const value of key.distinct) of.set(value, [...(of.get(value) ?? []), key]);
  const spoken = new Set<FieldData>();
  const own = new Set(keys);
  const say = (text: string) => {
    for (const key of of.get(text) ?? []) spoken.add(key);
  };
  for (const field of fields) {
    if (own.has(field) || field.distinct.length > 2 * MOST) continue;
    for (const value of field.distinct) {
      if (value.length > LONGEST) continue;
      say(value);
      for (const item of value.split(/[,;|]/)) {
        const name = bareName(item.trim());
        say(name);
        // A name in a sentence is a remark.
        const words = name.split(/\s+/);
        if (words.length > 1 && words.every((word) => of.has(bareName(word))))
          for (const word of words) say(bareName(word));
      }
    }
  }
  return spoken;
}

/** Longer values are rather remarks. */
const LONGEST = 120;
