/**
 * A 64-bit mark of a text, as 16 hex digits: two FNV-1a-like lanes over UTF-16 units. It tells documents apart; it is no
 * protection against somebody who wants two to look the same.
 */
export function hashOf(text: string): string {
  let a = 0x811c9dc5;
  let b = 0x9e3779b9;
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    a = Math.imul(a ^ unit, 0x01000193);
    b = Math.imul(b ^ unit, 0x85ebca6b) ^ (b >>> 15);
  }
  a ^= a >>> 16;
  b ^= b >>> 13;
  return (a >>> 0).toString(16).padStart(8, '0') + (b >>> 0).toString(16).padStart(8, '0');
}
