/** The encodings that a backup may be in. Labels follow the IANA register of character sets, aliases from memory. */
export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'iso-8859-1' | 'iso-8859-15' | 'windows-1252';

const labels: Record<string, Encoding | 'utf-16' | 'us-ascii'> = {
  'utf-8': 'utf-8',
  utf8: 'utf-8',
  'us-ascii': 'us-ascii',
  ascii: 'us-ascii',
  'utf-16': 'utf-16',
  'utf-16le': 'utf-16le',
  'utf-16be': 'utf-16be',
  'iso-10646-ucs-2': 'utf-16',
  'iso-8859-1': 'iso-8859-1',
  'iso_8859-1': 'iso-8859-1',
  latin1: 'iso-8859-1',
  l1: 'iso-8859-1',
  'iso-8859-15': 'iso-8859-15',
  'iso_8859-15': 'iso-8859-15',
  'latin-9': 'iso-8859-15',
  'windows-1252': 'windows-1252',
  cp1252: 'windows-1252',
};

export const encodingLabel = (label: string) => labels[label.toLowerCase()];

/** windows-1252 from 0x80 to 0x9F (Unicode's CP1252.TXT, from memory); 0 where the byte means nothing. */
const cp1252 = [
  0x20ac, 0, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0, 0x017d, 0, 0,
  0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0, 0x017e, 0x0178,
];
/** Where ISO-8859-15 differs from ISO-8859-1 (Unicode's 8859-15.TXT, from memory). */
const latin9: Record<number, number> = {
  0xa4: 0x20ac,
  0xa6: 0x0160,
  0xa8: 0x0161,
  0xb4: 0x017d,
  0xb8: 0x017e,
  0xbc: 0x0152,
  0xbd: 0x0153,
  0xbe: 0x0178,
};

/** For a one-byte encoding: the character of each byte, 0 where there is none. */
export function byteTable(encoding: Encoding): Uint16Array | null {
  if (encoding.startsWith('utf')) return null;
  return Uint16Array.from({ length: 256 }, (_, byte) => {
    if (encoding === 'windows-1252' && byte >= 0x80 && byte <= 0x9f) return cp1252[byte - 0x80]!;
    if (encoding === 'iso-8859-15') return latin9[byte] ?? byte;
    return byte;
  });
}

/** Whether the encoding can hold the character. */
export function fits(encoding: Encoding): (char: string) => boolean {
  const table = byteTable(encoding);
  if (!table) return () => true;
  const known = new Set(table);
  return (char) => char.length === 1 && known.has(char.charCodeAt(0));
}
