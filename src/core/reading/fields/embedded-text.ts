import { textOfBytes } from '../../text/decode.ts';
import { type Look, lookOf } from '../../text/sniff.ts';
import { decodeBase64 } from '../../values/base64.ts';
import type { Embedded } from '../reading.ts';
import { formatOf } from './embedded.ts';

/** A document inside a value, unwrapped. */
export interface EmbeddedText {
  readonly what: 'xml' | 'json' | 'text' | Look;
  /** Null for data that nobody can read. */
  readonly text: string | null;
  /** Bytes where it was wrapped in base64 (RFC 4648), else units of text. */
  readonly size: number;
}

/** What a value holds that {@link formatOf} knows as a document. */
export function embeddedText(value: string, format: Embedded['format']): EmbeddedText {
  if (format === 'xml' || format === 'json') return { what: format, text: value, size: value.length };
  const bytes = decodeBase64(value) ?? new Uint8Array();
  if (format === 'base64-data') return { what: lookOf(bytes) ?? 'binary', text: null, size: bytes.length };
  const text = textOfBytes(bytes);
  if (text === null) return { what: 'binary', text, size: bytes.length };
  const inner = formatOf(text.trim());
  return { what: inner === 'xml' || inner === 'json' ? inner : 'text', text, size: bytes.length };
}
