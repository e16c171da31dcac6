import { fieldsByShape } from '../../reading/fields/by-shape.ts';
import { type FieldData, localName } from '../../reading/fields/fields.ts';
import type { Reading } from '../../reading/reading.ts';
import { lowerBound } from '../../text/lower-bound.ts';
import { isNetmask, parseAddress, parseAddressRange, parsePrefix } from '../../values/ip.ts';
import { isMac } from '../../values/mac.ts';
import { wordsOf } from '../../values/name-words.ts';
import { unsigned } from '../../values/numbers.ts';
import type { Site } from '../../xml/site.ts';
import { byStructure, once } from './once.ts';

/** Indices of the roles by the elements of their records. */
export const rolesByNode = once(
  ({ roles }): ReadonlyMap<number, number> => new Map(roles.map(({ node }, index) => [node, index])),
  ({ roles }) => roles,
);

/** What the values of a column are, by consensus. `mixed`: addresses and prefixes. */
export type ColumnKind = 'address' | 'prefix' | 'mixed' | 'range' | 'mask' | 'mac' | 'number' | 'other';

/** One field of the records of one shape. */
export interface Column {
  readonly field: FieldData;
  readonly kind: ColumnKind;
  /** What stands around the value: equal for values that stand side by side. */
  readonly container: string;
  readonly name: string;
  readonly words: ReadonlySet<string>;
  /** Index of the first value of each row. */
  readonly placeOf: ReadonlyMap<number, number>;
}

/** Records of one shape with their columns, in the order of the file. */
export interface Table {
  readonly shape: number;
  readonly columns: readonly Column[];
}

export const tablesOf = once((reading): ReadonlyMap<number, Table> => {
  const tables = new Map<number, Table>();
  for (const [shape, fields] of fieldsByShape(reading.values.fields))
    tables.set(shape, { shape, columns: columnsOf(fields) });
  return tables;
});

function columnsOf(fields: readonly FieldData[]): Column[] {
  const shared = sharedDepth(fields);
  const below = new Map<string, number>();
  for (const { steps } of fields)
    for (let depth = shared; depth < steps.length; depth++) {
      const path = steps.slice(0, depth).join('/');
      below.set(path, (below.get(path) ?? 0) + 1);
    }
  return fields.map((field) => {
    // An element around one value alone is that value's name, not its company: `<address><text>…`.
    let { length } = field.steps;
    while (length - 1 > shared && below.get(field.steps.slice(0, length - 1).join('/')) === 1) length--;
    const name = nameOf(field.steps.slice(0, length));
    return new LazyColumn(field, field.steps.slice(0, length - 1).join('/'), name);
  });
}

/** Most columns are never asked about, so what costs time is found out on demand. */
class LazyColumn implements Column {
  private kindFound: ColumnKind | null = null;
  private places: Map<number, number> | null = null;
  private wordsFound: ReadonlySet<string> | null = null;

  constructor(
    readonly field: FieldData,
    readonly container: string,
    readonly name: string,
  ) {}

  get kind(): ColumnKind {
    this.kindFound ??= kindOf(this.field.values);
    return this.kindFound;
  }

  get words(): ReadonlySet<string> {
    this.wordsFound ??= new Set(wordsOf(this.name));
    return this.wordsFound;
  }

  get placeOf(): ReadonlyMap<number, number> {
    if (this.places) return this.places;
    const places = new Map<number, number>();
    const { rows } = this.field;
    for (let place = 0; place < rows.length; place++) if (!places.has(rows[place]!)) places.set(rows[place]!, place);
    this.places = places;
    return places;
  }
}

function nameOf(steps: readonly string[]): string {
  const last = steps[steps.length - 1] ?? '';
  if (last.endsWith(']')) return last.slice(last.indexOf('[') + 1, -1);
  const bare = last.startsWith('@') ? last.slice(1) : last;
  const before = steps[steps.length - 2] ?? '';
  if (last.startsWith('@') && before.endsWith(']')) return before.slice(before.indexOf('[') + 1, -1);
  return localName(bare.replace(/\{.*$/, ''));
}

function sharedDepth(fields: readonly FieldData[]): number {
  const first = fields[0]!.steps;
  let depth = first.length - 1;
  for (const { steps } of fields) {
    let same = 0;
    while (same < depth && same < steps.length - 1 && steps[same] === first[same]) same++;
    depth = same;
  }
  return depth;
}

/** Whether two values stand in one element, or one in the other. */
export function isBeside(a: Column, b: Column): boolean {
  if (a.container === b.container) return true;
  const inside = (outer: Column, inner: Column) => outer.field.steps.join('/') === inner.container;
  return inside(a, b) || inside(b, a);
}

const SAMPLE = 32;
const SHARE = 0.7;

function kindOf(values: readonly string[]): ColumnKind {
  const step = Math.max(1, Math.floor(values.length / SAMPLE));
  let seen = 0;
  const counts = { address: 0, prefix: 0, range: 0, mask: 0, mac: 0, number: 0 };
  for (let at = 0; at < values.length && seen < SAMPLE; at += step) {
    const value = values[at]!;
    if (value.length > 80) return 'other';
    if (/^\p{L}[\p{L}_-]*$/u.test(value) && !value.includes(':')) continue;
    seen++;
    if (isNetmask(value) ? value !== '0.0.0.0' : /^255\.\d+\.\d+\.\d+$/.test(value)) counts.mask++;
    else if (isMac(value)) counts.mac++;
    else if (unsigned(value) >= 0) counts.number++;
    else if (parseAddress(bare(value))) counts.address++;
    else if (parsePrefix(value)) counts.prefix++;
    else if (parseAddressRange(value)) counts.range++;
  }
  if (seen === 0) return 'other';
  const most = seen * SHARE;
  for (const kind of ['mask', 'mac', 'address', 'prefix', 'range', 'number'] as const)
    if (counts[kind] >= most) return kind;
  return counts.address + counts.prefix >= most ? 'mixed' : 'other';
}

/** An address without its zone (RFC 4007, 11). */
export function bare(value: string): string {
  const cut = value.indexOf('%');
  return cut === -1 ? value : value.slice(0, cut);
}

/** A value by its column's field and its place there. */
export interface Cell {
  readonly field: FieldData;
  readonly place: number;
}

/** Values by the node that they stand at, as lists in two arrays; a value is its number in the order of the fields. */
const cellsByNode = once((reading) => {
  const { fields } = reading.values;
  const starts = new Int32Array(fields.length + 1);
  let most = -1;
  for (const [at, { nodes }] of fields.entries()) {
    starts[at + 1] = starts[at]! + nodes.length;
    for (const node of nodes) if (node > most) most = node;
  }
  const first = new Int32Array(most + 1).fill(-1);
  const next = new Int32Array(starts[fields.length]!);
  for (let at = fields.length - 1; at >= 0; at--) {
    const { nodes } = fields[at]!;
    for (let place = nodes.length - 1; place >= 0; place--) {
      const cell = starts[at]! + place;
      next[cell] = first[nodes[place]!]!;
      first[nodes[place]!] = cell;
    }
  }
  return { starts, first, next };
}, byStructure);

/** As many sites are looked for in each field; for more an index of all values is made. */
const FEW_SITES = 64;

/** Places of a field at some sites, ascending, each once. Nodes stand in the order of the document. */
function placesAt(
  { nodes, attrs }: Pick<FieldData, 'nodes' | 'attrs'>,
  sites: readonly Site[],
): { readonly place: number; readonly key: number }[] {
  const found = new Map<number, number>();
  for (const { node, attr } of sites) {
    for (let place = lowerBound(nodes, node); nodes[place] === node; place++)
      if (attrs[place] === attr) found.set(place, siteKey(node, attr));
  }
  return [...found].map(([place, key]) => ({ place, key })).sort((a, b) => a.place - b.place);
}

/** Visits the values at some sites, each site once, in the order of the fields. */
export function eachCellAt(reading: Reading, sites: readonly Site[], visit: (cell: Cell, key: number) => void): void {
  const { fields } = reading.values;
  if (sites.length <= FEW_SITES) {
    for (const field of fields) for (const { place, key } of placesAt(field, sites)) visit({ field, place }, key);
    return;
  }
  const { starts, first, next } = cellsByNode(reading);
  const wanted = new Set<number>();
  const cells: number[] = [];
  for (const { node, attr } of sites) {
    const key = siteKey(node, attr);
    if (node >= first.length || wanted.has(key)) continue;
    wanted.add(key);
    for (let cell = first[node]!; cell !== -1; cell = next[cell]!) cells.push(cell);
  }
  cells.sort((a, b) => a - b);
  let at = 0;
  let last = -1;
  for (const cell of cells) {
    if (cell === last) continue;
    last = cell;
    while (cell >= starts[at + 1]!) at++;
    const field = fields[at]!;
    const place = cell - starts[at]!;
    const key = siteKey(field.nodes[place]!, field.attrs[place]!);
    if (wanted.has(key)) visit({ field, place }, key);
  }
}

export function siteKey(node: number, attr: number): number {
  return node * 0x1000000 + attr + 2;
}

/** For each element that stands for a record that record's row; the outermost where several share an element. */
export const rowsByElement = once((reading): { readonly get: (element: number) => number | undefined } => {
  const { fields, above, element, shapeOf, depths } = reading.values;
  const isRow = new Uint8Array(depths.length);
  for (const { rowShape } of fields) if (rowShape !== -1) isRow[rowShape] = 1;
  let most = -1;
  for (let row = 0; row < element.length; row++) if (element[row]! > most) most = element[row]!;
  const rows = new Int32Array(most + 1).fill(-1);
  // Rows around others come first.
  for (let row = 0; row < element.length; row++)
    if (isRow[shapeOf[row]!] === 1 && rows[element[row]!] === -1) rows[element[row]!] = row;
  // A record that holds nothing but records has no value of its own.
  for (const row of rows.slice())
    if (row !== -1)
      for (let at = above[row]!; at !== -1 && rows[element[at]!] === -1; at = above[at]!) rows[element[at]!] = at;
  return { get: (at) => (at <= most && rows[at] !== -1 ? rows[at] : undefined) };
}, byStructure);

export function siteOf({ nodes, attrs }: FieldData, place: number) {
  return { node: nodes[place]!, attr: attrs[place]! };
}
