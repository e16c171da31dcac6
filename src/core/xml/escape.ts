/** References and escapes of XML 1.0: the five named ones (4.6) and characters by number (4.1). */
const named: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
const reference = /&(?:#x([0-9a-fA-F]+)|#([0-9]+)|(amp|lt|gt|quot|apos));|\r\n?|[\t\n]/g;

function resolve(
  match: string,
  hex: string | undefined,
  decimal: string | undefined,
  name: string | undefined,
  attribute: boolean,
): string {
  if (name !== undefined) return named[name]!;
  if (hex !== undefined) return String.fromCodePoint(Number.parseInt(hex, 16));
  if (decimal !== undefined) return String.fromCodePoint(Number.parseInt(decimal, 10));
  if (attribute) return ' ';
  return match === '\t' ? '\t' : '\n';
}

/**
 * Raw character data as the value that a reader gets. Text: line ends become LF (2.11). Attribute: every white space
 * that is written as itself becomes a blank (3.3.3).
 */
export function decodeReferences(raw: string, attribute: boolean): string {
  if (attribute ? !/[&\r\n\t]/.test(raw) : !/[&\r]/.test(raw)) return raw;
  return raw.replace(reference, (match, hex, decimal, name) => resolve(match, hex, decimal, name, attribute));
}

/** A function from an offset in the decoded value to the offset in `raw` that it came from. */
export function sourceOffsets(raw: string, attribute: boolean, cdata = false): (decoded: number) => number {
  if (!(cdata ? /\r\n/ : /&|\r\n/).test(raw)) return (decoded) => decoded;
  const pattern = cdata ? /\r\n/g : new RegExp(reference.source, 'g');
  return (decoded) => {
    let at = 0;
    let value = 0;
    for (const match of raw.matchAll(pattern)) {
      const plain = match.index - at;
      if (decoded <= value + plain) return at + (decoded - value);
      const made = cdata ? 1 : resolve(match[0], match[1], match[2], match[3], attribute).length;
      value += plain + made;
      at = match.index + match[0].length;
      if (decoded < value) return match.index;
    }
    return at + (decoded - value);
  };
}

/** Where a value is written, which decides how it is escaped. */
export type Context = 'text' | 'cdata' | '"' | "'";

/**
 * A value as source text for its place. `fits` tells whether the file's encoding holds a character; one that does not
 * fit is written by number, except in CDATA, where XML has no way to write it: then null.
 */
export function encodeValue(
  value: string,
  context: Context,
  fits: (char: string) => boolean = () => true,
): string | null {
  if (context === 'cdata') {
    for (const char of value) if (!fits(char)) return null;
    return value.replaceAll(']]>', ']]]]><![CDATA[>');
  }
  let out = '';
  for (const char of value) {
    if (char === '&') out += '&amp;';
    else if (char === '<') out += '&lt;';
    else if (char === '>') out += out.endsWith(']]') ? '&gt;' : '>';
    else if (char === context) out += char === '"' ? '&quot;' : '&apos;';
    else if (char === '\r' || (context !== 'text' && (char === '\n' || char === '\t')) || !fits(char)) {
      out += `&#x${char.codePointAt(0)!.toString(16).toUpperCase()};`;
    } else out += char;
  }
  return out;
}

/** True for a character that XML 1.0 allows in a document (2.2). */
export function isAllowed(code: number): boolean {
  return (
    code === 9 ||
    code === 10 ||
    code === 13 ||
    (code >= 0x20 && code <= 0xd7ff) ||
    (code >= 0xe000 && code <= 0xfffd) ||
    (code >= 0x10000 && code <= 0x10ffff)
  );
}
