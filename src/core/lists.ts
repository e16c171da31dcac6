/**
 * Lists of any length. Engines pass the arguments of a call on their stack, so `list.push(...more)` throws where `more` has
 * some hundred thousand.
 */

/** Puts more behind what a list holds. */
export function append<One>(list: One[], more: Iterable<One>): void {
  for (const one of more) list.push(one);
}

/** The largest of some numbers, -Infinity for none. */
export function largestOf(numbers: Iterable<number>): number {
  let largest = -Infinity;
  for (const number of numbers) if (number > largest) largest = number;
  return largest;
}

/** The least of some numbers, Infinity for none. */
export function leastOf(numbers: Iterable<number>): number {
  let least = Infinity;
  for (const number of numbers) if (number < least) least = number;
  return least;
}
