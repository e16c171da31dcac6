/** A value in the Distinguished Encoding Rules (ITU-T X.690, 8.1): its tag octet and the spans of the whole and the content. */
export interface Der {
  readonly bytes: Uint8Array;
  readonly tag: number;
  readonly start: number;
  /** First octet of the content. */
  readonly from: number;
  /** One past the last octet. */
  readonly to: number;
}

export const Tag = {
  integer: 0x02,
  bitString: 0x03,
  octetString: 0x04,
  oid: 0x06,
  sequence: 0x30,
  set: 0x31,
  /** Context-specific and constructed, [0] and [1]. */
  context0: 0xa0,
  context1: 0xa1,
} as const;

/** The value at `start`, which must end at or before `end`; null where the octets are no such thing. */
export function readDer(bytes: Uint8Array, start = 0, end = bytes.length): Der | null {
  if (start + 2 > end) return null;
  const tag = bytes[start]!;
  // High tag numbers do not occur in keys and certificates.
  if ((tag & 0x1f) === 0x1f) return null;
  let from = start + 2;
  let length = bytes[start + 1]!;
  if (length > 0x80) {
    const octets = length & 0x7f;
    if (octets > 4 || from + octets > end) return null;
    length = 0;
    for (let at = 0; at < octets; at++) length = length * 256 + bytes[from++]!;
  } else if (length === 0x80) return null;
  const to = from + length;
  return to <= end ? { bytes, tag, start, from, to } : null;
}

/** The values inside a constructed one; null where they do not fill it exactly. */
export function childrenOf(outer: Der): readonly Der[] | null {
  const inner: Der[] = [];
  for (let at = outer.from; at < outer.to; ) {
    const next = readDer(outer.bytes, at, outer.to);
    if (!next) return null;
    inner.push(next);
    at = next.to;
  }
  return inner;
}

/** The octets of a value's content. */
export function contentOf(value: Der): Uint8Array {
  return value.bytes.subarray(value.from, value.to);
}

/** The octets of the whole value, tag and length included. */
export function wholeOf(value: Der): Uint8Array {
  return value.bytes.subarray(value.start, value.to);
}

/** An object identifier in dotted decimal (X.690, 8.19). */
export function oidOf(value: Der): string {
  const numbers: number[] = [];
  let number = 0;
  for (const octet of contentOf(value)) {
    number = number * 128 + (octet & 0x7f);
    if (octet & 0x80) continue;
    if (numbers.length === 0) {
      const first = Math.min(2, Math.floor(number / 40));
      numbers.push(first, number - first * 40);
    } else numbers.push(number);
    number = 0;
  }
  return numbers.join('.');
}
