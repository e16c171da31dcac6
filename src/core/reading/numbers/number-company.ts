import type { FieldData } from '../fields/fields.ts';
import type { Reader } from '../names/tokens.ts';
import { isOwnCount } from './number-counts.ts';
import type { Group } from './number-groups.ts';
import type { Table } from './number-tables.ts';

/** So many times as many numbers say that they are of the records as do not, where these are no logical networks. */
const SURER = 3;

/** No more places of a field are looked at. */
const MOST = 2000;

/** What stands beside numbers says what they name: addresses of a record's network, the same numbers in a field that is sure. */
export class NumberCompany {
  private readonly byShape = new Map<number, FieldData[]>();
  private readonly nets = new Map<number, ReadonlyMap<number, ReadonlySet<string>>>();
  private readonly lone = new Map<number, ReadonlyMap<number, ReadonlySet<string>>>();
  private readonly numbers = new Map<number, readonly (string | null)[]>();
  private readonly rows = new Map<Table, ReadonlyMap<string, number>>();

  constructor(
    private readonly fields: readonly FieldData[],
    private readonly readers: readonly Reader[],
  ) {
    for (const field of fields) {
      if (field.rowShape === -1 || field.tag) continue;
      const list = this.byShape.get(field.rowShape);
      if (!list) this.byShape.set(field.rowShape, [field]);
      else if (list.length < 60) list.push(field);
    }
  }

  /**
   * True where addresses beside the numbers mostly lie in a network that the record of that number has, and no other. What
   * lies in a network has addresses of it, too, so where the number may as well be the network's it is.
   */
  sharesNetworks(group: Group, table: Table, tables: readonly Table[]): boolean {
    if (table.network) return this.lieThere(group, table, 1);
    return (
      this.lieThere(group, table, SURER) && !tables.some((other) => other.network && this.lieThere(group, other, SURER))
    );
  }

  private lieThere({ fields }: Group, table: Table, times: number): boolean {
    return fields.slice(0, 8).some((index) => {
      const field = this.fields[index]!;
      if (field.rowShape === -1 || field.rowShape === table.key.shape || isOwnCount(field.values)) return false;
      return this.liesThere(field, table, times, 2);
    });
  }

  /** The same of one field: at least so many numbers say so, and so many times as many as places that do not. */
  private liesThere({ values, rows, rowShape }: FieldData, table: Table, times: number, least: number): boolean {
    const there = this.onlyTheirs(table.key.shape);
    const here = this.netsOf(rowShape);
    if (there.size === 0 || here.size === 0) return false;
    const rowOf = this.rowsOf(table);
    const yes = new Set<string>();
    let no = 0;
    for (let at = 0; at < Math.min(values.length, MOST); at++) {
      const row = rowOf.get(values[at]!);
      const own = here.get(rows[at]!);
      const other = row === undefined ? undefined : there.get(row);
      if (!own || !other) continue;
      if ([...own].some((net) => other.has(net))) yes.add(values[at]!);
      else no++;
    }
    return yes.size >= least && yes.size >= no * times;
  }

  /** True for next hops: logical networks that have an address in another one, which they name by its number. */
  leadsOn({ key, network }: Table, tables: readonly Table[]): boolean {
    if (!network) return false;
    const fields = (this.byShape.get(key.shape) ?? []).filter(
      (field) => field !== key.field && !isOwnCount(field.values),
    );
    return fields.some((field) =>
      tables.some((table) => table.network && table.key.shape !== key.shape && this.liesThere(field, table, 1, 1)),
    );
  }

  /** True where some field of the one group mostly has the number that one of the other has in the same record. */
  agree(one: Group, other: Group): boolean {
    for (const index of one.fields.slice(0, 8)) {
      const mine = this.fields[index]!;
      if (mine.rowShape === -1 || !other.shapes.has(mine.rowShape)) continue;
      for (const beside of other.fields) {
        const theirs = this.fields[beside]!;
        if (theirs.rowShape === mine.rowShape && areAlike(mine, theirs, this.numbersOf(mine), this.numbersOf(theirs)))
          return true;
      }
    }
    return false;
  }

  /** By distinct value the one number that it holds, whatever stands around it; null for anything else. */
  private numbersOf({ index, distinct }: FieldData): readonly (string | null)[] {
    let known = this.numbers.get(index);
    if (!known) {
      const { pieces, which } = this.readers[index]!;
      known = distinct.map((value, at) => {
        const own = which ? undefined : pieces?.[at];
        const text = own?.length === 1 ? own[0]!.text : value;
        return /^\d+$/.test(text) ? text : null;
      });
      this.numbers.set(index, known);
    }
    return known;
  }

  private rowsOf(table: Table): ReadonlyMap<string, number> {
    let known = this.rows.get(table);
    if (!known) {
      const { values, rows } = table.key.field;
      known = new Map(values.map((value, at) => [value, rows[at]!]));
      this.rows.set(table, known);
    }
    return known;
  }

  /** Of each record the networks that no other one has an address of. */
  private onlyTheirs(shape: number): ReadonlyMap<number, ReadonlySet<string>> {
    const known = this.lone.get(shape);
    if (known) return known;
    const nets = this.netsOf(shape);
    const times = new Map<string, number>();
    for (const own of nets.values()) for (const net of own) times.set(net, (times.get(net) ?? 0) + 1);
    const lone = new Map([...nets].map(([row, own]) => [row, new Set([...own].filter((net) => times.get(net) === 1))]));
    this.lone.set(shape, lone);
    return lone;
  }

  /** The networks of 256 addresses that each record of a shape has an address of. */
  private netsOf(shape: number): ReadonlyMap<number, ReadonlySet<string>> {
    const known = this.nets.get(shape);
    if (known) return known;
    const nets = new Map<number, Set<string>>();
    for (const { values, rows } of this.byShape.get(shape) ?? []) {
      for (let at = 0; at < values.length; at++) {
        const net = /^(\d+\.\d+\.\d+)\.\d+(?!\S*\.)/.exec(values[at]!)?.[1];
        if (net === undefined) continue;
        const own = nets.get(rows[at]!);
        if (own) own.add(net);
        else nets.set(rows[at]!, new Set([net]));
      }
    }
    this.nets.set(shape, nets);
    return nets;
  }
}

/** True where most records that have a number in both have the same one, and that is not always one number. */
function areAlike(
  one: FieldData,
  other: FieldData,
  numbers: readonly (string | null)[],
  others: readonly (string | null)[],
): boolean {
  const same = new Set<string>();
  let both = 0;
  let equal = 0;
  let next = 0;
  for (let at = 0; at < Math.min(one.rows.length, MOST); at++) {
    while (next < other.rows.length && other.rows[next]! < one.rows[at]!) next++;
    if (other.rows[next] !== one.rows[at]) continue;
    const number = numbers[one.which[at]!];
    const beside = others[other.which[next]!];
    if (number == null || beside == null) continue;
    both++;
    if (number !== beside) continue;
    equal++;
    same.add(number);
  }
  return same.size >= 4 && equal >= both * 0.6;
}
