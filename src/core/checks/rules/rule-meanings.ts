import { append, largestOf } from '../../lists.ts';
import type { FieldData } from '../../reading/fields/fields.ts';
import type { Reading, Reference } from '../../reading/reading.ts';
import { lowerBound } from '../../text/lower-bound.ts';
import { isDomainName } from '../../values/names.ts';
import { unsigned } from '../../values/numbers.ts';
import { isDate, isEpoch } from '../../values/time.ts';
import { linksByRow } from '../facts/links.ts';
import { byStructure, once } from '../facts/once.ts';
import { type Column, rolesByNode, rowsByElement, tablesOf } from '../facts/tables.ts';
import { type Block, networksOf } from '../networks/networks.ts';
import { addressInterval, type Interval, type Intervals, intervalOf, portInterval, union } from './intervals.ts';
import { anyWords, hasAny, remarkWords } from './rule-words.ts';
import { carriersIn, isCarrier, type PortSpot, portsOf } from './service-ports.ts';
import { zonesOf } from './zones.ts';

/** What a record stands for where rules name it. */
export interface Meaning {
  readonly of: 'addresses' | 'ports';
  readonly numbers: Intervals;
}

export interface Meanings {
  /** Null where the record holds anything that is not understood. */
  readonly of: (node: number) => Meaning | null;
  /** Index of the role whose record this is, -1 for none. */
  readonly roleAt: (node: number) => number;
  readonly nodeOf: (role: number) => number;
  /** Indices of the roles that a record is or holds; see zones.ts. */
  readonly rolesAt: (node: number) => readonly number[];
  /** The networks of a role; null where they are not known. */
  readonly networksOf: (role: number) => Intervals | null;
  /** The box's own addresses on a role; null where they are not known. */
  readonly addressesOf: (role: number) => Intervals | null;
  /** Fields that were read to answer. */
  readonly read: ReadonlySet<FieldData>;
}

const kindWords = new Set(
  'host hosts network networks net address addresses range ranges subnet subnets ip ipv4 ipv6 cidr port ports'.split(
    ' ',
  ),
);
const DEEPEST = 8;

export const meaningsOf = once((reading): Meanings => {
  const byElement = rowsByElement(reading);
  const roles = rolesByNode(reading);
  const known = new Map<number, Meaning | null>();
  const fields = new Set<FieldData>();
  const records = rowContents(reading);
  const links = linksByRow(reading);
  const isOwnName = ownNames(reading);
  const marked = new Set(reading.values.marks.flatMap(({ rows }) => rows));
  const of = (node: number, depth = 0): Meaning | null => {
    const held = known.get(node);
    if (held !== undefined) return held;
    const row = byElement.get(node);
    // A set that holds itself has no meaning; nor has one that nobody can find the end of.
    known.set(node, null);
    const meaning = row === undefined || depth > DEEPEST || marked.has(row) ? null : read(row, depth);
    known.set(node, meaning);
    return meaning;
  };
  const read = (row: number, depth: number): Meaning | null => {
    const contents = records(row);
    if (!contents) return null;
    const numbers: Interval[] = [];
    let kind: Meaning['of'] | null = null;
    const add = (found: Meaning['of'], intervals: Iterable<Interval>): boolean => {
      kind ??= found;
      append(numbers, intervals);
      return kind === found;
    };
    const references = new Map<string, Reference[]>();
    for (const at of contents.rows)
      for (const { reference, column, place } of links.of(at)) {
        const key = `${column.index} ${place}`;
        references.set(key, [...(references.get(key) ?? []), reference]);
      }
    const spots: PortSpot[] = [];
    /** A name that may be an address itself: of a host, not of a service. */
    let isHost = false;
    const told = new Map<number, readonly string[]>();
    for (const { column, place } of contents.values) {
      fields.add(column.field);
      const value = column.field.values[place]!;
      const named = references.get(`${column.field.index} ${place}`);
      if (named) {
        const whole = named.map((reference) => reference.value).join('') === value.replace(/[\s,;|]+/g, '');
        if (!whole) return null;
        for (const { to } of named) {
          const inner = of(to, depth + 1);
          if (!inner || !add(inner.of, inner.numbers)) return null;
        }
        continue;
      }
      const own = column.field.rows[place]!;
      if (isCarrier(column)) told.set(own, [...(told.get(own) ?? []), ...carriersIn(value)!]);
      if (isCarrier(column)) continue;
      if (isAbout(column, value) || isOwnName(column)) {
        isHost ||= isDomainName(value);
        continue;
      }
      const pieces = value.split(/\s*[,;|\n]\s*|\s+(?![-:])/).filter((piece) => piece !== '');
      for (const piece of pieces) {
        const address = addressInterval(piece);
        const port = address ? null : portInterval(piece);
        if (port) spots.push({ column, row: own, port });
        else if (!address || !add('addresses', [address])) return null;
      }
    }
    if (spots.length > 0 || told.size > 0) {
      const ports = portsOf(spots, told, reading.values.above);
      if (!ports || (ports.length > 0 && !add('ports', ports))) return null;
    }
    return kind === null || (isHost && kind === 'addresses') ? null : { of: kind, numbers: union(numbers) };
  };
  return {
    of: (node) => of(node),
    roleAt: (node) => roles.get(node) ?? -1,
    nodeOf: (role) => reading.roles[role]!.node,
    rolesAt: (node) => (roles.has(node) ? [roles.get(node)!] : (zonesOf(reading).get(node) ?? [])),
    networksOf: byRole(reading, ({ extent }) => intervalOf(extent)),
    addressesOf: byRole(reading, ({ address }) => intervalOf({ first: address, last: address })),
    read: fields,
  };
});

/** A test whether records are told apart or called by a column, as the reading has it. */
export const ownNames = once(({ collections, values: { element } }) => {
  const byFirst = new Map(collections.map((collection) => [collection.records[0], collection]));
  const known = new WeakMap<Column, boolean>();
  const look = ({ kind, field: { rows, steps, tag, template, values } }: Column): boolean => {
    if (tag || (kind === 'number' && values.length >= 3 && isCount(values))) return true;
    let own = byFirst.get(element[rows[0]!]);
    own ??= collections.find(({ records }) => records[lowerBound(records, element[rows[0]!]!)] === element[rows[0]!]);
    return [own?.key, own?.label].some((key) => {
      if (key?.by === 'attribute') return steps[steps.length - 1] === `@${key.name}`;
      return key?.by === 'leaf' && template.endsWith(`/${key.path.join('/')}`);
    });
  };
  return (column: Column): boolean => {
    let is = known.get(column);
    if (is === undefined) {
      is = column.field.rows[0] !== -1 && column.field.distinct.length === column.field.values.length && look(column);
      known.set(column, is);
    }
    return is;
  };
}, byStructure);

/** Going up, mostly by one step. */
export function isCount(values: readonly string[]): boolean {
  const steps = new Map<number, number>();
  for (let at = 1; at < values.length; at++) {
    const step = unsigned(values[at]!) - unsigned(values[at - 1]!);
    if (step <= 0) return false;
    steps.set(step, (steps.get(step) ?? 0) + 1);
  }
  return largestOf(steps.values()) >= (values.length - 1) * 0.8;
}

/** True for values that say what the record is called or is for, not what it holds. */
function isAbout(column: Column, value: string): boolean {
  if (kindWords.has(value.toLowerCase())) return true;
  let about = aboutColumns.get(column);
  if (about === undefined) {
    about = namesOrTells(column);
    aboutColumns.set(column, about);
  }
  return about;
}

const aboutColumns = new WeakMap<Column, boolean>();

function namesOrTells({ words, kind, field }: Column): boolean {
  if (hasAny(words, remarkWords)) return true;
  const { values, distinct } = field;
  if (kind !== 'other') return false;
  const isNumber = (piece: string) => addressInterval(piece) !== null || portInterval(piece) !== null;
  const phrases = values.filter((text) => /\S\s+\S/.test(text) && !isNumber(text.split(/[\s,;|]+/)[0]!)).length;
  if (phrases * 3 >= values.length) return true;
  // One word for all: of which kind they are.
  if (
    distinct.length === 1 &&
    values.length > 1 &&
    /^\p{L}[\p{L}-]*$/u.test(distinct[0]!) &&
    !anyWords.has(distinct[0]!.toLowerCase())
  )
    return true;
  // Names: every record has one, and all differ.
  return !field.several && distinct.length === values.length && values.every((text) => /\p{L}/u.test(text));
}

interface Contents {
  readonly rows: readonly number[];
  readonly values: readonly { readonly column: Column; readonly place: number }[];
}

/** The values of a record and of the records in it; a record of many thousand values is left alone. */
function rowContents(reading: Reading): (row: number) => Contents | null {
  const { after, shapeOf } = reading.values;
  const tables = tablesOf(reading);
  const MOST = 20_000;
  return (row) => {
    const rows: number[] = [];
    const values: { column: Column; place: number }[] = [];
    for (let at = row; at < after[row]!; at++) {
      const table = tables.get(shapeOf[at]!);
      if (!table) continue;
      rows.push(at);
      for (const column of table.columns) for (const place of placesOf(column, at)) values.push({ column, place });
      if (values.length > MOST) return null;
    }
    return { rows, values };
  };
}

/** All places of a column in one row; they stand together, and rows stand in the order of the document. */
export function placesOf({ field: { rows } }: Column, row: number): number[] {
  const places: number[] = [];
  for (let at = lowerBound(rows, row); rows[at] === row; at++) places.push(at);
  return places;
}

function byRole(reading: Reading, of: (block: Block) => Interval): (role: number) => Intervals | null {
  const held = new Map<number, Interval[]>();
  for (const block of networksOf(reading).blocks) held.set(block.role, [...(held.get(block.role) ?? []), of(block)]);
  return (role) => {
    const intervals = held.get(role);
    return intervals ? union(intervals) : null;
  };
}

/** Kinds of value that say when, how often or in which order, and nothing about packets. */
export function isClerical(value: string): boolean {
  return isDate(value) || (isEpoch(value) && unsigned(value) > 1e9);
}
