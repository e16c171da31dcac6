import { attributeValue, textOf } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';

/** Longer values hold no names: certificates, archives. They are not looked up, so they need not be unique. */
const LONG = 200;
const nothing = /^(?:null|nil|\\N)$/i;

export interface Padded {
  readonly texts: Uint8Array;
  readonly attributes: Uint8Array;
}

/**
 * The distinct values of a document, by number. A value is found by its units in the source text, so that the many
 * places that repeat one make no string of their own.
 */
export class ValuePool {
  /** Decoded and trimmed, each text once (long ones may repeat). */
  readonly values: string[] = [];
  /** Open addressing: number of a value plus one, 0 for a free slot. */
  private slots = new Int32Array(1 << 10);
  private used = 0;
  /** By value: its hash, and its first unit in the source; -1 where the source writes it in another way. */
  private readonly hashes: number[] = [];
  private readonly starts: number[] = [];

  /** By what is written the number of what is meant, where these differ and nothing else stands there. */
  private readonly decoded = [new Map<string, number>(), new Map<string, number>()] as const;

  /** Which values have white space around them: 1 by the element of a text, and by attribute. */
  readonly padded: Padded;

  constructor(private readonly tree: Tree) {
    this.padded = { texts: new Uint8Array(tree.size), attributes: new Uint8Array(tree.attrName.length) };
  }

  /** Number of an element's own text; -1 for none. */
  ofText(node: number): number {
    const { tree } = this;
    if (tree.after[node] !== node + 1) return this.ofString(textOf(tree, node));
    const [start, end] = [tree.openEnd[node]!, tree.closeStart[node]!];
    if (this.isPadded(start, end)) this.padded.texts[node] = 1;
    const value = this.ofSpan(start, end, false);
    return value === OTHER ? this.ofWritten(start, end, false, () => textOf(tree, node)) : value;
  }

  /** Number of an attribute's value; -1 for none. */
  ofAttribute(attr: number): number {
    const { tree } = this;
    const [start, end] = [tree.valueStart[attr]!, tree.valueEnd[attr]!];
    if (this.isPadded(start, end)) this.padded.attributes[attr] = 1;
    const value = this.ofSpan(start, end, true);
    return value === OTHER ? this.ofWritten(start, end, true, () => attributeValue(tree, attr)) : value;
  }

  private ofWritten(start: number, end: number, attribute: boolean, meant: () => string): number {
    if (end - start > LONG) return this.ofString(meant());
    const written = this.tree.text.slice(start, end);
    const known = this.decoded[attribute ? 1 : 0];
    let value = known.get(written);
    if (value === undefined) {
      value = this.ofString(meant());
      known.set(written, value);
    }
    return value;
  }

  private isPadded(start: number, end: number): boolean {
    const { text } = this.tree;
    return start < end && (isBlank(text.charCodeAt(start)) || isBlank(text.charCodeAt(end - 1)));
  }

  /** Number of a text that is a part of a value; -1 for none. */
  ofString(text: string): number {
    const value = text.trim();
    if (value === '' || isNothing(value)) return -1;
    if (value.length > LONG) return this.add(value, 0, -1);
    let hash = SEED;
    for (let at = 0; at < value.length; at++) hash = Math.imul(hash ^ value.charCodeAt(at), PRIME);
    const slot = this.find(hash, (known) => this.values[known] === value);
    return slot < 0 ? this.slots[~slot]! - 1 : this.add(value, hash, -1, slot);
  }

  /** As `ofString` for a span that is written as it is meant; OTHER for one that has to be decoded. */
  private ofSpan(start: number, end: number, attribute: boolean): number {
    const { text } = this.tree;
    let from = start;
    let to = end;
    while (from < to && isBlank(text.charCodeAt(from))) from++;
    while (from < to && isBlank(text.charCodeAt(to - 1))) to--;
    if (from >= to) return -1;
    if (isWide(text.charCodeAt(from)) || isWide(text.charCodeAt(to - 1))) return OTHER;
    let hash = SEED;
    for (let at = from; at < to; at++) {
      const unit = text.charCodeAt(at);
      if (unit === 38 || unit === 13 || (attribute && (unit === 9 || unit === 10))) return OTHER;
      hash = Math.imul(hash ^ unit, PRIME);
    }
    const length = to - from;
    if (length > LONG) return this.add(text.slice(from, to), 0, -1);
    const { slots, hashes, starts, values } = this;
    const mask = slots.length - 1;
    let slot = mix(hash) & mask;
    for (; slots[slot] !== 0; slot = (slot + 1) & mask) {
      const known = slots[slot]! - 1;
      if (hashes[known] !== hash || values[known]!.length !== length) continue;
      const first = starts[known]!;
      if (first === -1) {
        if (values[known] === text.slice(from, to)) return known;
        continue;
      }
      let at = 0;
      while (at < length && text.charCodeAt(first + at) === text.charCodeAt(from + at)) at++;
      if (at === length) return known;
    }
    const value = text.slice(from, to);
    return isNothing(value) ? -1 : this.add(value, hash, from, slot);
  }

  /** The free slot for a hash, or the complement of the slot whose value fits. */
  private find(hash: number, fits: (known: number) => boolean): number {
    const mask = this.slots.length - 1;
    let slot = mix(hash) & mask;
    for (; this.slots[slot] !== 0; slot = (slot + 1) & mask) {
      const known = this.slots[slot]! - 1;
      if (this.hashes[known] === hash && fits(known)) return ~slot;
    }
    return slot;
  }

  private add(value: string, hash: number, start: number, slot = -1): number {
    const known = this.values.push(value) - 1;
    this.hashes.push(hash);
    this.starts.push(start);
    if (slot === -1) return known;
    this.slots[slot] = known + 1;
    if (++this.used * 2 > this.slots.length) this.grow();
    return known;
  }

  private grow(): void {
    const before = this.slots;
    this.slots = new Int32Array(before.length * 4);
    const mask = this.slots.length - 1;
    for (const entry of before) {
      if (entry === 0) continue;
      let slot = mix(this.hashes[entry - 1]!) & mask;
      while (this.slots[slot] !== 0) slot = (slot + 1) & mask;
      this.slots[slot] = entry;
    }
  }
}

/** The value is not written in the source as it is meant: it has references, or line ends to make alike. */
const OTHER = -2;
/** Offset and prime of the hash (FNV-1a, 32 bits, from memory); the low bits are mixed with the high ones. */
const SEED = 0x811c9dc5 | 0;
const PRIME = 0x01000193;
const mix = (hash: number) => hash ^ (hash >>> 15);

const isBlank = (unit: number) => unit === 32 || (unit >= 9 && unit <= 13);
/** May be white space beyond ASCII, which `trim` knows. */
const isWide = (unit: number) =>
  unit === 0xa0 || unit === 0xfeff || unit === 0x3000 || unit === 0x1680 || (unit >= 0x2000 && unit <= 0x205f);

function isNothing(value: string): boolean {
  return value.length <= 4 && nothing.test(value);
}
