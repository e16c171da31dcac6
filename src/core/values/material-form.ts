import { decodeBase64, encodeBase64 } from './base64.ts';

/** A way to write certificates and keys: `escaped` with `\n` for line ends, `line` with blanks for them. */
export type MaterialForm = 'pem' | 'pem-escaped' | 'pem-line' | 'base64-pem' | 'base64' | 'hex';

/** What a value holds, as another one is written. */
export interface AsWritten {
  readonly form: MaterialForm;
  readonly value: string;
}

/** Text between the marks of RFC 7468, 2: label and base64. */
const block = /-----BEGIN ([^-\n]+)-----([\s\S]*?)-----END \1-----/g;

/**
 * Certificates or a key, as PEM (RFC 7468), written as the old value of the place is: so what reads the file finds what it
 * is used to. Null where the text is no PEM, or the old value is in none of the forms, or holds one structure where the text
 * has several.
 */
export function asWritten(old: string, text: string): AsWritten | null {
  const blocks = [...text.matchAll(block)].map(([, label, body]) => ({
    label: label!,
    body: body!.replace(/\s+/g, ''),
  }));
  if (blocks.length === 0 || blocks.some(({ body }) => decodeBase64(body) === null)) return null;
  const [before, after] = [/^\s*/.exec(old)![0], /\s*$/.exec(old)![0]];
  const around = (form: MaterialForm, value: string) => ({ form, value: `${before}${value}${after}` });
  const held = old.trim();
  const mark = /-----BEGIN [^-]+-----(\\n|\s+)/.exec(held);
  if (mark) {
    const [, gap] = mark as unknown as [string, string];
    const form = gap === '\\n' ? 'pem-escaped' : gap.includes('\n') ? 'pem' : 'pem-line';
    return around(form, pem(blocks, gap));
  }
  const bytes = decodeBase64(held);
  if (bytes && startsWith(bytes, '-----BEGIN ')) {
    const end = bytes[bytes.length - 1] === 10 ? '\n' : '';
    return around('base64-pem', wrapped(encodeBase64(ascii(`${pem(blocks, '\n')}${end}`)), held));
  }
  if (blocks.length > 1) return null;
  const { body } = blocks[0]!;
  // A structure of DER begins with 0x30 (X.690, 8.9).
  if (bytes?.[0] === 0x30) return around('base64', wrapped(body, held));
  if (/^30(?:[0-9a-f]{2})+$/i.test(held)) {
    const hex = Array.from(decodeBase64(body)!, (byte) => byte.toString(16).padStart(2, '0')).join('');
    return around('hex', /[A-F]/.test(held) ? hex.toUpperCase() : hex);
  }
  return null;
}

function pem(blocks: readonly { readonly label: string; readonly body: string }[], gap: string): string {
  // RFC 7468, 2: lines of 64.
  const lines = blocks.flatMap(({ label, body }) => [
    `-----BEGIN ${label}-----`,
    ...cut(body, 64),
    `-----END ${label}-----`,
  ]);
  return lines.join(gap);
}

/** In lines as long as those of another text, with what stands between them there. */
function wrapped(text: string, like: string): string {
  const gap = /\s+/.exec(like);
  return gap ? cut(text, gap.index).join(gap[0]) : text;
}

const cut = (text: string, length: number): string[] => text.match(new RegExp(`.{1,${length}}`, 'g')) ?? [];

const ascii = (text: string) => Uint8Array.from(text, (char) => char.charCodeAt(0));

const startsWith = (bytes: Uint8Array, text: string) => ascii(text).every((byte, at) => bytes[at] === byte);
