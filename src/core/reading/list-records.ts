import { valueAt } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import { type Entry, propertiesOf } from './properties.ts';
import type { Collection } from './reading.ts';

interface Index {
  readonly byElement: ReadonlyMap<number, Entry>;
  readonly byKey: ReadonlyMap<string, Entry>;
}

const indices = new WeakMap<readonly Entry[], Index>();

/**
 * What a record that is written as lines of a flat list is called: the part of their keys that is its own, with the one
 * before it where that is a number, and its label where it has one. Null for other records.
 */
export function listRecordName(
  tree: Tree,
  { parts, label }: Collection,
  record: number,
): { readonly key: string; readonly label: string } | null {
  const entries = parts === undefined ? undefined : propertiesOf(tree)?.entries.get(tree.parent[record]!);
  if (!entries) return null;
  const { byElement, byKey } = indexOf(entries);
  const own = byElement.get(record)?.parts.slice(0, parts);
  if (!own || own.length === 0) return null;
  const line = label?.by === 'leaf' ? byKey.get(joined([...own, ...label.path])) : undefined;
  return {
    key: own.slice(/^\d+$/.test(own[own.length - 1]!) ? -2 : -1).join(' '),
    label: line ? valueAt(tree, line).trim() : '',
  };
}

function indexOf(entries: readonly Entry[]): Index {
  let index = indices.get(entries);
  if (!index) {
    index = {
      byElement: new Map(entries.map((entry) => [entry.element, entry])),
      byKey: new Map(entries.map((entry) => [joined(entry.parts), entry])),
    };
    indices.set(entries, index);
  }
  return index;
}

const joined = (parts: readonly string[]) => parts.join('\u0000');
