import type { FieldData } from '../fields/fields.ts';
import { isSlot, kindOf } from '../names/literals.ts';

const ROWS = 300;

export function byRow(field: FieldData): Map<number, string> {
  const map = new Map<number, string>();
  for (let at = 0; at < field.rows.length; at++) map.set(field.rows[at]!, field.values[at]!);
  return map;
}

export const isTag = (value: string) => value.length <= 4 && /^[1-9]\d{0,3}$/.test(value) && Number(value) <= 4094;
/** A part of a port may have the number 0, too: what comes without a tag. */
export const isUnit = (value: string) => value === '0' || isTag(value);
export const mayBeDevice = (value: string) =>
  value.length <= 40 && /\d$/.test(value) && /\D/.test(value) && !/[,;|]|\d\s/.test(value) && !isPlainLiteral(value);
export const mayBeParent = (value: string) =>
  value.length <= 40 && (/\p{L}|\//u.test(value) || isSlot(value)) && !isPlainLiteral(value);

export function isPlainLiteral(value: string): boolean {
  const kind = kindOf(value);
  return kind === 'address' || kind === 'mac' || kind === 'integer' || kind === 'opaque' || kind === 'text';
}

export function mostly(values: readonly string[], test: (value: string) => boolean, mayMiss = 0): boolean {
  const step = Math.max(1, Math.floor(values.length / ROWS));
  let seen = 0;
  let good = 0;
  for (let at = 0; at < values.length; at += step) {
    seen++;
    if (test(values[at]!)) good++;
  }
  return good >= seen * 0.8 || (good > seen / 2 && seen - good <= mayMiss);
}

/** What may stand between a port and its tag: a few marks and letters. */
export const isMarks = (text: string) => /^[^\d\s,;|]{1,7}$/.test(text);
