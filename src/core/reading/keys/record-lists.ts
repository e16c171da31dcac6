import type { Collection, Reading } from '../reading.ts';

/** Which list each record is in. */
export class RecordLists {
  private readonly at = new Map<number, number>();

  constructor(private readonly lists: readonly Collection[]) {
    for (const [at, { records }] of lists.entries()) for (const node of records) this.at.set(node, at);
  }

  /** Index of the record's list, -1 for what is no record. */
  indexOf(node: number): number {
    return this.at.get(node) ?? -1;
  }

  /** The record's list; null for what is no record. */
  of(node: number): Collection | null {
    return this.lists[this.indexOf(node)] ?? null;
  }
}

const known = new WeakMap<readonly Collection[], RecordLists>();

/** Made once for all readings that share their lists. */
export function recordLists({ collections }: Pick<Reading, 'collections'>): RecordLists {
  let lists = known.get(collections);
  if (!lists) {
    lists = new RecordLists(collections);
    known.set(collections, lists);
  }
  return lists;
}
