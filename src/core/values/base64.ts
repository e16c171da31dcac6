const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const sextet = new Int8Array(128).fill(-1);
for (let at = 0; at < 64; at++) sextet[letters.charCodeAt(at)] = at;
// RFC 4648, 5: the alphabet that is safe in URLs.
sextet[45] = 62;
sextet[95] = 63;

/** Space, tab, LF, CR. */
function isBlank(code: number): boolean {
  return code === 32 || code === 10 || code === 13 || code === 9;
}

/**
 * Bytes of base64 text (RFC 4648, 4 and 5), white space ignored, padding optional; null where anything else stands in it.
 * One pass, no copy of the text.
 */
export function decodeBase64(text: string, from = 0, to = text.length): Uint8Array | null {
  const bytes = new Uint8Array(Math.ceil(((to - from) * 3) / 4));
  let length = 0;
  let held = 0;
  let bits = 0;
  let padding = 0;
  for (let at = from; at < to; at++) {
    const code = text.charCodeAt(at);
    if (isBlank(code)) continue;
    if (code === 61) {
      padding++;
      continue;
    }
    const value = code < 128 ? sextet[code]! : -1;
    if (value < 0 || padding > 0) return null;
    held = (held << 6) | value;
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes[length++] = (held >> bits) & 255;
    }
  }
  return bits === 6 || padding > 2 ? null : bytes.subarray(0, length);
}

/** Base64 of bytes, padded, in one line (RFC 4648, 4). */
export function encodeBase64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 3) {
    const [a, b = 0, c = 0] = bytes.subarray(at, at + 3);
    const held = (a! << 16) | (b << 8) | c;
    const left = bytes.length - at;
    text += letters[held >> 18]! + letters[(held >> 12) & 63]!;
    text += left > 1 ? letters[(held >> 6) & 63]! : '=';
    text += left > 2 ? letters[held & 63]! : '=';
  }
  return text;
}

/**
 * Whether text could be base64, by a look at both ends and at no more than 64 units between them: cheap on a value of a
 * megabyte. Letters of one case alone, or digits alone, are not taken for it.
 */
export function looksBase64(text: string, least = 16): boolean {
  if (text.length < least) return false;
  const end = text.length;
  if (end < 128 && !(/[A-Z]/.test(text) && /[a-z]/.test(text) && /\d/.test(text))) return false;
  const step = Math.max(1, Math.floor(end / 64));
  let classes = 0;
  for (let next = 0; next < end + step; next += step) {
    const at = Math.min(next, end - 1);
    const code = text.charCodeAt(at);
    if (code === 61) {
      if (at < end - 2) return false;
    } else if (isBlank(code)) {
      // Lines of base64 are not this short, words are.
      if (at < 32) return false;
    } else if (code >= 128 || sextet[code]! < 0) return false;
    else classes |= code >= 97 ? 1 : code >= 65 ? 2 : 4;
  }
  return classes === 7;
}
