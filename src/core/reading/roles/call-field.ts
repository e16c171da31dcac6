import { largestOf } from '../../lists.ts';
import type { Devices } from '../devices/device-set.ts';
import { isKind } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { kindOf, patternOf } from '../names/literals.ts';

/**
 * The field by which people call the records: a tag, else a name before an identifier.
 * @param calling fields by which others name records.
 */
export function callField(
  list: readonly FieldData[],
  keys: KeyTable,
  portFields: ReadonlySet<number>,
  calling: ReadonlySet<FieldData>,
  shape: number,
): FieldData | null {
  const rows = largestOf([0, ...list.map(({ several, tag, values }) => (several && !tag ? 0 : values.length))]);
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
  // Beside a code, of two texts that tell records apart the first is a name of several words, and the other a remark; one alone
  // is a name where others use it.
  const texts = unique.filter((field) => !field.tag && !isCode(field) && isPhrase(field));
  const words = plain.some((field) => field.distinct.every((value) => kindOf(value) === 'name'));
  if (!words && best && isCode(best) && (texts.length > 1 || texts.some((text) => calling.has(text)))) return texts[0]!;
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

/** True for names that end in a number, most of which begin like others of them. */
function areCounted(names: readonly string[]): boolean {
  const stems = new Set(names.map((name) => /^(.*\D)\d+\D?$/.exec(name)?.[1]));
  return !stems.has(undefined) && stems.size < names.length;
}

/**
 * Whether records are called by something else, too, than the device in a field.
 * @param seat what names the record from a seat: a code, its own or one of such, is no name beside what the record is called by.
 */
export function hasOtherName(field: FieldData, keys: KeyTable, seat: FieldData | undefined): boolean {
  return keys.keys.some(
    (key) =>
      key.shape === field.rowShape &&
      key.field !== field &&
      !isKind(key.field) &&
      key.kind === 'name' &&
      key.strength > 0.5 &&
      !(seat && (isCode(key.field) || areCounted(seat.distinct))),
  );
}

/** The field by which devices, or what is made of some, are called. */
export function nameField(list: readonly FieldData[], keys: KeyTable, devices: Devices): FieldData | null {
  const called = list.filter((field) => !field.several && keys.keys.some((key) => key.field === field));
  return (
    called.find((field) => field.values.some((value) => devices.has(value))) ??
    called.find((field) => field.values.every((value) => /\p{L}/u.test(value))) ??
    null
  );
}
