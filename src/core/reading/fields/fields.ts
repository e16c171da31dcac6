import type { Kind } from '../names/literals.ts';
import type { Outline } from '../outline/outline.ts';
import type { Padded } from '../outline/value-pool.ts';
import type { Shape, Structure } from '../shapes/structure.ts';
import { listOf } from './long-lists.ts';
import { Places } from './places.ts';
import { SiteSet } from './site-set.ts';

/**
 * A field: all places of one shape. Two places have the same shape when the chains of names from the root are equal,
 * indices left out and `*` put for tags that are keys of records. Values are the strong evidence that a reading works
 * with, so they are decoded and trimmed once, here, and shared.
 */
export interface Field {
  /** Its place in the table. */
  readonly index: number;
  /** Names from the root down; the last one is `@name` for an attribute, `name()` for a record's own tag. */
  readonly steps: readonly string[];
  /** `/root/section/item/leaf`: the steps joined. */
  readonly template: string;
  /** Parallel arrays, one entry for each place with a value, in document order. Empty values are left out. */
  readonly nodes: readonly number[];
  /** Index of the attribute, or TEXT, or TAG: with `nodes` a site (see xml/site.ts). */
  readonly attrs: readonly number[];
  /** Decoded and trimmed. */
  readonly values: readonly string[];
  /** Where each value begins in the decoded text that it is a part of; null where values are all that stands there. */
  readonly begins: readonly number[] | null;
  /** Index of the innermost collection around it, -1 for none. */
  readonly collection: number;
  /** The innermost record around each place, as an element; -1 for none. */
  readonly records: readonly number[];
}

/** The name that people know a field by: the name of its column where it has one, else its last step without marks. */
export function leafName({ steps }: Pick<Field, 'steps'>): string {
  const last = steps[steps.length - 1] ?? '';
  const before = steps[steps.length - 2] ?? '';
  if (last === 'name()') return localName((before === '*' ? steps[steps.length - 3] : before) ?? '');
  if (last.endsWith(']')) return last.slice(last.indexOf('[') + 1, -1);
  if (!last.startsWith('@')) return localName(last);
  return before.endsWith(']') ? before.slice(before.indexOf('[') + 1, -1) : localName(last.slice(1));
}

/** A name without its prefix. */
export function localName(name: string): string {
  return name.slice(name.lastIndexOf(':') + 1);
}

/** A field with what the inference itself needs of it. */
export interface FieldData extends Field {
  readonly shape: number;
  /** Outline node of each place. */
  readonly at: readonly number[];
  /** Outline node of the record around each place, -1 for none. */
  readonly rows: readonly number[];
  /** Shape of those records, -1 for none. */
  readonly rowShape: number;
  /** True where some record has several. */
  readonly several: boolean;
  /** True for tags of records used as values. */
  readonly tag: boolean;
  /** True for tags that are parts of keys: they stand in no tag, so nothing can be said of their place. */
  readonly virtual: boolean;
  /** True for an attribute that says the same of every leaf of its name, as a type: nothing of the record. */
  readonly aside: boolean;
  /** Each value once, in the order of their first places; parallel: how often it stands there. */
  readonly distinct: readonly string[];
  readonly times: readonly number[];
  /** The kind of each of these, worked out when first asked for. */
  readonly kinds: readonly Kind[];
  /** For each place the index of its value in `distinct`. */
  readonly which: readonly number[];
  /** The same places with other values in them. */
  with(values: readonly string[]): FieldData;
}

/** True where records have one value each, and all differ. */
export const isOneEach = ({ several, tag, distinct, values }: FieldData): boolean =>
  !several && !tag && distinct.length === values.length;

/** The same where up to a quarter may repeat. */
export const isNearlyOneEach = ({ several, tag, distinct, values }: FieldData): boolean =>
  !several && !tag && distinct.length * 4 >= values.length * 3;

/** All values of a document. A row is a record, by its outline node. */
export interface ValueTable {
  readonly fields: readonly FieldData[];
  /** By shape, how many steps lead from the root to it, its own included. */
  readonly depths: readonly number[];
  /** For each row the row around it, -1 for none. */
  readonly above: Int32Array;
  /** By outline node, one past the last node inside it: rows lie in rows as their nodes do. */
  readonly after: Int32Array;
  /** By outline node its shape; see `FieldData.rowShape`. */
  readonly shapeOf: Int32Array;
  /** Shapes whose rows are records of collections: rows of others may begin with the same element. */
  readonly collected: ReadonlySet<number>;
  /** For each row, and any other outline node, the element that stands for it. */
  readonly element: Int32Array;
  /** Leaves without a value, which tell by being there: `<any/>`, `<active></active>`. */
  readonly marks: readonly Mark[];
  /** Values that have white space around them in the source. */
  readonly padded: Padded;
  /** Heads of tables, as elements: the names of columns, no values. */
  readonly headers: ReadonlySet<number>;
  /** Places whose text is several values. */
  readonly texts: SiteSet;
}

/** Leaves of one shape that are empty. Parallel arrays in document order. */
export interface Mark {
  readonly steps: readonly string[];
  /** Outline node of each place. */
  readonly at: readonly number[];
  readonly rows: readonly number[];
  readonly nodes: readonly number[];
}

export function valueTableOf(
  outline: Outline,
  structure: Structure,
  records: readonly boolean[],
  fields: readonly FieldData[],
  collected: ReadonlySet<number>,
): ValueTable {
  const above = new Int32Array(outline.size).fill(-1);
  for (let node = 1; node < outline.size; node++) {
    const parent = outline.parent[node]!;
    above[node] = records[structure.shapeOf[parent]!] ? parent : above[parent]!;
  }
  const depths = structure.shapes.map(({ depth }) => depth + 1);
  return {
    fields,
    depths,
    above,
    after: outline.after,
    shapeOf: structure.shapeOf,
    collected,
    element: outline.element,
    marks: marksOf(outline, structure, above),
    padded: outline.padded,
    headers: outline.headers,
    texts: new SiteSet(
      [...outline.begins.keys()].map((at) => ({ site: { node: outline.node[at]!, attr: outline.attr[at]! } })),
    ),
  };
}

/** The same table with other fields; written out for the reason given in `inOneShape`. */
export function withFields(table: ValueTable, fields: readonly FieldData[]): ValueTable {
  return {
    fields,
    depths: table.depths,
    above: table.above,
    after: table.after,
    shapeOf: table.shapeOf,
    collected: table.collected,
    element: table.element,
    marks: table.marks,
    padded: table.padded,
    headers: table.headers,
    texts: table.texts,
  };
}

function marksOf(outline: Outline, structure: Structure, above: Int32Array): Mark[] {
  const marks: Mark[] = [];
  const steps: (readonly string[])[] = [];
  for (const shape of structure.shapes) {
    const path = shape.above === -1 ? [shape.step] : [...steps[shape.above]!, shape.step];
    steps.push(path);
    if (shape.structured) continue;
    const empty = shape.nodes.filter((node) => outline.value[node] === -1);
    if (empty.length === 0) continue;
    marks.push({
      steps: path,
      at: empty,
      rows: empty.map((node) => above[node]!),
      nodes: empty.map((node) => outline.node[node]!),
    });
  }
  return marks;
}

export function fieldsOf(outline: Outline, structure: Structure, rowShape: Int32Array): FieldData[] {
  const fields: FieldData[] = [];
  // Which values a field has had, without a set for each: by value number, valid where the stamp is the field's.
  const seenOf = (size: number) => ({ stamp: new Int32Array(size), index: new Int32Array(size) });
  const valueSeen = seenOf(outline.values.length);
  const labelSeen = seenOf(outline.labels.length);
  let stamp = 0;
  const steps: (readonly string[])[] = [];
  const { shapeOf } = structure;
  const { parent, value: valueAt, label: labelOf } = outline;
  const isLeaf = ({ nodes }: Shape) => nodes.some((node) => valueAt[node] !== -1);
  const make = (shape: Shape, nodes: readonly number[], tag: boolean) => {
    const own = tag ? shape.index : rowShape[shape.index]!;
    const ids = tag ? labelOf : valueAt;
    let count = nodes.length;
    if (!tag) for (const node of nodes) if (valueAt[node] === -1) count--;
    if (count === 0) return;
    const at = count === nodes.length ? nodes : nodes.filter((node) => valueAt[node] !== -1);
    const texts = tag ? outline.labels : outline.values;
    const seen = tag ? labelSeen : valueSeen;
    const from = ++stamp;
    const values = listOf<string>(count);
    const rows = listOf<number>(count);
    const which = listOf<number>(count);
    const distinct: string[] = [];
    const times: number[] = [];
    let last = -1;
    let several = false;
    let virtual = false;
    for (let place = 0; place < count; place++) {
      const node = at[place]!;
      let row = own === -1 ? -1 : node;
      while (row !== -1 && shapeOf[row] !== own) row = parent[row]!;
      if (row !== -1 && row === last) several = true;
      last = row;
      rows[place] = row;
      if (tag && outline.part[node]) virtual = true;
      const id = ids[node]!;
      const text = texts[id]!;
      if (seen.stamp[id] !== from) {
        seen.stamp[id] = from;
        seen.index[id] = distinct.push(text) - 1;
        times.push(0);
      }
      const index = seen.index[id]!;
      values[place] = text;
      which[place] = index;
      times[index]!++;
    }
    const path = tag ? [...steps[shape.index]!, 'name()'] : steps[shape.index]!;
    const { index } = shape;
    const isPart = outline.begins.size > 0 && !tag && at.some((node) => outline.begins.has(node));
    const begins = isPart ? at.map((node) => outline.begins.get(node) ?? 0) : null;
    const around = shape.above === -1 || shape.above === own ? -1 : shape.above;
    const aside = !tag && around !== -1 && count > 1 && distinct.length === 1 && isLeaf(structure.shapes[around]!);
    const counts = { rowShape: own, several, tag, virtual, aside, distinct, times, which, begins };
    fields.push(new Places(outline, { index: fields.length, steps: path, shape: index, at, values, rows, ...counts }));
  };
  for (const shape of structure.shapes) {
    steps.push(shape.above === -1 ? [shape.step] : [...steps[shape.above]!, shape.step]);
    if (shape.keyedByTag) make(shape, shape.nodes, true);
    make(shape, shape.nodes, false);
  }
  return fields;
}
