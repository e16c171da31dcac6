import type { Devices } from '../devices/device-set.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import { type Kind, kindOf } from '../names/literals.ts';
import type { Given } from '../references/facts.ts';
import { holderOf } from '../shapes/list-names.ts';
import type { Structure } from '../shapes/structure.ts';
import { isSequence, oneCount } from './number-counts.ts';
import { issuersOf } from './number-issuers.ts';
import { letters, nameBelow, overlap } from './number-names.ts';

/** Kinds of record that numbers may name. */
export interface Table {
  readonly key: KeyField;
  readonly values: ReadonlySet<string>;
  /** By number, the how-manieth record it is, from 1. */
  readonly order: ReadonlyMap<string, number>;
  readonly names: readonly string[];
  /** The records have a name beside the number. */
  readonly called: boolean;
  /** Kinds of literal that they list. */
  readonly literals: ReadonlySet<Kind>;
  /** They hold numbers beyond a count and no addresses, as records of services hold ports. */
  readonly ports: boolean;
  /** They are devices, which few fields name by a number. */
  readonly device: boolean;
  /** One count goes through these records and those of other kinds: no two share a number. */
  readonly counted: boolean;
  /** How many fields they have. */
  readonly width: number;
  /** They are counted in equal steps of more than one, as rules are that leave room between them. */
  readonly spaced: boolean;
  /** They are VLANs by their numbers, which ports and networks name. */
  readonly vlans: boolean;
  /** They have an address and one name each: the logical networks, which most others name. */
  readonly network: boolean;
}

/** Up to here numbers are counts, choices and lengths of prefixes. */
export const COUNT = 32;

/** True for a field that mostly holds devices, one to a record. */
export function holdsDevices({ distinct, several, tag }: FieldData, devices: Devices): boolean {
  if (several || tag) return false;
  const sample = distinct.slice(0, 20);
  return sample.length > 0 && sample.filter((value) => devices.has(value)).length * 2 >= sample.length;
}

/** What records are called, and what holds them, as plain letters. */
function namesOf(structure: Structure, index: number): string[] {
  const holder = holderOf(structure, index);
  const steps = [structure.shapes[index]!.step, holder === -1 ? '' : structure.shapes[holder]!.step];
  return steps.map(letters).filter((name) => name.length > 1);
}

/** By name the kinds of record that are called so. */
export function titlesOf(keys: readonly KeyField[], structure: Structure): ReadonlyMap<string, ReadonlySet<number>> {
  const titles = new Map<string, Set<number>>();
  for (const { shape } of keys)
    for (const name of namesOf(structure, shape)) titles.set(name, (titles.get(name) ?? new Set()).add(shape));
  return titles;
}

/**
 * Whose number a field is by its name: `role_no` of the roles is their own, that of what joins roles and rules is another's; null
 * where the name does not say.
 */
export function numberOf(
  field: FieldData,
  structure: Structure,
  endings: readonly string[],
  titles: ReadonlyMap<string, ReadonlySet<number>>,
): 'own' | 'other' | null {
  const name = letters(leafName(field));
  const ending = endings.find((one) => name.length > one.length && name.endsWith(one));
  if (ending === undefined) return null;
  const stem = name.slice(0, name.length - ending.length);
  const called = titles.get(stem) ?? titles.get(`${stem}s`);
  if (called && !called.has(field.rowShape)) return 'other';
  return overlap(stem, namesOf(structure, field.rowShape)) >= 0.5 ? 'own' : null;
}

/** Kinds of record that have an address, one to a field. */
const addressedShapes = (fields: readonly FieldData[]): ReadonlySet<number> =>
  new Set(
    fields.flatMap(({ rowShape, distinct, several }) =>
      !several && distinct.slice(0, 10).every((value) => kindOf(value) === 'address') ? [rowShape] : [],
    ),
  );

/** Kinds of record that have an address and a name each; hosts, which have a hardware address each, where others do. */
export function networksOf({ keys, fields, structure }: Given): ReadonlySet<number> {
  const addressed = addressedShapes(fields);
  const called = keys.keys.filter(({ kind }) => kind === 'name' || kind === 'phrase');
  const all = new Set(called.flatMap(({ shape }) => (addressed.has(shape) ? [shape] : [])));
  const hosts = new Set(
    fields.flatMap(({ rowShape, values, kinds }) =>
      all.has(rowShape) &&
      values.length === structure.shapes[rowShape]!.nodes.length &&
      kinds.every((kind) => kind === 'mac')
        ? [rowShape]
        : [],
    ),
  );
  return hosts.size < all.size ? new Set([...all].filter((shape) => !hosts.has(shape))) : all;
}

/** Numbers that go up in equal steps of more than one, the first being one step: 10, 20, 30. */
const isSpaced = (values: readonly string[]): boolean =>
  values.length > 2 &&
  Number(values[0]) > 1 &&
  values.every((value, at) => Number(value) === Number(values[0]) * (at + 1));

/** Kinds of record that go by numbers, the best key of each. */
export function tablesOf(
  given: Given,
  endings: readonly string[],
  literalsOf: (key: KeyField) => ReadonlySet<Kind>,
): Table[] {
  const { keys, structure, devices, fields, readers } = given;
  const networks = networksOf(given);
  const called = new Set<number>();
  for (const key of keys.keys) if (key.kind === 'name' || key.kind === 'phrase') called.add(key.shape);
  const addressed = addressedShapes(fields);
  /** Adds a field's shape and the few around it, as a list's items may be records of their own. */
  const addAround = (shape: number, to: Set<number>) => {
    for (let at = shape, up = 0; at !== -1 && up <= 3; at = structure.shapes[at]!.above, up++) to.add(at);
  };
  const hasAddresses = new Set<number>();
  for (const { shape, index } of fields)
    if (readers[index]!.counts.tokens.slice(0, 10).some((value) => kindOf(value) === 'address'))
      addAround(shape, hasAddresses);
  const widths = new Map<number, number>();
  for (const { rowShape } of fields) widths.set(rowShape, (widths.get(rowShape) ?? 0) + 1);
  const numbered = new Set<number>();
  const ownKeys = new Set(keys.keys.map(({ field }) => field));
  const inOneCount = oneCount(keys.keys);
  const counted = new Set<string>();
  for (const { field } of inOneCount) for (const value of field.distinct) counted.add(value);
  for (const field of fields) {
    const sample = readers[field.index]!.counts.tokens.slice(0, 10);
    const large = sample.filter((value) => kindOf(value) === 'integer' && Number(value) > COUNT && !counted.has(value));
    if (large.length * 2 >= sample.length && !ownKeys.has(field)) addAround(field.shape, numbered);
  }
  const held = new Set(devices.derivations.map(({ shape }) => shape));
  for (const field of fields)
    if (!addressed.has(field.rowShape) && holdsDevices(field, devices)) held.add(field.rowShape);
  // Records that a tagged device is made of are what roles name; others with a device rather join it with one.
  const joining = new Set(held);
  for (const { shape, parent } of devices.derivations) if (parent !== null) joining.delete(shape);
  // A hardware address each makes them ports.
  for (const { rowShape, distinct, values } of joining.size > 0 ? fields : [])
    if (kindOf(values[0]!) === 'mac' && distinct.length === values.length) joining.delete(rowShape);
  const titles = titlesOf(keys.keys, structure);
  const byName = new Set<number>();
  for (const { shape, field, kind } of keys.keys)
    if (kind === 'integer' && endings.includes(letters(leafName(field)))) byName.add(shape);
  const first = new Map<number, FieldData>();
  for (const field of fields) if (!field.tag && !first.has(field.rowShape)) first.set(field.rowShape, field);
  // A record of two values, or of a device and no address, rather joins two others.
  const sequences = new Set(
    keys.keys.filter(
      ({ bestOfKind, field, shape }) =>
        bestOfKind && isSequence(field) && !byName.has(shape) && !joining.has(shape) && (widths.get(shape) ?? 0) > 2,
    ),
  );
  if (sequences.size + byName.size < 3) {
    // Two are enough where they begin their records and are called alike.
    const begin = [...sequences].filter(({ field }) => first.get(field.rowShape) === field);
    const called = (one: KeyField) => begin.filter(({ field }) => leafName(field) === leafName(one.field)).length;
    sequences.clear();
    for (const key of begin) if (called(key) >= 2) sequences.add(key);
  }
  // What numbers are called that tell no records apart: they name some.
  const referring = new Set(
    fields.flatMap((field) =>
      ownKeys.has(field) || readers[field.index]!.counts.kinds[0] !== 'integer' ? [] : [leafName(field)],
    ),
  );
  const certificates = issuersOf(given);
  const namedAsCalled = calledKeys(given, ownKeys);
  return keys.keys.flatMap((key): Table[] => {
    const { kind, field, best, bestOfKind } = key;
    if (kind !== 'integer') return [];
    const names = namesOf(structure, key.shape);
    const name = letters(leafName(field));
    // Called as identifiers are; or by that and the records' own name, as `role_no` is.
    const whose = numberOf(field, structure, endings, titles);
    if (whose === 'other') return [];
    const own = bestOfKind && whose === 'own';
    const counts = bestOfKind && (sequences.has(key) || inOneCount.has(key));
    const refers = byName.size > 0 || !best || referring.has(leafName(field));
    const shown = bestOfKind && certificates.has(key.shape);
    const vlans = bestOfKind && !networks.has(key.shape) && key.vlans;
    const met = bestOfKind && namedAsCalled.has(key);
    if (!field.tag && !endings.includes(name) && !own && !counts && refers && !vlans && !shown && !met) return [];
    return [
      {
        key,
        values: new Set(field.distinct),
        order: new Map(field.distinct.map((value, at) => [value, at + 1])),
        names,
        called: called.has(key.shape),
        counted: inOneCount.has(key),
        network: networks.has(key.shape),
        width: widths.get(key.shape) ?? 0,
        literals: literalsOf(key),
        ports: numbered.has(key.shape) && !hasAddresses.has(key.shape) && !held.has(key.shape),
        vlans,
        spaced: isSpaced(field.values),
        device: held.has(key.shape) && !vlans,
      },
    ];
  });
}

/** So many numbers, called as the records are, all of which are theirs, are no chance. */
const FEW = 3;
const NUMBERS = 40;

/** Keys of which another field has the numbers that is called as the records are: `zone` of `zones`. */
function calledKeys({ fields, keys, readers, structure }: Given, own: ReadonlySet<FieldData>): ReadonlySet<KeyField> {
  const found = new Set<KeyField>();
  for (const field of fields) {
    if (field.tag || own.has(field)) continue;
    const { tokens, kinds } = readers[field.index]!.counts;
    if (tokens.length < FEW || kinds.slice(0, FEW).some((kind) => kind !== 'integer')) continue;
    const name = letters(nameBelow(field, structure));
    const sample = tokens.slice(0, NUMBERS);
    const hits = new Map<KeyField, number>();
    for (const token of sample)
      keys.each(token, (index) => {
        const key = keys.keys[index]!;
        if (key.kind === 'integer' && key.bestOfKind && key.shape !== field.rowShape)
          hits.set(key, (hits.get(key) ?? 0) + 1);
      });
    for (const [key, count] of hits)
      if (count >= FEW && count >= sample.length * 0.8 && overlap(name, namesOf(structure, key.shape)) >= 0.6)
        found.add(key);
  }
  return found;
}
