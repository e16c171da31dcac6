import { templateOf } from '../../xml/path.ts';
import { TEXT } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import type { Outline } from '../outline/outline.ts';
import type { Collection, Key } from '../reading.ts';
import type { Structure } from '../shapes/structure.ts';
import type { KeyField, KeyTable } from './key-table.ts';

export interface Collections {
  readonly list: readonly Collection[];
  /** Indices into `list` for each shape whose nodes are records. */
  readonly ofShape: ReadonlyMap<number, readonly number[]>;
}

/** Records that stand together, parent by parent. A single record counts where others name it. */
export function collectionsOf(
  outline: Outline,
  structure: Structure,
  records: readonly boolean[],
  keys: KeyTable,
  isNamed: (shape: number) => boolean,
  /** The key that someone chose for a shape, null for none. */
  chosenKey: (shape: number) => Key | null,
): Collections {
  const list: Collection[] = [];
  const ofShape = new Map<number, number[]>();
  const best = new Map<number, KeyField>();
  for (const key of keys.keys) if (key.best) best.set(key.shape, key);
  for (const shape of structure.shapes) {
    if (!records[shape.index]) continue;
    const many = shape.repeated || shape.keyedByTag;
    if (!many && !isNamed(shape.index)) continue;
    const own = best.get(shape.index);
    const found: Key = shape.keyedByTag ? { by: 'tag' } : own ? keyPath(own.field, structure) : { by: 'position' };
    const key = chosenKey(shape.index) ?? found;
    const name = shapePath(structure, shape.index);
    let parent = -1;
    let current: number[] = [];
    let first = -1;
    const indices: number[] = [];
    const close = () => {
      if (parent === -1 || current.length === 0) return;
      const item = shape.keyedByTag ? null : outline.tree.names[outline.tree.name[current[0]!]!]!;
      indices.push(list.length);
      const parts = partsOf(outline, first);
      const made = { parent, item, key, label: null, records: current, ...(parts > 0 && { parts }) };
      list.push(listOf(outline.tree, made) === name ? made : { ...made, list: name });
    };
    const byParent = new Map<number, number[]>();
    for (const node of shape.nodes) {
      const holder = outline.parent[node]!;
      const above = holder === -1 ? -1 : outline.element[holder]!;
      if (above !== parent) {
        close();
        parent = above;
        first = node;
        current = byParent.get(above) ?? [];
        byParent.set(above, current);
      }
      current.push(outline.element[node]!);
    }
    close();
    ofShape.set(shape.index, indices);
  }
  return { list, ofShape };
}

/**
 * What a list is called, wherever it stands: names of elements from the root, with what tells kinds of one name apart, as
 * in `FieldData.template`: `/box/zones/zone`, `/dump/table{zone}/row`; `*` for records whose tags are their keys.
 */
export const listOf = (tree: Tree, { list, parent, item }: Collection): string =>
  list ?? `${templateOf(tree, { node: parent, attr: TEXT })}/${item ?? '*'}`;

/** What records of one tag are told apart by, where they are of several kinds: `zone` of `/dump/table{zone}`; null else. */
export const kindIn = (list: string | undefined): string | null => /\{([^{}]*)\}$/.exec(list ?? '')?.[1] ?? null;

/** The last step of the path of all records of a list: `rule`, `object{segment}`; `*` where tags are keys. */
export function stepOf({ list, item }: Pick<Collection, 'list' | 'item'>): string {
  const kind = kindIn(list);
  return kind === null ? (item ?? '*') : `${item ?? '*'}{${encodeURIComponent(kind)}}`;
}

/** The same for the records of a shape. */
export function shapePath({ shapes }: Structure, shape: number): string {
  const steps: string[] = [];
  for (let at = shape; at !== -1; at = shapes[at]!.above) steps.push(shapes[at]!.step);
  return `/${steps.reverse().join('/')}`;
}

/** How many parts of a key lead to a node. */
function partsOf({ parent, part }: Outline, node: number): number {
  let count = 0;
  for (let at = node; at !== -1 && part[at] === 1; at = parent[at]!) count++;
  return count;
}

/** The collections with the field that people read beside the key, where they have one. */
export function withLabels(
  { list, ofShape }: Collections,
  labels: ReadonlyMap<number, FieldData>,
  structure: Structure,
): Collection[] {
  const labelled = [...list];
  for (const [shape, field] of labels) {
    for (const at of ofShape.get(shape) ?? []) labelled[at] = { ...labelled[at]!, label: keyPath(field, structure) };
  }
  return labelled;
}

const keyPath = (field: FieldData, structure: Structure): Key =>
  keyOfField(field, field.rowShape === -1 ? 0 : structure.shapes[field.rowShape]!.depth + 1);

/** A step without the mark of the kind of record that it belongs to. */
export const withoutKind = (step: string): string => step.replace(/\{.*$/, '');

/** A field as the key of its records. @param depth how many of its steps lead to the record, the record's own included. */
export function keyOfField(field: Pick<FieldData, 'tag' | 'steps'>, depth: number): Key {
  if (field.tag) return { by: 'tag' };
  const path = field.steps.slice(depth);
  const last = path[path.length - 1];
  if (last === undefined) return { by: 'position' };
  if (last.startsWith('@') && path.length === 1) return { by: 'attribute', name: last.slice(1) };
  return { by: 'leaf', path: path.map(withoutKind) };
}
