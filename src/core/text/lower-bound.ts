/** Index of the first number or text that is not below `value`; they ascend, texts by their units. */
export function lowerBound<One extends number | string>(sorted: ArrayLike<One>, value: One): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
