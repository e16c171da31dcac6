import type { FieldData } from '../fields/fields.ts';
import { patternOf } from '../names/literals.ts';
import type { Reader } from '../names/tokens.ts';
import { bareName } from './composed-devices.ts';

/** A name that ends in a number, as devices have: `port 3`, `P1`, `0/4`, `1:2`, `jack07`, `p1-4`, `sfp+1`. */
const numbered =
  /^(?:\p{L}[\p{L}+.-]{0,14} ?\d{1,3}(?:[/.:-]\d{1,3})*|\p{L}[\p{L}-]*\d+(?:\p{L}+\d+)*|\d{1,2}(?:[/:]\d{1,3})+)$/u;

const capitals = /^\p{Lu}{2,5}$/u;

/** The names of a field, without the word for their kind where each has one; of names of records it is cut off already. */
export function namesIn({ index, distinct }: FieldData, readers: readonly Reader[]): readonly string[] {
  const { tokens } = readers[index]!.counts;
  const areBehindWords = (names: readonly string[]) => names.every((name) => bareName(name) !== name);
  return areBehindWords(tokens) || areBehindWords(distinct) ? tokens.map(bareName) : tokens;
}

/**
 * @param forms how many forms the names may have.
 * @param isKnown whether a name is that of a device, whatever its form.
 */
export function isNumbered(
  field: FieldData,
  readers: readonly Reader[],
  forms = 2,
  isKnown: (name: string) => boolean = () => false,
): boolean {
  let all = 0;
  let good = 0;
  let lone = 0;
  const patterns = new Set<string>();
  for (const token of namesIn(field, readers)) {
    all++;
    if (isKnown(token)) {
      good++;
      continue;
    }
    if (!numbered.test(token)) {
      if (capitals.test(token)) lone++;
      continue;
    }
    good++;
    patterns.add(patternOf(token));
    if (all > 200) break;
  }
  // One of its kind has no number: `WAN` beside `LAN1`, `LAN2`.
  const named = lone <= 2 && good > lone * 2 ? good + lone : good;
  return all > 0 && named >= all * 0.8 && patterns.size <= Math.max(forms, all / 4);
}

/** Numbered names of one form, each once. */
export const areNumbersOfOne = (tokens: readonly string[]): boolean =>
  new Set(tokens).size === tokens.length &&
  tokens.every((token) => numbered.test(token) && patternOf(token) === patternOf(tokens[0]!));
