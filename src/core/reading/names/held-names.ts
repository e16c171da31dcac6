import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import type { Operator } from './operators.ts';

/** Fewer names written so in a document may be so by chance. */
const FEWEST = 3;
/** What stands in a path where there is no record of that level. */
const nothing = /^[0*-]$/;
const path =
  /^((?:[\p{L}\p{M}\p{N}_-]+|\*)([/:.>|\\]))((?:(?:[\p{L}\p{M}\p{N}_-]+|\*)\2)*)([\p{L}\p{M}\p{N}_-]*\p{L}[\p{L}\p{M}\p{N}_-]*)$/u;

/** A path of values: the marks between them, the steps before the last one, and the name at the end. */
function stepsOf(token: string): { mark: string; steps: string[]; name: string } | null {
  if (token.length > 80) return null;
  const [, first, mark, others, name] = path.exec(token) ?? [];
  if (first === undefined) return null;
  return { mark: mark!, steps: `${first}${others!}`.split(mark!).slice(0, -1), name: name! };
}

/**
 * Names behind what their records lie in: `4/30/tills` for the network in VLAN 30 of the port in slot 4. Each step is a
 * value of a record around the one that is named, or says that there is none.
 */
export class HeldNames {
  private readonly byShape: ReadonlyMap<number, readonly FieldData[]>;
  /** By shape the values of each of its rows. */
  private readonly valuesIn = new Map<number, Map<number, Set<string>>>();

  constructor(
    fields: readonly FieldData[],
    private readonly keys: KeyTable,
    private readonly shapeOf: Int32Array,
    private readonly above: (row: number) => number,
  ) {
    this.byShape = fieldsByShape(fields);
  }

  /** By field the paths that stand before its names, also before such as are gone; none where they are few. */
  operatorsOf(fields: readonly FieldData[], tokensOf: (field: FieldData) => Iterable<string>): Map<number, Operator[]> {
    const found = new Map<number, { known: Set<string>; all: Set<string> }>();
    const tokens = new Set<string>();
    for (const field of fields) {
      if (field.tag || field.virtual) continue;
      for (const token of tokensOf(field)) {
        const parts = stepsOf(token);
        if (!parts) continue;
        const isHeld = this.isHeld(parts, field);
        if (!isHeld && this.keys.has(token, field)) continue;
        const own = found.get(field.index) ?? { known: new Set(), all: new Set() };
        found.set(field.index, own);
        own.all.add(token.slice(0, token.length - parts.name.length));
        if (!isHeld) continue;
        own.known.add(token);
        tokens.add(token);
      }
    }
    const chosen = new Map<number, Operator[]>();
    if (tokens.size < FEWEST) return chosen;
    for (const [field, { known, all }] of found)
      if (known.size * 2 >= all.size && known.size > 0)
        chosen.set(
          field,
          [...all].map((before) => ({ before, after: '', held: true })),
        );
    return chosen;
  }

  /** Whether some record that goes by the name lies in others that have the steps, in their order. */
  private isHeld({ steps, name }: { steps: readonly string[]; name: string }, field: FieldData): boolean {
    let held = false;
    if (steps.every((step) => nothing.test(step)) || !this.keys.has(name, field)) return false;
    this.keys.each(name, (key, row) => {
      held ||= this.keys.keys[key]!.field !== field && this.liesIn(row, steps);
    });
    return held;
  }

  private liesIn(row: number, steps: readonly string[]): boolean {
    let holder = this.above(row);
    for (const step of [...steps].reverse()) {
      if (nothing.test(step)) continue;
      while (holder !== -1 && !this.has(holder, step)) holder = this.above(holder);
      if (holder === -1) return false;
      holder = this.above(holder);
    }
    return true;
  }

  private has(row: number, value: string): boolean {
    const shape = this.shapeOf[row]!;
    let rows = this.valuesIn.get(shape);
    if (!rows) {
      rows = new Map();
      for (const field of this.byShape.get(shape) ?? []) {
        if (field.several) continue;
        for (const [place, own] of field.rows.entries())
          rows.set(own, (rows.get(own) ?? new Set()).add(field.values[place]!));
      }
      this.valuesIn.set(shape, rows);
    }
    return rows.get(row)?.has(value) ?? false;
  }
}
