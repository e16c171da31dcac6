import { recordTest } from '../reading/keys/record-test.ts';
import type { Reading } from '../reading/reading.ts';
import { pathOf } from '../xml/path.ts';
import type { Tree } from '../xml/tree.ts';

/** Ends the path of a record that is written as several elements: the one that stands for it, and all its others. */
export const RECORD = '/record()';

const cache = new WeakMap<Reading, ReadonlyMap<number, readonly number[]>>();

/**
 * Records that are written as several elements side by side, as in a list of properties: by the element that stands for
 * the record all the others that belong to it, those of records inside it included, ascending.
 */
export function spreadRecords(tree: Tree, reading: Reading): ReadonlyMap<number, readonly number[]> {
  const known = cache.get(reading);
  if (known) return known;
  const isRecord = recordTest(reading.collections);
  const { fields, marks, above, element, shapeOf, collected } = reading.values;
  const fellows = new Map<number, Set<number>>();
  const isIn = (node: number, top: number) => node >= top && node < tree.after[top]!;
  /** 1 for rows whose element lies in that of the row above, and so on to the top: most are. */
  const nested = new Uint8Array(above.length);
  const isNested = (row: number): boolean => row === -1 || nested[row] === 1;
  for (let row = 0; row < above.length; row++) {
    const around = above[row]!;
    if (isNested(around) && (around === -1 || isIn(element[row]!, element[around]!))) nested[row] = 1;
  }
  for (const { at, rows } of [...fields, ...marks]) {
    for (let place = 0; place < at.length; place++) {
      // The whole entry, which may hold its value apart from its key.
      const node = element[at[place]!]!;
      const own = rows[place]!;
      if (own === -1 || (nested[own] === 1 && isIn(node, element[own]!))) continue;
      for (let row = own; row !== -1; row = above[row]!) {
        const top = element[row]!;
        // A row that folds wrappers or opens keys may have its values beside the element that stands for it.
        if (!collected.has(shapeOf[row]!) || !isRecord(top) || isIn(node, top)) continue;
        const held = fellows.get(top);
        if (held) held.add(node);
        else fellows.set(top, new Set([node]));
      }
    }
  }
  const made = new Map([...fellows].map(([top, held]) => [top, [...held].sort((a, b) => a - b)]));
  cache.set(reading, made);
  return made;
}

/** The path that stands for a record with all its elements. */
export const recordPath = (tree: Tree, reading: Reading, node: number): string =>
  spreadRecords(tree, reading).has(node) ? pathOf(tree, node) + RECORD : pathOf(tree, node);
