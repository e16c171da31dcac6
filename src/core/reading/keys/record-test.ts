import type { Collection } from '../reading.ts';

const cache = new WeakMap<readonly Collection[], (node: number) => boolean>();

/** A test whether an element is a record of some collection; made once for a list of collections. */
export function recordTest(collections: readonly Collection[]): (node: number) => boolean {
  let test = cache.get(collections);
  if (!test) {
    let most = -1;
    for (const { records } of collections) for (const node of records) if (node > most) most = node;
    const marks = new Uint8Array(most + 1);
    for (const { records } of collections) for (const node of records) marks[node] = 1;
    test = (node) => marks[node] === 1;
    cache.set(collections, test);
  }
  return test;
}
