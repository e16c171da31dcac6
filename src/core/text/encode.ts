import { bad, good, type Result } from '../trouble.ts';
import type { Decoded } from './decode.ts';
import { byteTable } from './encodings.ts';

declare class TextEncoder {
  encode(text: string): Uint8Array<ArrayBuffer>;
}

/** Text back to bytes, in the encoding and with the byte-order mark that the file had. */
export function encode(text: string, as: Pick<Decoded, 'encoding' | 'bom'>): Result<Uint8Array<ArrayBuffer>> {
  if (as.encoding === 'utf-8') return good(withMark(new TextEncoder().encode(text), as.bom ? [0xef, 0xbb, 0xbf] : []));
  const table = byteTable(as.encoding);
  if (table) {
    const bytes = new Uint8Array(text.length);
    const byteOf = new Map(
      Array.from(table, (unit, byte) => [unit, byte] as const).filter(([unit, byte]) => unit !== 0 || byte === 0),
    );
    for (let at = 0; at < text.length; at++) {
      const unit = text.charCodeAt(at);
      const byte = unit < 0x80 ? unit : byteOf.get(unit);
      if (byte === undefined)
        return bad({ code: 'character-does-not-fit', offset: at, params: { char: text[at]!, encoding: as.encoding } });
      bytes[at] = byte;
    }
    return good(bytes);
  }
  const bytes = new Uint8Array(text.length * 2);
  const little = as.encoding === 'utf-16le';
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    bytes[2 * at] = little ? unit & 0xff : unit >> 8;
    bytes[2 * at + 1] = little ? unit >> 8 : unit & 0xff;
  }
  return good(withMark(bytes, as.bom ? (little ? [0xff, 0xfe] : [0xfe, 0xff]) : []));
}

function withMark(bytes: Uint8Array<ArrayBuffer>, mark: number[]): Uint8Array<ArrayBuffer> {
  if (mark.length === 0) return bytes;
  const whole = new Uint8Array(mark.length + bytes.length);
  whole.set(mark);
  whole.set(bytes, mark.length);
  return whole;
}
