import type { FieldData } from '../reading/fields.ts';
import type { Reference } from '../reading/reading.ts';
import { byReferences, once } from './tables.ts';

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
      this.after[at] = this.first[nodes[at]!]!;
      this.first[nodes[at]!] = at;
    }
  }

  /** The first reference at a site, -1 for none. */
  at(node: number, attr: number): number {
    return node < this.first.length ? this.having(this.first[node]!, attr) : -1;
  }

  /** The next one at the same site, -1 for none. */
  next(reference: number): number {
    return this.having(this.after[reference]!, this.attrs[reference]!);
  }

  private having(from: number, attr: number): number {
    let at = from;
    while (at !== -1 && this.attrs[at] !== attr) at = this.after[at]!;
    return at;
  }
}

export const referencesOf = once(
  (reading) => new References(reading.references.filter(({ tier }) => tier !== 'possible')),
  byReferences,
);

export interface LinksByRow {
  readonly get: (row: number) => readonly Link[] | undefined;
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
    const { nodes, attrs, rows: own } = fields[column]!;
    for (let place = 0; place < nodes.length; place++) {
      for (let at = references.at(nodes[place]!, attrs[place]!); at !== -1; at = references.next(at)) {
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
  return {
    get: (row) => {
      if (row > most || head[row + 1] === -1) return undefined;
      const links: Link[] = [];
      for (let at = head[row + 1]!; at !== -1; at = after[at]!)
        links.push({ column: fields[columns[at]!]!, place: places[at]!, reference: all[named[at]!]! });
      return links;
    },
  };
}, byReferences);
