import { TAG, TEXT } from '../../xml/site.ts';
import type { Builder } from './outline-builder.ts';
import type { Entry } from './properties.ts';
import type { ValuePool } from './value-pool.ts';

interface Part {
  readonly name: string;
  readonly below: Map<string, Part>;
  readonly entries: Entry[];
  first: number;
}

/** Opens the keys of a property list into a tree below `above`; numbered leaves become a list. */
export function addEntries(b: Builder, pool: ValuePool, list: readonly Entry[], above: number): void {
  const top: Part = { name: '', below: new Map(), entries: [], first: -1 };
  for (const entry of list) {
    let part = top;
    for (const name of entry.parts) {
      let next = part.below.get(name);
      if (!next) {
        next = { name, below: new Map(), entries: [], first: entry.element };
        part.below.set(name, next);
      }
      part = next;
    }
    part.entries.push(entry);
  }
  const leaf = (entry: Entry, name: string, parent: number) => {
    const value = entry.attr === TEXT ? pool.ofText(entry.node) : pool.ofAttribute(entry.attr);
    const own = b.add(b.labelOf(name), parent, entry.element, entry.node, entry.attr, value);
    b.part[own] = 1;
  };
  const emit = (part: Part, parent: number): void => {
    for (const next of part.below.values()) {
      const inner = [...next.below.values()];
      if (inner.length > 0 && inner.every((one) => one.below.size === 0 && /^\d+$/.test(one.name))) {
        for (const one of inner) for (const entry of one.entries) leaf(entry, next.name, parent);
        for (const entry of next.entries) leaf(entry, next.name, parent);
        continue;
      }
      if (inner.length === 0) {
        for (const entry of next.entries) leaf(entry, next.name, parent);
        continue;
      }
      const own = b.add(b.labelOf(next.name), parent, next.first, next.first, TAG, -1);
      b.part[own] = 1;
      for (const entry of next.entries) leaf(entry, next.name, own);
      emit(next, own);
    }
  };
  emit(top, above);
}
