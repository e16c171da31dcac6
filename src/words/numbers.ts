const whole = new Intl.NumberFormat('en');

export const number = (amount: number): string => whole.format(amount);

/** `1 record`, `2 records`, `no records`. */
export function count(amount: number, noun: string, plural = `${noun}s`): string {
  return `${amount === 0 ? 'no' : number(amount)} ${amount === 1 ? noun : plural}`;
}

/** For a list that shows a page at a time. */
export const more = (page: number, rest: number): string =>
  `Show ${number(Math.min(page, rest))} more of ${number(rest)}`;

/** A number with its verb's ending: `names` for one, `name` for many. */
export const verb = (amount: number, one: string, many: string): string => (amount === 1 ? one : many);

/** Bytes in decimal units (IEC 80000-13): `31.5 kB`, `10.2 MB`. */
export function size(bytes: number): string {
  if (bytes < 1000) return count(bytes, 'byte');
  const [amount, unit] = bytes < 999_950 ? [bytes / 1e3, 'kB'] : [bytes / 1e6, 'MB'];
  return `${amount < 100 ? amount.toFixed(1) : number(Math.round(amount))} ${unit}`;
}

/** `a`, `a and b`, `a, b and c`; past `most`, `a, b and 7 more`. */
export function list(items: readonly string[], most = 4): string {
  const shown =
    items.length > most ? [...items.slice(0, most - 1), `${number(items.length - most + 1)} more`] : [...items];
  const last = shown.pop() ?? '';
  return shown.length ? `${shown.join(', ')} and ${last}` : last;
}

/** Whole numbers in order, those that follow each other as one: `3, 5–9`; of many pieces the first `most`. */
export function ranges(numbers: readonly number[], most = 6): string {
  const pieces: [first: number, last: number][] = [];
  for (const one of [...new Set(numbers)].sort((a, b) => a - b)) {
    const piece = pieces.at(-1);
    if (piece && one === piece[1] + 1) piece[1] = one;
    else pieces.push([one, one]);
  }
  const shown = pieces.slice(0, most).map(([first, last]) => (first === last ? `${first}` : `${first}–${last}`));
  return `${shown.join(', ')}${pieces.length > most ? ' …' : ''}`;
}

const encodings: Record<string, string> = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16, little-endian',
  'utf-16be': 'UTF-16, big-endian',
  'iso-8859-1': 'ISO 8859-1',
  'iso-8859-15': 'ISO 8859-15',
  'windows-1252': 'windows-1252',
};

export const encodingName = (encoding: string): string => encodings[encoding] ?? encoding;
