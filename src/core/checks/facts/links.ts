import type { FieldData } from '../../reading/fields/fields.ts';
import type { Reference } from '../../reading/reading.ts';
import { byReferences, once } from './once.ts';

/** A value that names a record, by where it stands. */
export interface Link {
  readonly column: FieldData;
  readonly place: number;
  readonly reference: Reference;
}

/**
 * References by the node that they stand at, as lists in flat arrays: hundreds of thousands of values are held against
 * them. Weak references are left out.
 */
export class References {
  /** First reference of each node, -1 for none; the next one of the same node. */
  private readonly first: Int32Array;
  private readonly after: Int32Array;
  private readonly attrs: Int32Array;
  private readonly byField = new WeakMap<readonly number[], { readonly places: Int32Array | null }>();
  /** The record that each names. */
  readonly to: Int32Array;

  constructor(readonly all: readonly Reference[]) {
    const count = all.length;
    const nodes = new Int32Array(count);
    this.after = new Int32Array(count);
    this.attrs = new Int32Array(count);
    this.to = new Int32Array(count);
    let last = -1;
    for (let at = 0; at < count; at++) {
      const { site, to } = all[at]!;
      nodes[at] = site.node;
      this.attrs[at] = site.attr;
      this.to[at] = to;
      if (site.node > last) last = site.node;
    }
    this.first = new Int32Array(last + 1).fill(-1);
    for (let at = count - 1; at >= 0; at--) {
      if (all[at]!.tier === 'possible') continue;
      this.after[at] = this.first[nodes[at]!]!;
      this.first[nodes[at]!] = at;
    }
  }

  /** For each place of a field its first reference, -1 for none; null where no value of the field names anything. */
  in({ nodes, attrs }: Pick<FieldData, 'nodes' | 'attrs'>): Int32Array | null {
    let held = this.byField.get(nodes);
    if (!held) {
      held = { places: this.placesOf(nodes, attrs) };
      this.byField.set(nodes, held);
    }
    return held.places;
  }

  private placesOf(nodes: readonly number[], attrs: readonly number[]): Int32Array | null {
    const { first } = this;
    let places: Int32Array | null = null;
    for (let place = 0; place < nodes.length; place++) {
      const node = nodes[place]!;
      if (node >= first.length || first[node] === -1) continue;
      const found = this.having(first[node]!, attrs[place]!);
      if (found === -1) continue;
      places ??= new Int32Array(nodes.length).fill(-1);
      places[place] = found;
    }
    return places;
  }

  /** The next one at the same site, -1 for none. */
  next(reference: number): number {
    const after = this.after[reference]!;
    return after === -1 ? -1 : this.having(after, this.attrs[reference]!);
  }

  private having(from: number, attr: number): number {
    let at = from;
    while (at !== -1 && this.attrs[at] !== attr) at = this.after[at]!;
    return at;
  }
}

export const referencesOf = once((reading) => new References(reading.references), byReferences);

/** What the values of each row name, as lists in flat arrays. A link is a number; -1 ends a list. */
export interface LinksByRow {
  /** The first link of a row, in the order of the columns. */
  readonly first: (row: number) => number;
  readonly next: (link: number) => number;
  /** The record that a link leads to. */
  readonly to: (link: number) => number;
  readonly of: (row: number) => readonly Link[];
}

/** For each row the records that its own values name, column by column; weak references left out. */
export const linksByRow = once((reading): LinksByRow => {
  const references = referencesOf(reading);
  const { all } = references;
  const { fields } = reading.values;
  // Each reference stands at one place, so there are no more links than references.
  const rows = new Int32Array(all.length);
  const columns = new Int32Array(all.length);
  const places = new Int32Array(all.length);
  const named = new Int32Array(all.length);
  let count = 0;
  let most = -1;
  for (let column = 0; column < fields.length; column++) {
    const held = references.in(fields[column]!);
    if (!held) continue;
    const own = fields[column]!.rows;
    for (let place = 0; place < held.length; place++) {
      for (let at = held[place]!; at !== -1; at = references.next(at)) {
        const row = own[place]!;
        if (row > most) most = row;
        rows[count] = row;
        columns[count] = column;
        places[count] = place;
        named[count++] = at;
      }
    }
  }
  // Rows count from -1, which stands for no record.
  const head = new Int32Array(most + 2).fill(-1);
  const after = new Int32Array(count).fill(-1);
  for (let at = count - 1; at >= 0; at--) {
    const row = rows[at]! + 1;
    after[at] = head[row]!;
    head[row] = at;
  }
  const first = (row: number) => (row > most ? -1 : head[row + 1]!);
  return {
    first,
    next: (link) => after[link]!,
    to: (link) => references.to[named[link]!]!,
    of: (row) => {
      const links: Link[] = [];
      for (let at = first(row); at !== -1; at = after[at]!)
        links.push({ column: fields[columns[at]!]!, place: places[at]!, reference: all[named[at]!]! });
      return links;
    },
  };
}, byReferences);
