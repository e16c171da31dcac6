/**
 * Spellings of yes and no that languages of the trade use. From memory; a field counts as boolean by its values' count
 * and pairing, so a spelling that is missing here costs little.
 */
const pairs: readonly (readonly [yes: string, no: string])[] = [
  ['true', 'false'],
  ['yes', 'no'],
  ['on', 'off'],
  ['1', '0'],
  ['enabled', 'disabled'],
  ['enable', 'disable'],
  ['active', 'inactive'],
  ['up', 'down'],
  ['y', 'n'],
  ['t', 'f'],
  ['ja', 'nein'],
  ['an', 'aus'],
  ['ein', 'aus'],
  ['si', 'no'],
  ['sí', 'no'],
  ['oui', 'non'],
  ['hai', 'iie'],
  ['да', 'нет'],
  ['вкл', 'выкл'],
  ['ναι', 'όχι'],
  ['是', '否'],
  ['有効', '無効'],
  ['启用', '停用'],
];
const meaning = new Map<string, boolean>();
for (const [yes, no] of pairs) meaning.set(yes, true).set(no, false);

/** Null for a value that is no spelling of yes or no. */
export function parseBoolean(text: string): boolean | null {
  if (text.length > 8) return null;
  return meaning.get(text.toLowerCase()) ?? null;
}

/** True where the two values are the two sides of one pair. */
export function isBooleanPair(one: string, other: string): boolean {
  const [a, b] = [one.toLowerCase(), other.toLowerCase()];
  return pairs.some(([yes, no]) => (a === yes && b === no) || (a === no && b === yes));
}

/** The other side of a pair, in the letter case of the one given; null for no spelling of yes or no. */
export function otherBoolean(text: string): string | null {
  const lower = text.toLowerCase();
  const pair = pairs.find((one) => one.includes(lower));
  if (!pair || text.length > 8) return null;
  const other = pair[0] === lower ? pair[1] : pair[0];
  if (text === lower) return other;
  return text === text.toUpperCase() ? other.toUpperCase() : other[0]!.toUpperCase() + other.slice(1);
}
