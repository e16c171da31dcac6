import { type FieldData, leafName } from '../fields/fields.ts';
import { mapLong } from '../fields/long-lists.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { holdersOf, type KindsBeside, wordsBeside } from '../names/kinds-beside.ts';
import type { Outline } from '../outline/outline.ts';
import type { Structure } from '../shapes/structure.ts';

/** So many numbers of so many kinds of record, none of which comes twice, are one count of all objects. */
const OBJECTS = 12;
const KINDS = 3;
/** So many places in so many fields, nearly all of which have a number of the count, are no chance. */
const PLACES = 8;
const FIELDS = 3;
const KNOWN = 0.8;

/** Words for types whose values are numbers of anything: common practice of programming languages, no source. */
const ofNumbers =
  /^(?:u?int(?:eger)?|long|short|byte|num(?:ber|eric)?|float|double|real|decimal|count(?:er)?|i|n)\d*$/i;

/** By field the field of the types, and by place the key that has the number; and fields of other numbers, which name nothing. */
interface ObjectNumbers {
  readonly told: ReadonlyMap<number, KindsBeside>;
  readonly plain: ReadonlySet<FieldData>;
}

/** A field of numbers, and what the types beside them say. */
interface Typed {
  readonly words: FieldData;
  readonly names: FieldData;
  readonly beside: readonly (string | undefined)[];
}

/**
 * Fields that name objects by their numbers, where one count goes through all objects of a document and the type beside
 * a value says that it is such a number, whatever the field is called: `<v type="ref">17</v>`. What has the type and no number
 * of the count is gone.
 */
export function objectNumbers(
  fields: readonly FieldData[],
  outline: Outline,
  structure: Structure,
  keys: KeyTable,
): ObjectNumbers {
  const found = new Map<number, KindsBeside>();
  const plain = new Set<FieldData>();
  const count = countOfAll(keys);
  if (!count) return { told: found, plain };
  const groups = new Map<string, Typed[]>();
  for (const [holder, inside] of holdersOf(fields, structure)) {
    const names = inside.find(({ shape }) => shape === holder);
    if (!names?.values.some((value) => number.test(value))) continue;
    for (const words of inside) {
      if (words === names || words.several || words.distinct.some((one) => number.test(one))) continue;
      const typed = { words, names, beside: wordsBeside(words, names, holder, outline) };
      const name = words.steps.at(-1)!;
      const group = groups.get(name);
      if (group) group.push(typed);
      else groups.set(name, [typed]);
    }
  }
  for (const group of groups.values()) {
    const word = wordFor(group, count);
    if (word === null) continue;
    for (const { words, names, beside } of group) {
      if (!beside.includes(word)) {
        // Where references are marked, no other number is one.
        if (names.values.every((value) => number.test(value))) plain.add(names);
        continue;
      }
      const own = names.values.flatMap((value, at) => (beside[at] === word ? [count.get(value) ?? -1] : []));
      const usual = own.find((key) => key !== -1);
      if (usual === undefined) continue;
      const keyAt = (value: string, at: number) => (beside[at] === word ? (count.get(value) ?? usual) : -1);
      found.set(names.index, { words, separator: null, keys: mapLong(names.values, keyAt) });
    }
  }
  return { told: found, plain };
}

const number = /^\d{1,9}$/;

/** By number the key that has it, of fields called alike; null where the document does not count all its objects. */
function countOfAll({ keys }: KeyTable): ReadonlyMap<string, number> | null {
  const byName = new Map<string, Map<string, number> | null>();
  const kinds = new Map<string, number>();
  for (const { kind, field, index } of keys) {
    if (kind !== 'integer' || field.tag) continue;
    const name = leafName(field);
    let count = byName.get(name);
    if (count === null) continue;
    count ??= new Map();
    const isTwice = field.distinct.some((value) => count!.has(value)) || field.distinct.length < field.values.length;
    for (const value of field.distinct) count.set(value, index);
    byName.set(name, isTwice ? null : count);
    kinds.set(name, (kinds.get(name) ?? 0) + 1);
  }
  let best: Map<string, number> | null = null;
  for (const [name, count] of byName)
    if (count && kinds.get(name)! >= KINDS && count.size >= OBJECTS && count.size > (best?.size ?? 0)) best = count;
  return best;
}

/** The word for what is a number of the count; null where none is, or more than one may be. */
function wordFor(group: readonly Typed[], count: ReadonlyMap<string, number>): string | null {
  const uses = new Map<string, { all: number; known: number; fields: number }>();
  for (const { names, beside } of group) {
    const here = new Set<string>();
    for (const [at, word] of beside.entries()) {
      if (word === undefined) continue;
      const use = uses.get(word) ?? { all: 0, known: 0, fields: 0 };
      uses.set(word, use);
      use.all++;
      if (count.has(names.values[at]!)) use.known++;
      if (!here.has(word)) use.fields++;
      here.add(word);
    }
  }
  if (uses.size < 2) return null;
  const fit = [...uses].filter(
    ([word, { all, known, fields }]) =>
      !ofNumbers.test(word) && all >= PLACES && fields >= FIELDS && known >= all * KNOWN,
  );
  return fit.length === 1 ? fit[0]![0] : null;
}
