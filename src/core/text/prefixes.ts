/** Texts by what they begin with. */
export class Prefixes {
  private readonly sorted: readonly (readonly [text: string, place: number])[];

  constructor(texts: Iterable<string>) {
    this.sorted = [...texts]
      .map((text, place) => [text, place] as const)
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  }

  /** Those that begin with a text, in the order in which they were given. */
  startingWith(start: string): string[] {
    let low = 0;
    let high = this.sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.sorted[middle]![0] < start) low = middle + 1;
      else high = middle;
    }
    let to = low;
    while (to < this.sorted.length && this.sorted[to]![0].startsWith(start)) to++;
    return this.sorted
      .slice(low, to)
      .sort(([, a], [, b]) => a - b)
      .map(([text]) => text);
  }
}
