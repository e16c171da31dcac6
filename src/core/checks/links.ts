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
 * References by the node that they stand at, as lists in two arrays: hundreds of thousands of values are held against
 * them. Weak references are left out.
 */
interface ByNode {
  readonly references: readonly Reference[];
  /** First reference of each node, -1 for none; the next one of the same node. */
  readonly first: Int32Array;
  readonly next: Int32Array;
}

const byNode = once((reading): ByNode => {
  const references = reading.references.filter(({ tier }) => tier !== 'possible');
  let last = -1;
  for (const { site } of references) if (site.node > last) last = site.node;
  const first = new Int32Array(last + 1).fill(-1);
  const next = new Int32Array(references.length).fill(-1);
  for (let at = references.length - 1; at >= 0; at--) {
    const { node } = references[at]!.site;
    next[at] = first[node]!;
    first[node] = at;
  }
  return { references, first, next };
}, byReferences);

/** Fills a list, which it empties first, with the references in the value at a place of a field. */
export type ReferencesAt = (place: number, into: Reference[]) => void;

export const referencesIn = once((reading): ((field: FieldData) => ReferencesAt) => {
  const { references, first, next } = byNode(reading);
  return ({ nodes, attrs }) =>
    (place, into) => {
      if (into.length > 0) into.length = 0;
      const node = nodes[place]!;
      if (node >= first.length) return;
      for (let at = first[node]!; at !== -1; at = next[at]!) {
        const reference = references[at]!;
        if (reference.site.attr === attrs[place]) into.push(reference);
      }
    };
}, byReferences);

export interface LinksByRow {
  readonly get: (row: number) => readonly Link[] | undefined;
}

/** For each row the records that its own values name, column by column; weak references left out. */
export const linksByRow = once((reading): LinksByRow => {
  const { references, first, next } = byNode(reading);
  const { fields } = reading.values;
  // Each reference stands at one place, so there are no more links than references.
  const rows = new Int32Array(references.length);
  const columns = new Int32Array(references.length);
  const places = new Int32Array(references.length);
  const named = new Int32Array(references.length);
  let count = 0;
  let most = -1;
  for (let column = 0; column < fields.length; column++) {
    const { nodes, attrs, rows: own } = fields[column]!;
    for (let place = 0; place < nodes.length; place++) {
      const node = nodes[place]!;
      if (node >= first.length) continue;
      for (let at = first[node]!; at !== -1; at = next[at]!) {
        if (references[at]!.site.attr !== attrs[place]) continue;
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
        links.push({ column: fields[columns[at]!]!, place: places[at]!, reference: references[named[at]!]! });
      return links;
    },
  };
}, byReferences);
