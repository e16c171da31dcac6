import { largestOf } from '../../lists.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import type { FieldProfile } from '../fields/profiles.ts';
import type { Structure } from '../shapes/structure.ts';

/** A name as a plain word, without marks, case and a plural's last letter. */
function plainName(name: string): string {
  return name
    .toLowerCase()
    .replace(/^.*[[{](.*)[\]}]$/, '$1')
    .replace(/[^\p{L}\p{M}\p{N}]/gu, '')
    .replace(/s$/, '');
}

export function shapeNames(structure: Structure, records: readonly boolean[]): Map<string, number> {
  const names = new Map<string, number>();
  for (const shape of structure.shapes)
    if (records[shape.index] && shape.step !== '*') names.set(plainName(shape.step), shape.index);
  return names;
}

/** Values of fields without repetition: value → the fields that have it, a few; most have one, which is no list. */
export type UniqueValues = ReadonlyMap<string, number | readonly number[]>;

export function uniqueValues(
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  profiles: readonly FieldProfile[],
): UniqueValues {
  const unique = new Map<string, number | number[]>();
  for (const list of byShape.values()) {
    for (const field of list) {
      const { distinct, kind } = profiles[field.index]!;
      if (distinct < field.values.length || distinct < 2) continue;
      if (kind === 'address' || kind === 'mac' || kind === 'number' || kind === 'text') continue;
      for (const value of field.distinct) {
        const fields = unique.get(value);
        if (fields === undefined) unique.set(value, field.index);
        else if (typeof fields === 'number') unique.set(value, [fields, field.index]);
        else if (fields.length < 8) fields.push(field.index);
      }
    }
  }
  return unique;
}

/** True where the nodes of a shape stand alone in what holds them: a collection of one. */
export function isOnlyChild({ shapes }: Structure, shape: number): boolean {
  const { above } = shapes[shape]!;
  return above !== -1 && shapes[above]!.below.every((other) => other === shape || shapes[other]!.step.startsWith('@'));
}

/** True where the nodes of a shape stand in records of which there are several. */
export function isInRecords({ shapes }: Structure, records: readonly boolean[], shape: number): boolean {
  for (let at = shapes[shape]!.above; at !== -1; at = shapes[at]!.above)
    if (records[at] && (shapes[at]!.repeated || shapes[at]!.keyedByTag)) return true;
  return false;
}

/**
 * True where one other field without repetition has nearly all values of this one, so it may name those records.
 * @param larger how many times as many values, and one more, the other field has to have.
 */
export function coveredBy(
  field: FieldData,
  unique: UniqueValues,
  profiles: readonly FieldProfile[],
  larger = 0,
): boolean {
  const hits = new Map<number, number>();
  const sample = field.distinct.slice(0, 200);
  const least = larger > 0 ? field.distinct.length * larger + 1 : 0;
  for (const value of sample) {
    const fields = unique.get(value) ?? [];
    for (const other of typeof fields === 'number' ? [fields] : fields) {
      if (other !== field.index && profiles[other]!.distinct >= least) hits.set(other, (hits.get(other) ?? 0) + 1);
    }
  }
  return largestOf([0, ...hits.values()]) >= sample.length * 0.95;
}

/** True for a leaf that has the name of its own records in it: `role_no` in the table of roles. */
export function namesOwn(field: FieldData, structure: Structure): boolean {
  const leaf = plainName(leafName(field));
  const own = structure.shapes[field.rowShape]!;
  const above = own.above === -1 ? null : structure.shapes[own.above]!;
  return [own, above].some((shape) => {
    if (!shape || shape.above === -1 || shape.step === '*') return false;
    const name = plainName(shape.step);
    if (name.length >= 2 && leaf.length > name.length && leaf.startsWith(name)) return true;
    // `list_no` in the table of machine lists.
    for (let length = leaf.length - 1; length >= 3 && length >= leaf.length / 2; length--)
      if (name.endsWith(leaf.slice(0, length))) return true;
    return false;
  });
}

/** True for a leaf called like the records of another kind: it refers to one of them. */
export function namesOther(field: FieldData, shape: number, kindNames: ReadonlyMap<string, number>): boolean {
  const other = kindNames.get(plainName(leafName(field)));
  return other !== undefined && other !== shape;
}

/**
 * Integers that count records: close to each other, so 3, 4, 5, 7 but not 53, 443, 8080. Rules are often counted by tens or
 * hundreds, to leave room between them.
 */
export function isCounter(values: readonly string[]): boolean {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    const number = Number(value);
    if (!Number.isInteger(number)) return false;
    if (number < low) low = number;
    if (number > high) high = number;
  }
  const step = values.length < FEW ? 1 : values.reduce((all, value) => greatestCommon(all, Number(value) - low), 0);
  return (high - low) / Math.max(1, step) < values.length * 2 + 8;
}

/** Of so few numbers nearly any has a step. */
const FEW = 4;

/** By Euclid. */
const greatestCommon = (one: number, other: number): number => (other === 0 ? one : greatestCommon(other, one % other));

/** True where people may call the records so: `1/0/3` is the number of a socket. */
export function hasLetters({ distinct }: FieldData): boolean {
  const sample = distinct.slice(0, 20);
  return sample.filter((value) => /\p{L}/u.test(value)).length * 2 >= sample.length;
}

export function averageWords(values: readonly string[]): number {
  const sample = values.slice(0, 100);
  return sample.reduce((sum, value) => sum + value.split(/\s+/).length, 0) / Math.max(1, sample.length);
}

export function averageLength(values: readonly string[]): number {
  let sum = 0;
  const step = Math.max(1, Math.floor(values.length / 100));
  let seen = 0;
  for (let at = 0; at < values.length; at += step) {
    sum += values[at]!.length;
    seen++;
  }
  return sum / seen;
}
