import type { FieldData } from '../fields/fields.ts';
import { Forms } from '../names/forms.ts';
import { type Kind, kindOf } from '../names/literals.ts';
import type { Contexts } from './contexts.ts';

/** A field whose values tell the records of one shape apart, so that other fields may name them by it. */
export interface KeyField {
  readonly index: number;
  readonly field: FieldData;
  readonly shape: number;
  /** How much it looks like the identifier of its records; the best of a shape is what people mean. */
  readonly strength: number;
  readonly best: boolean;
  /** The best of its shape among keys of its kind. */
  readonly bestOfKind: boolean;
  /** The kind most values have. */
  readonly kind: Kind;
  readonly rows: number;
  /** The shape of the records inside which alone the values tell apart, see contexts.ts; -1 for the whole document. */
  readonly scope: number;
  /** VLAN IDs: these count by themselves, so that a number is one says nothing of others. */
  readonly vlans: boolean;
}

/** Which records a token names. Entries of one token are chained. */
export class KeyTable {
  readonly keys: KeyField[] = [];
  private readonly heads = new Map<string, number>();
  private readonly chain: number[] = [];
  private readonly keyOf: number[] = [];
  private readonly rows: number[] = [];
  /** For each entry the next one of its chain that another field has, -1 for none. */
  private readonly elsewhere: number[] = [];
  /** By token the first two fields that have it as the best key of their records; a token may be a key in very many. */
  private readonly bests = new Map<string, readonly FieldData[]>();
  /** By length, first and last unit, whether a token of that kind may be a key. */
  private readonly forms = new Forms();

  constructor(private readonly contexts: Contexts) {}

  add(key: KeyField, tokens: readonly string[], rows: readonly number[]): void {
    this.keys.push(key);
    for (let at = 0; at < tokens.length; at++) {
      const token = tokens[at]!;
      const entry = this.keyOf.push(key.index) - 1;
      const next = this.heads.get(token) ?? -1;
      this.rows.push(rows[at]!);
      this.chain.push(next);
      this.elsewhere.push(next === -1 || this.fieldOf(next) !== key.field ? next : this.elsewhere[next]!);
      this.heads.set(token, entry);
      this.forms.add(token);
    }
  }

  /** True where a field other than the given one has the token as a key. */
  has(token: string, except: FieldData | null = null): boolean {
    const entry = this.heads.get(token) ?? -1;
    if (entry === -1) return false;
    return except === null || this.fieldOf(entry) !== except || this.elsewhere[entry] !== -1;
  }

  /** True where a field other than the given one has the token as the best key of its records. */
  isBestOf(token: string, except: FieldData): boolean {
    let fields = this.bests.get(token);
    if (!fields) {
      const found = new Set<FieldData>();
      for (let entry = this.heads.get(token) ?? -1; entry !== -1 && found.size < 2; entry = this.elsewhere[entry]!)
        if (this.keys[this.keyOf[entry]!]!.best) found.add(this.fieldOf(entry));
      fields = [...found];
      this.bests.set(token, fields);
    }
    return fields.some((field) => field !== except);
  }

  /** False where no key has the length and the ends of a part of a text: saves cutting it out to look it up. */
  mayHave(text: string, from: number, to: number): boolean {
    return this.forms.mayHave(text, from, to);
  }

  private fieldOf(entry: number): FieldData {
    return this.keys[this.keyOf[entry]!]!.field;
  }

  /** Calls back for each key field that holds the token, once for each record; stops after `limit`. */
  each(token: string, visit: (key: number, row: number) => void, limit = 64): void {
    this.from(this.entryOf(token), visit, limit);
  }

  /**
   * The record that a token names by a key where it stands: of several the nearest one, of keys that count inside a context
   * the one of the same context, or of another layer; -1 for none.
   * @param place the outline node that has the token.
   */
  rowOf(token: string, { index, scope }: KeyField, place: number): number {
    const { contexts } = this;
    const context = scope === -1 ? -1 : contexts.around(place, scope);
    const own = this.rowIn(token, index, place, (row) => context === -1 || contexts.around(row, scope) === context);
    if (own !== -1 || context === -1 || !contexts.areLayers(scope)) return own;
    return this.rowIn(token, index, place, () => true);
  }

  /** The nearest record that a token names by a key, of some. */
  private rowIn(token: string, index: number, place: number, isMeant: (row: number) => boolean): number {
    const { contexts } = this;
    let found = -1;
    let near = -1;
    this.each(token, (key, row) => {
      if (key !== index || !isMeant(row)) return;
      if (found === -1) {
        found = row;
        return;
      }
      if (near === -1) near = contexts.nearness(found, place);
      const own = contexts.nearness(row, place);
      if (own < near || (own === near && row > found)) return;
      [found, near] = [row, own];
    });
    return found;
  }

  /** True where a token names the same record by a key wherever it stands. */
  isSingle(token: string, { index, scope }: KeyField): boolean {
    let rows = 0;
    this.each(token, (key) => {
      if (key === index) rows++;
    });
    return rows === 0 || (rows === 1 && scope === -1);
  }

  /** Where the keys that a token is begin, for `from`; -1 for none. */
  entryOf(token: string): number {
    return this.heads.get(token) ?? -1;
  }

  /** As `each` for a token that was looked up before. */
  from(first: number, visit: (key: number, row: number) => void, limit = 64): void {
    let entry = first;
    for (let seen = 0; entry !== -1 && seen < limit; seen++) {
      visit(this.keyOf[entry]!, this.rows[entry]!);
      entry = this.chain[entry]!;
    }
  }
}

/** The keys of one shape, strongest first. */
export function keysFor(table: KeyTable, shape: number): KeyField[] {
  return table.keys.filter((key) => key.shape === shape);
}

/** The key that a field is, made where it was none: others name its records by it, though it looks like no key. */
export function keyOn(field: FieldData, table: KeyTable, { vlans } = { vlans: false }): KeyField {
  const known = table.keys.find((key) => key.field === field);
  if (known) return known;
  const kind = vlans ? 'integer' : kindOf(field.values[0]!);
  const key: KeyField = {
    index: table.keys.length,
    field,
    shape: field.rowShape,
    strength: 0,
    best: false,
    bestOfKind: !table.keys.some((other) => other.shape === field.rowShape && other.kind === kind),
    kind,
    rows: field.rows.length,
    scope: -1,
    vlans,
  };
  table.add(key, field.values, field.rows);
  return key;
}
