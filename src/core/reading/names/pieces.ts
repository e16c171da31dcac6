import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { isSetting } from './dangling.ts';

/** Longer values are no lists of names. */
export const MAX_LIST = 4000;

/** Splits a value into pieces with their offsets. */
export function piecesOf(value: string, separator: RegExp | null): { text: string; from: number }[] {
  if (!separator || value.length > MAX_LIST) return [{ text: value, from: 0 }];
  const pieces: { text: string; from: number }[] = [];
  let from = 0;
  separator.lastIndex = 0;
  for (const match of value.matchAll(separator)) {
    if (match[0] === '') continue;
    if (match.index > from) pieces.push({ text: value.slice(from, match.index), from });
    from = match.index + match[0].length;
  }
  if (from < value.length) pieces.push({ text: value.slice(from), from });
  return pieces;
}

/** The longest key inside a token that stands between marks; null for none. */
export function inner(token: string, keys: KeyTable, field: FieldData): { text: string; from: number } | null {
  if (token.length > 80) return null;
  // Of a path the last step is meant, whatever the records around are called.
  const path = /^\/(?:[^/]+\/)+([\p{L}\p{M}\p{N}_.-]+)$/u.exec(token);
  if (path) {
    const text = path[1]!;
    return keys.has(text, field) ? { text, from: token.length - text.length } : null;
  }
  const bounds: number[] = [0];
  let before = false;
  for (let at = 0; at < token.length; at++) {
    const word = isWord(token, at);
    if (at > 0 && (word !== before || !word)) bounds.push(at);
    before = word;
  }
  if (bounds.length === 1 || bounds.length > 23) return null;
  bounds.push(token.length);
  let best: { text: string; from: number } | null = null;
  for (let a = 0; a < bounds.length - 1; a++) {
    const from = bounds[a]!;
    if (!isWord(token, from)) continue;
    for (let b = bounds.length - 1; b > a; b--) {
      if (a === 0 && b === bounds.length - 1) continue;
      const to = bounds[b]!;
      if (best && to - from <= best.text.length) break;
      if (!keys.mayHave(token, from, to)) continue;
      const text = token.slice(from, to);
      if (keys.has(text, field) && !(/^\d+$/.test(text) && !/[([{<:!=]$/.test(token.slice(0, from)))) {
        best = { text, from };
        break;
      }
    }
  }
  return best;
}

/** A key that a token begins or ends with, the rest a word joined on: `office_network`, `12 net`, `4/lan`; null for none. */
export function joined(token: string, keys: KeyTable, field: FieldData): { text: string; from: number } | null {
  if (token.length > 80) return null;
  const number = /^(\d+)[ /:@](\p{L}+)$/u.exec(token);
  if (number) return keys.has(number[1]!, field) && !isSetting(number[2]!) ? { text: number[1]!, from: 0 } : null;
  if (!/^[\p{L}\p{M}\p{N}_]+$/u.test(token)) {
    // Of a name with marks or blanks in it only what stands behind the last underscore.
    const head = /^(.+)_\p{L}+$/u.exec(token)?.[1];
    return head !== undefined && keys.has(head, field) ? { text: head, from: 0 } : null;
  }
  for (const { index } of token.matchAll(/_|(?<=[\p{Ll}\d])(?=\p{Lu})/gu)) {
    const after = index + (token[index] === '_' ? 1 : 0);
    const [head, tail] = [token.slice(0, index), token.slice(after)];
    if (head === '' || tail === '') continue;
    if (/^\p{L}+$/u.test(tail) && keys.has(head, field)) return { text: head, from: 0 };
    if (/^\p{L}+$/u.test(head) && keys.has(tail, field)) return { text: tail, from: after };
  }
  return null;
}

/** The only number of a token, where it is a key: `@4`, `-4 net`, `4/lan`; null for none. */
export function numberIn(token: string, keys: KeyTable, field: FieldData): { text: string; from: number } | null {
  if (token.length > 40) return null;
  const match = /^([^\d]*)(\d{1,9})([^\d]*)$/.exec(token);
  if (!match || /[\p{L}\p{M}_]$/u.test(match[1]!) || match[2]!.length === token.length) return null;
  return keys.has(match[2]!, field) ? { text: match[2]!, from: match[1]!.length } : null;
}

export function isWord(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  if (code < 128)
    return (code >= 48 && code <= 57) || (code >= 65 && code <= 90) || (code >= 97 && code <= 122) || code === 95;
  return /[\p{L}\p{M}\p{N}]/u.test(text[at]!) || (code >= 0xd800 && code <= 0xdfff);
}
