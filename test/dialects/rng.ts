/** A small seeded source of chance. Forks are named, so one choice never shifts another. */
export class Rng {
  private state: number;

  constructor(private readonly seed: string) {
    this.state = hash(seed) || 1;
  }

  /** An independent stream for one purpose; the same name gives the same stream. */
  fork(name: string): Rng {
    return new Rng(`${this.seed}/${name}`);
  }

  /** Uniform in [0, 1): mulberry32. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  /** A whole number from low to high, both included. */
  int(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }

  chance(p: number): boolean {
    return this.next() < p;
  }

  pick<T>(items: readonly T[]): T {
    return items[Math.floor(this.next() * items.length)] as T;
  }

  shuffle<T>(items: readonly T[]): T[] {
    const out = [...items];
    for (let i = out.length - 1; i > 0; i--) {
      const j = this.int(0, i);
      [out[i], out[j]] = [out[j] as T, out[i] as T];
    }
    return out;
  }

  sample<T>(items: readonly T[], count: number): T[] {
    return this.shuffle(items).slice(0, count);
  }

  hex(digits: number): string {
    let out = '';
    while (out.length < digits) out += Math.floor(this.next() * 16).toString(16);
    return out;
  }

  text(length: number, letters: string): string {
    let out = '';
    while (out.length < length) out += letters[Math.floor(this.next() * letters.length)];
    return out;
  }
}

/** FNV-1a, finished with an avalanche, over UTF-16 units. */
function hash(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
