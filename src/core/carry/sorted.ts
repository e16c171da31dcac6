/** Counting sort of edges by one of their ends. */
export function sorted(ends: ArrayLike<number>, size: number): { first: Int32Array; order: Int32Array } {
  const first = new Int32Array(size + 1);
  for (let edge = 0; edge < ends.length; edge++) first[ends[edge]! + 1]!++;
  for (let at = 0; at < size; at++) first[at + 1]! += first[at]!;
  const next = first.slice();
  const order = new Int32Array(ends.length);
  for (let edge = 0; edge < ends.length; edge++) order[next[ends[edge]!]!++] = edge;
  return { first, order };
}

/** Where flags are set. */
export function indicesOf(flags: Uint8Array): number[] {
  const set: number[] = [];
  for (let at = 0; at < flags.length; at++) if (flags[at]) set.push(at);
  return set;
}
