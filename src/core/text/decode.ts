import { bad, good, type Result } from '../trouble.ts';
import { byteTable, type Encoding, encodingLabel } from './encodings.ts';
import { lookOf } from './sniff.ts';

/** Part of every JavaScript environment; declared here since the core knows no page. */
declare class TextDecoder {
  constructor(label: string, options: { fatal: boolean; ignoreBOM: boolean });
  decode(bytes: Uint8Array): string;
}

/** A decoded file. `encode` makes the same bytes of it again. */
export interface Decoded {
  /** The document without its byte-order mark; line ends as they were. */
  readonly text: string;
  readonly encoding: Encoding;
  readonly bom: boolean;
  /** The encoding that the XML declaration names, as written; null where it names none. */
  readonly declared: string | null;
}

/** 200 MiB: a quarter of a billion units would meet the engines' own limit for one string. */
export const MAX_BYTES = 200 * 1024 * 1024;

const declaration = /^<\?xml\s[^>]*?encoding\s*=\s*["']([A-Za-z0-9._:-]+)["']/;

/** Bytes to text: by byte-order mark, then by declaration, else UTF-8. A byte that does not fit is an error. */
export function decode(bytes: Uint8Array): Result<Decoded> {
  if (bytes.length === 0) return bad({ code: 'empty-file' });
  if (bytes.length > MAX_BYTES) {
    return bad({ code: 'too-large', params: { size: bytes.length, limit: MAX_BYTES } });
  }
  const mark = markOf(bytes);
  const wide = mark?.encoding.startsWith('utf-16') ? mark.encoding : wideWithoutMark(bytes);
  if (!mark && !wide) {
    const look = lookOf(bytes);
    if (look) return bad({ code: 'other-format', params: { look } });
  }
  const body = mark ? bytes.subarray(mark.length) : bytes;
  const declared = declarationOf(body, wide);
  const named = declared === null ? undefined : encodingLabel(declared);
  if (mark || wide) {
    const encoding = mark?.encoding ?? wide!;
    const text = read(body, encoding, mark?.length ?? 0);
    return text.ok ? good({ text: text.value, encoding, bom: mark !== null, declared }) : text;
  }
  if (declared !== null && named === undefined) return bad({ code: 'encoding-unknown', params: { label: declared } });
  if (named?.startsWith('utf-16')) {
    return bad({ code: 'encoding-contradicts', params: { label: declared!, found: 'one byte a character' } });
  }
  const encoding = named === undefined || named === 'us-ascii' ? 'utf-8' : (named as Encoding);
  const text = read(body, encoding, 0);
  return text.ok ? good({ text: text.value, encoding, bom: false, declared }) : text;
}

/** Bytes as UTF-8, or where a byte does not fit as windows-1252; null where it fits neither. */
export function textOfBytes(bytes: Uint8Array): string | null {
  const text = readUtf8(bytes, 0);
  if (text.ok) return text.value;
  const one = readBytes(bytes, 'windows-1252');
  return one.ok ? one.value : null;
}

function markOf(bytes: Uint8Array): { encoding: Encoding; length: number } | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return { encoding: 'utf-8', length: 3 };
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { encoding: 'utf-16le', length: 2 };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { encoding: 'utf-16be', length: 2 };
  return null;
}

/** UTF-16 shows without a mark by the zero beside the first `<` (XML 1.0, appendix F.1). */
function wideWithoutMark(bytes: Uint8Array): Encoding | null {
  if (bytes[0] === 0x3c && bytes[1] === 0 && bytes[2] !== 0 && bytes[3] === 0) return 'utf-16le';
  if (bytes[0] === 0 && bytes[1] === 0x3c && bytes[2] === 0 && bytes[3] !== 0) return 'utf-16be';
  return null;
}

function declarationOf(body: Uint8Array, wide: Encoding | null): string | null {
  const first = wide ? (wide === 'utf-16le' ? 0 : 1) : 0;
  let head = '';
  for (let at = first; at < body.length && head.length < 400; at += wide ? 2 : 1)
    head += String.fromCharCode(body[at]!);
  return declaration.exec(head)?.[1] ?? null;
}

function read(body: Uint8Array, encoding: Encoding, offset: number): Result<string> {
  if (encoding === 'utf-8') return readUtf8(body, offset);
  return encoding.startsWith('utf-16') ? readUtf16(body, encoding === 'utf-16le', offset) : readBytes(body, encoding);
}

function readUtf8(body: Uint8Array, offset: number): Result<string> {
  try {
    return good(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(body));
  } catch {
    return bad({ code: 'byte-does-not-fit', ...placeOf(body, badUtf8(body), offset, 'utf-8') });
  }
}

/** Index of the first byte that is no UTF-8 (RFC 3629, section 4). */
function badUtf8(body: Uint8Array): number {
  let at = 0;
  while (at < body.length) {
    const lead = body[at]!;
    const tail =
      lead < 0x80
        ? 0
        : lead >= 0xc2 && lead <= 0xdf
          ? 1
          : lead >> 4 === 0xe
            ? 2
            : lead >= 0xf0 && lead <= 0xf4
              ? 3
              : -1;
    if (tail === -1) return at;
    for (let k = 1; k <= tail; k++) {
      const next = body[at + k];
      const low = k === 1 && lead === 0xe0 ? 0xa0 : k === 1 && lead === 0xf0 ? 0x90 : 0x80;
      const high = k === 1 && lead === 0xed ? 0x9f : k === 1 && lead === 0xf4 ? 0x8f : 0xbf;
      if (next === undefined || next < low || next > high) return at;
    }
    at += tail + 1;
  }
  return body.length;
}

const CHUNK = 8192;

function readUtf16(body: Uint8Array, little: boolean, offset: number): Result<string> {
  if (body.length % 2)
    return bad({
      code: 'byte-does-not-fit',
      offset: offset + body.length - 1,
      params: { byte: body.at(-1)!, encoding: 'UTF-16' },
    });
  const units = new Uint16Array(body.length / 2);
  for (let at = 0; at < units.length; at++) {
    units[at] = little ? body[2 * at]! | (body[2 * at + 1]! << 8) : (body[2 * at]! << 8) | body[2 * at + 1]!;
  }
  for (let at = 0; at < units.length; at++) {
    const unit = units[at]!;
    if (unit < 0xd800 || unit > 0xdfff) continue;
    const next = units[at + 1] ?? 0;
    if (unit > 0xdbff || next < 0xdc00 || next > 0xdfff) {
      return bad({ code: 'byte-does-not-fit', ...placeOf(body, 2 * at, offset, little ? 'utf-16le' : 'utf-16be') });
    }
    at++;
  }
  return good(joinUnits(units));
}

function readBytes(body: Uint8Array, encoding: Encoding): Result<string> {
  const table = byteTable(encoding)!;
  const units = new Uint16Array(body.length);
  for (let at = 0; at < body.length; at++) {
    const unit = table[body[at]!]!;
    if (unit === 0 && body[at] !== 0) return bad({ code: 'byte-does-not-fit', ...placeOf(body, at, 0, encoding) });
    units[at] = unit;
  }
  return good(joinUnits(units));
}

function joinUnits(units: Uint16Array): string {
  const parts: string[] = [];
  for (let at = 0; at < units.length; at += CHUNK) {
    parts.push(String.fromCharCode.apply(null, units.subarray(at, at + CHUNK) as unknown as number[]));
  }
  return parts.join('');
}

function placeOf(body: Uint8Array, at: number, offset: number, encoding: Encoding) {
  const wide = encoding.startsWith('utf-16');
  let line = 1;
  let column = 1;
  for (let k = 0; k < at; k += wide ? 2 : 1) {
    const unit = wide
      ? encoding === 'utf-16le'
        ? body[k]! | (body[k + 1]! << 8)
        : (body[k]! << 8) | body[k + 1]!
      : body[k]!;
    if (unit === 10 || (unit === 13 && body[k + 1] !== 10)) {
      line++;
      column = 1;
    } else if (encoding !== 'utf-8' || (unit & 0xc0) !== 0x80) column++;
  }
  return { offset: offset + at, line, column, params: { byte: body[at] ?? 0, encoding } };
}
