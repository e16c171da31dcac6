import type { FieldData } from '../fields/fields.ts';
import type { KeyField, KeyTable } from '../keys/key-table.ts';
import type { Target } from './references.ts';

/** By which keys records are named, and which kinds of record one field names together. */
export class Uses {
  /** Names by key, over all fields. */
  private readonly names: Int32Array;
  /** The same by the shape of the records. */
  private readonly byShape = new Map<number, number>();
  /** By shape its most used key. */
  private readonly most = new Map<number, number>();
  /** Names of keys, with the shapes that are mostly named by a key that is called so. */
  private readonly usual = new Map<string, Set<number>>();
  /** The first fields that surely name records by a key, by the records that they are of and the key. */
  private readonly sides = new Map<string, number[]>();
  /** Kinds of record that surely name others, by the two shapes. */
  private readonly ways = new Set<string>();
  /** The strongest keys of records whose best one surely names others. */
  private readonly instead = new Set<number>();
  /** The first fields that name two kinds, by the two keys. */
  private readonly pairs = new Map<string, number[]>();

  constructor(
    { keys }: KeyTable,
    fields: readonly FieldData[],
    private readonly leaf: readonly string[],
    results: readonly (readonly Target[])[],
  ) {
    this.names = new Int32Array(keys.length);
    const refers = ({ field, shape }: KeyField) =>
      results[field.index]!.some(({ key, odds }) => odds >= SURE && key.shape !== shape);
    const misled = new Set(keys.flatMap((key) => (key.best && !key.field.tag && refers(key) ? [key.shape] : [])));
    for (const key of keys) {
      if (!misled.has(key.shape) || key.kind === 'integer' || refers(key)) continue;
      misled.delete(key.shape);
      this.instead.add(key.index);
    }
    for (const [index, list] of results.entries()) {
      for (const { key, odds, tokens } of list) {
        if (odds < LIKELY) continue;
        if (odds >= SURE) this.ways.add(`${fields[index]!.rowShape} ${key.shape}`);
        if (odds >= SURE) addFirst(this.sides, `${fields[index]!.rowShape} ${key.index}`, index);
        this.names[key.index] = this.names[key.index]! + tokens.list.length;
        this.byShape.set(key.shape, (this.byShape.get(key.shape) ?? 0) + tokens.list.length);
        const most = this.most.get(key.shape);
        if (most === undefined || this.names[key.index]! > this.names[most]!) this.most.set(key.shape, key.index);
        if (key === list[0]!.key) continue;
        addFirst(this.pairs, pairOf(list[0]!.key, key), index);
      }
    }
    for (const [shape, index] of this.most) {
      const { field } = keys[index]!;
      if (field.tag) continue;
      const name = leaf[field.index]!;
      const shapes = this.usual.get(name);
      if (shapes) shapes.add(shape);
      else this.usual.set(name, new Set([shape]));
    }
  }

  /** True where records of several other kinds are named by a key that is called so. */
  isUsual({ field, shape }: KeyField): boolean {
    const shapes = this.usual.get(this.leaf[field.index]!);
    return shapes !== undefined && !field.tag && shapes.size - (shapes.has(shape) ? 1 : 0) >= 2;
  }

  /** True for what records are called by whose best key surely names others, so that it is not their name. */
  isInstead({ index }: KeyField): boolean {
    return this.instead.has(index);
  }

  /** True where other fields name the same records by another key. */
  hasRival(key: KeyField, own: readonly Target[]): boolean {
    const most = this.most.get(key.shape);
    if (most === undefined || most === key.index) return false;
    return this.names[most]! - namesOf(most, own) >= 2 * this.others(key, own) + 2;
  }

  /** How many names other fields name records by with the key. */
  others({ index }: KeyField, own: readonly Target[]): number {
    return this.names[index]! - namesOf(index, own);
  }

  /** True where other fields name records, but none those of this shape, by any key. */
  areUnnamed(shape: number, own: readonly Target[]): boolean {
    let names = this.byShape.get(shape) ?? 0;
    for (const { key, odds, tokens } of own) if (key.shape === shape && odds >= LIKELY) names -= tokens.list.length;
    return names === 0 && this.byShape.size > 0;
  }

  /** True where another field of the same records surely names those of the key. */
  besideOf({ index, rowShape }: FieldData, key: KeyField): boolean {
    return this.sides.get(`${rowShape} ${key.index}`)?.some((other) => other !== index) ?? false;
  }

  /** True where records of one shape surely name those of another. */
  leads(from: number, to: number): boolean {
    return this.ways.has(`${from} ${to}`);
  }

  /** True where another field names both kinds of record. */
  together(field: FieldData, one: KeyField, other: KeyField): boolean {
    return this.pairs.get(pairOf(one, other))?.some((index) => index !== field.index) ?? false;
  }
}

const namesOf = (index: number, own: readonly Target[]) =>
  own.find(({ key }) => key.index === index)?.tokens.list.length ?? 0;

/** Log-odds from which on names count. */
const LIKELY = 0.5;
/** Log-odds from which on a field says what another of its records may name. */
const SURE = 1.2;

/** Two are enough to find one that is another. */
function addFirst(found: Map<string, number[]>, id: string, index: number): void {
  const known = found.get(id);
  if (!known) found.set(id, [index]);
  else if (known.length < 2 && known[0] !== index) known.push(index);
}

function pairOf(one: KeyField, other: KeyField): string {
  return one.index < other.index ? `${one.index} ${other.index}` : `${other.index} ${one.index}`;
}

/** What fields of one leaf name were found to name. */
export class Habits {
  private readonly found = new Map<string, Map<number, number[]>>();

  constructor(
    private readonly leaf: readonly string[],
    results: readonly (readonly Target[])[],
  ) {
    for (const [index, list] of results.entries()) {
      for (const { key, odds } of list) {
        if (odds < 0.8) continue;
        let byKey = this.found.get(leaf[index]!);
        if (!byKey) {
          byKey = new Map();
          this.found.set(leaf[index]!, byKey);
        }
        const fields = byKey.get(key.index);
        if (!fields) byKey.set(key.index, [index]);
        else if (fields.length < 3) fields.push(index);
      }
    }
  }

  /** 1 where another field of the name names records by this key, -1 where only by other keys, 0 for nothing known. */
  of(field: number, key: number): number {
    const byKey = this.found.get(this.leaf[field]!);
    if (!byKey) return 0;
    const others = (fields: readonly number[] | undefined) => fields?.some((one) => one !== field) ?? false;
    if (others(byKey.get(key))) return 1;
    for (const fields of byKey.values()) if (others(fields)) return -1;
    return 0;
  }
}
