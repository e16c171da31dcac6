/** Lengths and ends of known texts: what has none of these is none of them, so it need not be cut out to be looked up. */
export class Forms {
  private readonly seen = new Uint8Array(1 << BITS);

  add(text: string): void {
    this.seen[formOf(text, 0, text.length)] = 1;
  }

  /** False where no text that was added has the length and the ends of [from, to). */
  mayHave(text: string, from: number, to: number): boolean {
    return this.seen[formOf(text, from, to)] === 1;
  }
}

const BITS = 16;

function formOf(text: string, from: number, to: number): number {
  const form = Math.imul(Math.imul(to - from, 31) + text.charCodeAt(from), 127) + text.charCodeAt(to - 1);
  return (form ^ (form >>> BITS)) & ((1 << BITS) - 1);
}

/** For a class of units whether each is in it: `at` is asked for one place of a text. */
export class Marks {
  private readonly ascii: Uint8Array;

  constructor(private readonly pattern: RegExp) {
    this.ascii = Uint8Array.from({ length: 128 }, (_, unit) => (pattern.test(String.fromCharCode(unit)) ? 1 : 0));
  }

  at(text: string, place: number): boolean {
    const unit = text.charCodeAt(place);
    return unit < 128 ? this.ascii[unit] === 1 : this.pattern.test(text[place]!);
  }

  /** The parts of a text between marks: calls back with the ends of each; returns how many runs of marks there are. */
  split(text: string, visit: (from: number, to: number) => void): number {
    // Most texts are one word, which an expression tells sooner.
    if (text.length > 0 && !this.pattern.test(text)) {
      visit(0, text.length);
      return 0;
    }
    let runs = 0;
    let from = 0;
    for (let place = 0; place <= text.length; place++) {
      if (place < text.length && !this.at(text, place)) continue;
      if (place > from) visit(from, place);
      if (place < text.length && (place === 0 || place > from)) runs++;
      from = place + 1;
    }
    return runs;
  }
}
