import { isTag } from '../devices/device-forms.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import { isBuiltIn } from '../names/dangling.ts';
import { type Kind, kindOf } from '../names/literals.ts';
import { operatorKey } from '../names/operators.ts';
import type { Reader, TokenCounts } from '../names/tokens.ts';
import type { Given } from '../references/facts.ts';
import type { Fit } from './number-chance.ts';
import { isOrder, isSequence } from './number-counts.ts';
import { basesOf, isWord, itemNames, letters, listAround, nameBelow } from './number-names.ts';
import { holdsDevices, networksOf, numberOf, type Table, titlesOf } from './number-tables.ts';

/** Of fields that name no record by a number. */
export const NOTHING: ReadonlyMap<number, Fit> = new Map();

/** What is known of fields of one name that hold numbers, wherever they stand. */
export interface Group {
  readonly fields: number[];
  readonly shapes: Set<number>;
  readonly values: Set<string>;
  /** Ends in the name that numbers of records have in this file: `role_id` where the keys are called `id`. */
  readonly suffixed: boolean;
  /** That ending; empty for none. */
  readonly ending: string;
  /** The name as letters alone, without that ending. */
  readonly stem: string;
  /**
   * Of those fields that are the first number of their record, but for its own: the records' shape, what holds them, and that
   * less the name of what they list: `rule` of `rule_port`, whose records have a `port`.
   */
  readonly firsts: { readonly shape: number; readonly holder: string; readonly whose: string | null }[];
  /** Kinds of literal that stand in a record instead of the number: where one is, the other is not. */
  readonly instead: Set<Kind>;
  /** Kinds of literal, and words that stand for themselves, beside the numbers in the fields. */
  readonly beside: Set<Kind>;
  /** True where the numbers go up by one from record to record: an order; null where they are too few to tell. */
  order: boolean | null;
  /** True where they tell records apart that hold a device and no address: these join it with what the number names. */
  joins: boolean;
  /** True where little stands beside them but a prefix: a way to there, through what the number names. */
  ways: boolean;
  /** True where they may be lengths of prefixes: beside addresses that tell neither theirs nor a mask. */
  lengths: boolean;
  /** True where they stand in records of ports and networks alone. */
  seated: boolean;
  /**
   * True where they stand in a logical network that has either this or a device, or another number: each a kind of device; or beside
   * a VLAN ID.
   */
  seats: boolean;
  /** True where they tell apart logical networks that share a device, and no others have any: VLAN IDs. */
  tags: boolean;
}

/**
 * Fields that hold numbers only, by name.
 * @param fit is told of fields whose number is their record's own: these name no other.
 */
export function groupsOf(
  given: Given,
  tables: readonly Table[],
  endings: readonly string[],
  most: number,
  fit: Map<number, ReadonlyMap<number, Fit>>,
): Group[] {
  const { fields, readers, keys, leaf, structure, devices } = given;
  const tags = new Set(devices.derivations.map(({ tag }) => tag));
  const titles = titlesOf(keys.keys, structure);
  const own = new Set(tables.map(({ key }) => key.field.index));
  const unique = new Set(keys.keys.filter(({ rows }) => rows >= 3).map(({ field }) => field.index));
  const groups = new Map<string, Group>();
  const sources: { index: number; name: string; stem: string; suffixed: boolean; ending: string }[] = [];
  const endingOf = (name: string) =>
    endings.find((one) => name.endsWith(one) && isStem(name.slice(0, name.length - one.length)));
  const items = itemNames(fields, structure, (list) => endingOf(letters(list)) !== undefined);
  for (const field of fields) {
    if (field.tag || field.virtual || tags.has(field.index)) continue;
    if (own.has(field.index)) {
      const itself = isSequence(field) || numberOf(field, structure, endings, titles) === 'own';
      if (itself || endings.includes(letters(nameBelow(field, structure)))) fit.set(field.index, NOTHING);
      continue;
    }
    const reader = readers[field.index]!;
    const word = wordAround(field, reader);
    if (word === null && !areNumbers(reader.counts, (token) => keys.has(token, field))) continue;
    const name = letters(nameBelow(field, structure));
    if (endings.includes(name)) {
      // The number of a record itself names no other.
      fit.set(field.index, NOTHING);
      continue;
    }
    const list = items.has(leafName(field)) ? listAround(field, structure) : null;
    const called = list === null ? name : letters(list);
    const ending = endingOf(called);
    const stem = ending ? called.slice(0, called.length - ending.length) : called;
    const suffixed = ending !== undefined;
    sources.push({
      index: field.index,
      name: word ?? list ?? leaf[field.index]!,
      stem,
      suffixed,
      ending: ending ?? '',
    });
  }
  const baseOf = basesOf(
    sources.flatMap(({ suffixed, stem }) => (suffixed ? [stem] : [])),
    most,
  );
  const named = new Set(sources.flatMap(({ suffixed, index }) => (suffixed ? [index] : [])));
  const company = new Company(fields);
  const networks = networksOf(given);
  const begun = new Set<number>();
  for (const { index, name, stem, suffixed, ending } of sources) {
    const id = suffixed ? `*${baseOf(stem)}` : name;
    let group = groups.get(id);
    if (!group) {
      group = {
        fields: [],
        shapes: new Set(),
        values: new Set(),
        suffixed,
        ending,
        stem: suffixed ? baseOf(stem) : stem,
        firsts: [],
        instead: new Set(),
        beside: new Set(),
        order: null,
        joins: true,
        ways: false,
        seats: false,
        tags: false,
        seated: true,
        lengths: false,
      };
      groups.set(id, group);
    }
    group.fields.push(index);
    const shape = fields[index]!.rowShape;
    if (suffixed && shape !== -1 && !begun.has(shape)) {
      begun.add(shape);
      const { above } = structure.shapes[shape]!;
      const holder = above === -1 ? '' : letters(structure.shapes[above]!.step);
      const listed = company.of(shape).map((other) => letters(leaf[other.index]!));
      const what = listed.find((name) => name.length < holder.length && holder.endsWith(name));
      group.firsts.push({ shape, holder, whose: what ? holder.slice(0, holder.length - what.length) : null });
    }
    group.shapes.add(shape);
    const field = fields[index]!;
    const siblings = company.of(shape);
    const nodes = shape === -1 ? 0 : structure.shapes[shape]!.nodes.length;
    if (!unique.has(index) || siblings.length > 5 || !siblings.some((other) => holdsDevices(other, devices)))
      group.joins = false;
    if (siblings.some(isBareAddress) && !siblings.some(isMask)) group.lengths = true;
    if (!networks.has(shape) && !siblings.some((other) => holdsDevices(other, devices))) group.seated = false;
    if (!networks.has(shape) && siblings.length <= WAY && siblings.some(holdsPrefixes)) group.ways = true;
    // A VLAN ID beside it belongs to a tagged device, and the number to the device below.
    if (siblings.length <= WAY && siblings.some((other) => other !== field && mayBeVlanIds(other))) group.seats = true;
    if (networks.has(shape) && siblings.some((other) => holdsDevices(other, devices) && tellApart(field, other)))
      group.tags = true;
    for (const other of networks.has(shape) ? siblings : []) {
      if (!(suffixed && named.has(other.index)) && !holdsDevices(other, devices)) continue;
      if (field.rows.length + other.rows.length >= nodes * 0.9 && areApart(field, other)) group.seats = true;
    }
    for (const other of siblings) {
      if (other === field || named.has(other.index) || !areApart(field, other, FEW)) continue;
      const { kinds } = readers[other.index]!.counts;
      if (kinds.every((kind) => kind === 'address')) group.instead.add('address');
      else if (kinds.every((kind) => kind === 'integer' || kind === 'number')) {
        group.instead.add('integer').add('number');
      }
    }
    const { tokens, kinds } = readers[index]!.counts;
    for (let at = 0; at < tokens.length; at++) {
      if (kinds[at] === 'integer') group.values.add(tokens[at]!);
      else group.beside.add(kinds[at]!);
    }
    if (field.values.length >= 3) group.order ??= true;
    if (field.several || field.values.length < nodes || !isOrder(field.values)) group.order = false;
  }
  return [...groups.values()].filter(({ values }) => values.size > 0);
}

const isStem = (stem: string) => stem.length > 1 || isWord(stem);
const isBareAddress = ({ distinct }: FieldData) => kindOf(distinct[0]!) === 'address' && !distinct[0]!.includes('/');
const isMask = ({ distinct }: FieldData) => distinct[0]!.startsWith('255.');
const mayBeVlanIds = ({ several, distinct, values }: FieldData) =>
  !several && distinct.length > 1 && distinct.length === values.length && values.every(isTag) && !isOrder(values);

/** Whether records of one device have a number each, another one, and those that have a device alone have none. */
function tellApart({ rows, values, several }: FieldData, device: FieldData): boolean {
  if (several || device.several || !values.every(isTag) || rows.length >= device.rows.length) return false;
  const deviceOf = new Map(device.rows.map((row, at) => [row, device.values[at]!]));
  const numbers = new Map<string, Set<string>>();
  for (const [at, row] of rows.entries()) {
    const port = deviceOf.get(row) ?? '';
    numbers.set(port, (numbers.get(port) ?? new Set()).add(values[at]!));
  }
  let told = 0;
  for (const { size } of numbers.values()) told += size;
  return told === rows.length && [...numbers].every(([port, { size }]) => port !== '' && size > 1);
}

/** A route has a prefix, what it goes through, and hardly more. */
const WAY = 5;

const holdsPrefixes = ({ several, distinct }: FieldData) =>
  !several && distinct.every((value) => value.includes('/') && kindOf(value) === 'address');

/** The operator with a word in it that stands around all numbers of a field: what it says of one kind; null for none. */
function wordAround({ distinct }: FieldData, { operators, pieces, which }: Reader): string | null {
  if (!pieces || which) return null;
  let around = operators.filter(({ before, after }) => /\p{L}/u.test(before + after));
  let numbers = 0;
  for (let at = 0; at < distinct.length && around.length > 0; at++) {
    const value = distinct[at]!;
    for (const { text, from } of pieces[at]!) {
      if (kindOf(text) !== 'integer') continue;
      numbers++;
      around = around.filter(
        ({ before, after }) => value.startsWith(after, from + text.length) && value.slice(0, from).endsWith(before),
      );
    }
  }
  return numbers > 0 && around.length > 0 ? operatorKey(around[0]!) : null;
}

/**
 * True where there are numbers, and beside them nothing but addresses, words that stand for themselves, and names, of which
 * hardly any is unknown.
 */
function areNumbers({ tokens, kinds }: TokenCounts, isName: (token: string) => boolean): boolean {
  let numbers = 0;
  let names = 0;
  let unknown = 0;
  for (let at = 0; at < tokens.length; at++) {
    if (kinds[at] === 'integer') numbers++;
    else if (isName(tokens[at]!)) names++;
    else if (kinds[at] !== 'address' && !isBuiltIn(tokens[at]!)) unknown++;
  }
  return numbers > names && unknown * 4 <= Math.max(names, names > 0 ? (numbers + names) / 2 : 0);
}

/** The fields of each kind of record, a few. */
class Company {
  private readonly byShape = new Map<number, FieldData[]>();

  constructor(fields: readonly FieldData[]) {
    for (const field of fields) {
      if (field.rowShape === -1 || field.tag) continue;
      const list = this.byShape.get(field.rowShape);
      if (!list) this.byShape.set(field.rowShape, [field]);
      else if (list.length < 60) list.push(field);
    }
  }

  of(shape: number): readonly FieldData[] {
    return this.byShape.get(shape) ?? [];
  }
}

/** True where hardly any record has a value in both fields: no more than this share of the fewer values. */
function areApart({ rows: one }: FieldData, { rows: other }: FieldData, few = 0): boolean {
  let at = 0;
  let left = Math.min(one.length, other.length) * few;
  for (const row of one) {
    while (at < other.length && other[at]! < row) at++;
    if (other[at] === row && --left < 0) return false;
  }
  return true;
}

/** So many records may say the same in two ways. */
const FEW = 0.1;
