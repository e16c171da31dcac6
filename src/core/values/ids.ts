/** RFC 9562, 4: 8-4-4-4-12 hexadecimal digits; braces around it are allowed. */
export function isUuid(text: string): boolean {
  return text.length === 36 ? uuid.test(text) : text.length === 38 && inBraces.test(text);
}

const uuid = /^[0-9a-fA-F]{8}-(?:[0-9a-fA-F]{4}-){3}[0-9a-fA-F]{12}$/;
const inBraces = /^\{[0-9a-fA-F]{8}-(?:[0-9a-fA-F]{4}-){3}[0-9a-fA-F]{12}\}$/;

/** Hexadecimal digits only, `least` or more of them. */
export function isHex(text: string, least = 1): boolean {
  return text.length >= least && /^(?:[0-9a-f]+|[0-9A-F]+)$/.test(text);
}

/**
 * Looks drawn by chance rather than thought up: one word of mixed character classes that changes class often. The
 * measure is changes of class (lower, upper, digit, mark) between neighbours, a capital that begins a word counted once:
 * words change once or twice, draws in nearly every second place.
 */
export function looksDrawn(text: string, least = 10): boolean {
  if (text.length < least || text.length > 512) return false;
  let changes = 0;
  let classes = 0;
  let before = -1;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code > 126 || code <= 32 || code === 64) return false;
    // Dashes, dots and underscores join words.
    if (code === 45 || code === 46 || code === 95) continue;
    const kind = code >= 97 && code <= 122 ? 0 : code >= 65 && code <= 90 ? 1 : code >= 48 && code <= 57 ? 2 : 3;
    classes |= 1 << kind;
    if (at > 0 && kind !== before && !(before === 1 && kind === 0)) changes++;
    before = kind;
  }
  const share = changes / text.length;
  if ((classes & 7) === 7) return share >= (text.length >= 16 ? 0.22 : 0.3);
  if ((classes & 3) !== 3 || text.length < 16) return false;
  return share >= 0.3 || (share >= 0.12 && unspeakable.test(text)) || (share >= 0.2 && hardlySpeakable.test(text));
}

/** Five consonants on end, which no word that is made up of words has but by its seams. */
const unspeakable = /[bcdfghjklmnpqrstvwxz]{5}/i;
const hardlySpeakable = /[bcdfghjklmnpqrstvwxyz]{5}/i;
