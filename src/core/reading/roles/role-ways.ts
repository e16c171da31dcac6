import type { Devices } from '../devices/device-set.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { namesAt, type Reader } from '../names/tokens.ts';
import { type Pair, pairKey, pairOf } from '../numbers/paired-numbers.ts';
import { rowNamed } from '../references/named-row.ts';
import type { Target } from '../references/references.ts';

/** A device that a record sits on, and where that is said. */
export interface Seat {
  readonly port: string;
  readonly field: FieldData;
  readonly place: number;
  readonly name: { readonly text: string; readonly from: number };
  /** Records between it and the place, that of a VLAN for one. */
  readonly through: readonly number[];
  /** The field that tells the last of these on which ports it is. */
  readonly at: FieldData;
}

type Led = Pick<Seat, 'port' | 'through'> & Partial<Pick<Seat, 'at'>>;

/** What is known when networks are followed to their devices. */
export interface WaySource {
  readonly fields: readonly FieldData[];
  readonly byShape: ReadonlyMap<number, readonly FieldData[]>;
  readonly readers: readonly Reader[];
  readonly keys: KeyTable;
  readonly devices: Devices;
  readonly portFields: ReadonlySet<number>;
  readonly targets: readonly (readonly Target[])[];
  /** Shapes whose records are devices, and the field that they are called by; null where they are called by their parts. */
  readonly deviceShapes: ReadonlyMap<number, FieldData | null>;
  readonly isAddressed: (shape: number) => boolean;
  /** How often records of each shape are named by others. */
  readonly named: ReadonlyMap<number, number>;
  /** The row around a row, -1 for none. */
  readonly above: (row: number) => number;
  readonly shapeOf: Int32Array;
}

interface Namer extends Pick<Seat, 'field' | 'place' | 'name'> {
  readonly row: number;
}

/** Records between a network and its device at most. */
const STEPS = 3;
/** How often a record that joins networks with devices names the same one, on average. */
const ONCE = 1.25;

/**
 * Follows the records of one shape to the devices that they sit on, until one is met: what they name, what lies in them, what
 * they lie in, what names them.
 */
export class Ways {
  private readonly places = new Map<FieldData, Map<number, number[]>>();
  private readonly inside = new Map<number, Map<number, number[]>>();
  private readonly namers = new Map<number, Map<number, Namer[]>>();
  private readonly shapesIn = new Map<number, number[]>();
  private pairs: readonly Pair[] | null = null;
  private made: ReadonlyMap<number, string> | null = null;

  /** @param network shape of the records that are followed: no way leads through others of them. */
  constructor(
    private readonly source: WaySource,
    private readonly network: number,
  ) {
    const { byShape, above, shapeOf } = source;
    for (const [shape, [first]] of byShape) {
      const around = shape === -1 || !first ? -1 : above(first.rows[0]!);
      if (around !== -1) push(this.shapesIn, shapeOf[around]!, shape);
    }
  }

  /** The devices of a record, none where it leads to none. */
  of(row: number): readonly Seat[] {
    return this.seats(row, STEPS, new Set([row]));
  }

  private seats(row: number, steps: number, seen: Set<number>): readonly Seat[] {
    for (const way of [this.named, this.paired, this.around, this.held, this.naming]) {
      const found = way.call(this, row, steps, seen);
      if (found.length > 0) return found;
    }
    return [];
  }

  /** Whether a record may stand between a network and its device: none that others name more, nor one with addresses of its own. */
  private isBetween(shape: number): boolean {
    const { deviceShapes, isAddressed, named } = this.source;
    if (shape === this.network || shape === -1) return false;
    return (
      deviceShapes.has(shape) || (!isAddressed(shape) && (named.get(shape) ?? 0) <= (named.get(this.network) ?? 0))
    );
  }

  /** Devices that the record names, by themselves or by their records. */
  private named(row: number, steps: number, seen: Set<number>): readonly Seat[] {
    const { byShape, shapeOf, portFields, readers, targets, keys } = this.source;
    const list = (byShape.get(shapeOf[row]!) ?? []).filter(({ tag }) => !tag);
    const own = list.filter(({ index }) => portFields.has(index));
    const direct = own.flatMap((field) =>
      this.placesIn(field, row).flatMap((place) =>
        namesAt(field, readers[field.index]!, place).map(
          (name): Seat => ({ port: name.text, field, place, name, through: [], at: field }),
        ),
      ),
    );
    if (direct.length > 0 || steps === 0) return direct;
    return list.flatMap((field) => {
      const likely = targets[field.index]!.filter(({ key, odds }) => odds >= 0 && this.isBetween(key.shape));
      if (likely.length === 0) return [];
      return this.placesIn(field, row).flatMap((place) =>
        namesAt(field, readers[field.index]!, place).flatMap((name) => {
          const other = rowNamed(name, likely, keys, field.at[place]!)?.row ?? -1;
          if (other === -1 || seen.has(other)) return [];
          return this.devicesOf(other, steps - 1, seen).map(
            ({ at = field, ...seat }): Seat => ({ ...seat, field, place, name, at }),
          );
        }),
      );
    });
  }

  /** The device that two numbers of the record name together. */
  private paired(row: number): readonly Seat[] {
    const { byShape, shapeOf, deviceShapes } = this.source;
    if (shapeOf[row] !== this.network) return [];
    this.pairs ??= [...deviceShapes].flatMap(([shape, name]) => {
      const pair = name && pairOf(byShape.get(this.network) ?? [], byShape.get(shape) ?? []);
      return pair ? [pair] : [];
    });
    for (const { fields, rows } of this.pairs) {
      const [first, second] = fields.map((field) => this.placesIn(field, row)[0]);
      if (first === undefined || second === undefined) continue;
      const text = fields[0].values[first]!;
      const own = this.ownName(rows.get(pairKey(text, fields[1].values[second]!)) ?? -1);
      if (own) return [{ ...own, field: fields[0], place: first, name: { text, from: 0 } }];
    }
    return [];
  }

  /** The devices that a record stands for: its own name, else those that it leads to. */
  private devicesOf(row: number, steps: number, seen: Set<number>): readonly Led[] {
    const own = this.ownName(row);
    if (own) return [{ port: own.port, through: [] }];
    const made = this.madeName(row);
    if (made !== undefined) return [{ port: made, through: [] }];
    const led = new Map<string, Led>();
    for (const { port, through, at } of this.seats(row, steps, new Set([...seen, row])))
      if (!led.has(port)) led.set(port, { port, through: [row, ...through], at });
    return [...led.values()];
  }

  /** The device that a record is called by, as the place where it says so. */
  private ownName(row: number): Seat | null {
    const { deviceShapes, shapeOf } = this.source;
    const field = row === -1 ? null : deviceShapes.get(shapeOf[row]!);
    const place = field ? this.placesIn(field, row)[0] : undefined;
    if (!field || place === undefined) return null;
    const text = field.values[place]!;
    return { port: text, field, place, name: { text, from: 0 }, through: [], at: field };
  }

  /** The name that is made of a record's parts. */
  private madeName(row: number): string | undefined {
    this.made ??= new Map(
      [...this.source.devices.composed.values()].flatMap((names) => [...names].map(([name, of]) => [of, name])),
    );
    return this.made.get(row);
  }

  /** Devices in the records that lie in this one. */
  private held(row: number, steps: number, seen: Set<number>): readonly Seat[] {
    if (steps === 0) return [];
    return this.rowsIn(row).flatMap((inner) =>
      seen.has(inner)
        ? []
        : this.named(inner, steps - 1, new Set([...seen, inner])).map((seat) => ({
            ...seat,
            through: [inner, ...seat.through],
          })),
    );
  }

  /** The device that the record lies in. */
  private around(row: number): readonly Seat[] {
    const { above, shapeOf } = this.source;
    for (let at = above(row); at !== -1 && shapeOf[at] !== this.network; at = above(at)) {
      const own = this.ownName(at);
      if (own) return [own];
    }
    return [];
  }

  /** Devices that name the record, or that records have that do. */
  private naming(row: number, steps: number, seen: Set<number>): readonly Seat[] {
    if (steps === 0) return [];
    return this.rowsNaming(row).flatMap(({ row: other, field: at, place, name }) => {
      if (seen.has(other)) return [];
      const own = this.ownName(other);
      if (own) return [{ ...own, at }];
      const made = this.madeName(other);
      if (made !== undefined) return [{ port: made, field: at, place, name, through: [], at }];
      const known = new Set([...seen, other]);
      const named = this.named(other, steps - 1, known);
      const found = named.length > 0 ? named : this.around(other);
      return found.map((seat) => ({ ...seat, through: [other, ...seat.through] }));
    });
  }

  private placesIn(field: FieldData, row: number): readonly number[] {
    let known = this.places.get(field);
    if (!known) {
      known = new Map();
      for (const [place, own] of field.rows.entries()) push(known, own, place);
      this.places.set(field, known);
    }
    return known.get(row) ?? [];
  }

  private rowsIn(row: number): readonly number[] {
    const { byShape, above, shapeOf } = this.source;
    const shape = shapeOf[row]!;
    let known = this.inside.get(shape);
    if (!known) {
      known = new Map();
      for (const inner of this.shapesIn.get(shape) ?? []) {
        const rows = this.isBetween(inner) ? new Set(byShape.get(inner)!.flatMap((field) => field.rows)) : [];
        for (const one of rows) push(known, above(one), one);
      }
      this.inside.set(shape, known);
    }
    return known.get(row) ?? [];
  }

  private rowsNaming(row: number): readonly Namer[] {
    const { fields, targets, readers, keys, deviceShapes, shapeOf } = this.source;
    const shape = shapeOf[row]!;
    let known = this.namers.get(shape);
    if (!known) {
      known = new Map();
      for (const field of fields) {
        const likely = targets[field.index]!.filter(({ key, odds }) => odds >= 0 && key.shape === shape);
        if (likely.length === 0 || !this.isBetween(field.rowShape)) continue;
        const { times, tokens } = readers[field.index]!.counts;
        const once = times.reduce((sum, each) => sum + each, 0) <= tokens.length * ONCE;
        if (!once && !deviceShapes.has(field.rowShape)) continue;
        for (const [place, own] of field.rows.entries())
          for (const name of namesAt(field, readers[field.index]!, place)) {
            const to = rowNamed(name, likely, keys, field.at[place]!)?.row ?? -1;
            if (to !== -1) push(known, to, { row: own, field, place, name });
          }
      }
      this.namers.set(shape, known);
    }
    return known.get(row) ?? [];
  }
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
