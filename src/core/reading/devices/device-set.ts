import type { FieldData } from '../fields/fields.ts';

/**
 * Network devices found by structure: a value that is a sibling's value, some marks and a sibling's number (`igb2.30`
 * beside `igb2` and `30`), or such a value elsewhere than the record that holds parent and number. The marks are learned
 * from the file; no list of them is needed.
 */
export interface Derivation {
  /** Shape of the records that hold parent and number. */
  readonly shape: number;
  readonly name: number | null;
  readonly parent: number | null;
  readonly tag: number;
}

export class Devices {
  /** Ports that stand alone. */
  readonly bases = new Set<string>();
  /** Derived devices by name. */
  readonly derived = new Map<string, { base: string; tag: number }>();
  /** Devices that have a name of their own: aggregates, tagged devices called by their number. */
  readonly named = new Map<string, { parent: string | null; tag: number | null }>();
  readonly separators = new Map<string, number>();
  readonly derivations: Derivation[] = [];
  /** Names that records without one are called by elsewhere: shape → name → row. */
  readonly composed = new Map<number, Map<string, number>>();
  /** Whether a table of ports was sure by itself, so that none has to be looked for. */
  tabled = false;
  /** What ports are called by in tables that are sure: these name nothing else. */
  readonly tables = new Set<FieldData>();
  /** How many ports have a form. */
  private readonly patterns = new Map<string, number>();
  /** First units of these, which rule out most tokens. */
  private readonly starts = new Set<number>();
  private readonly denied = new Set<string>();

  /** Takes a name out for good: someone who knows said that it is no device. */
  deny(name: string): void {
    this.denied.add(name);
    if (this.bases.delete(name)) this.count(name, -1);
    this.derived.delete(name);
    this.named.delete(name);
  }

  has(token: string): boolean {
    if (this.denied.has(token)) return false;
    return this.bases.has(token) || this.derived.has(token) || this.named.has(token) || this.split(token) !== null;
  }

  /** The port at the head of a derived name that no record defines: known port, known marks, digits. */
  split(token: string): { base: string; tag: number } | null {
    const known = this.derived.get(token);
    if (known) return known;
    // Most tokens do not end in a digit, and an expression would try each of their digits.
    const last = token.charCodeAt(token.length - 1);
    const digits = last >= 48 && last <= 57 ? /\d{1,4}$/.exec(token) : null;
    if (!digits) return null;
    for (const separator of this.separators.keys()) {
      const stem = token.slice(0, digits.index);
      if (!stem.endsWith(separator) || separator === '') continue;
      const base = stem.slice(0, stem.length - separator.length);
      if (this.bases.has(base)) return { base, tag: Number(digits[0]) };
    }
    return null;
  }

  addBase(name: string): void {
    if (this.bases.has(name) || this.derived.has(name) || this.denied.has(name)) return;
    this.bases.add(name);
    this.count(name, 1);
  }

  addDerived(name: string, base: string, tag: number): void {
    this.derived.set(name, { base, tag });
    if (this.bases.delete(name)) this.count(name, -1);
  }

  /** A device that is another, some marks, and a number. */
  derive(name: string, parent: string, marks: string, tag: number): void {
    this.addBase(parent);
    this.addDerived(name, parent, tag);
    this.separators.set(marks, (this.separators.get(marks) ?? 0) + 1);
  }

  matchesPattern(token: string): boolean {
    return this.starts.has(startOf(token)) && (this.patterns.get(formOf(token)) ?? 0) > 0;
  }

  private count(name: string, more: number): void {
    const pattern = formOf(name);
    this.patterns.set(pattern, (this.patterns.get(pattern) ?? 0) + more);
    this.starts.add(startOf(name));
  }
}

/**
 * Records that number themselves as the tags of the devices that they name are do not derive these: others do. And what else of
 * a record ends in the tag, where one of its names is made of a port and the tag, is no device: a key that counts by tags.
 */
export function dropEchoes({ derivations, derived, named }: Devices, fields: readonly FieldData[]): void {
  const isMade = ({ name }: Derivation) => name !== null && fields[name]!.distinct.some((value) => derived.has(value));
  const made = new Set(derivations.flatMap((one) => (isMade(one) ? [one.shape] : [])));
  const isCount = (one: Derivation) => one.name !== null && made.has(one.shape) && !isMade(one);
  for (const one of derivations.filter(isCount)) for (const name of fields[one.name!]!.distinct) named.delete(name);
  derivations.splice(0, derivations.length, ...derivations.filter((one) => !isCount(one)));
  const sure = new Set(
    derivations.flatMap(({ name, parent }) => (name === null || parent === null ? [] : fields[name]!.distinct)),
  );
  const isEcho = ({ name, parent }: Derivation) =>
    name !== null && parent === null && fields[name]!.distinct.some((value) => sure.has(value));
  derivations.splice(0, derivations.length, ...derivations.filter((one) => !isEcho(one)));
}

/** A name with its numbers left out: what is called `x1` is no port for one that is called `X1`. */
const formOf = (name: string): string => name.replace(/\d+/g, '#');

/** The unit that a form begins with: digits are one, letters are small. */
function startOf(token: string): number {
  const unit = token.charCodeAt(0);
  if (unit < 128) return unit >= 48 && unit <= 57 ? HASH : unit >= 65 && unit <= 90 ? unit + 32 : unit;
  return token.slice(0, 2).toLowerCase().charCodeAt(0);
}

const HASH = 35;
