import { lowerBound } from './lower-bound.ts';

/** Texts by what they begin with. */
export class Prefixes {
  private readonly places: ReadonlyMap<string, number>;
  private readonly sorted: readonly string[];

  /** @param texts none of which comes twice. */
  constructor(texts: Iterable<string>) {
    this.places = new Map([...texts].map((text, place) => [text, place]));
    this.sorted = [...this.places.keys()].sort();
  }

  /** Those that begin with a text, in the order in which they were given. */
  startingWith(start: string): string[] {
    const from = lowerBound(this.sorted, start);
    let to = from;
    while (to < this.sorted.length && this.sorted[to]!.startsWith(start)) to++;
    return this.sorted.slice(from, to).sort((a, b) => this.places.get(a)! - this.places.get(b)!);
  }
}
