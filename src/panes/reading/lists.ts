import type { CollectionView } from '../../core/index.ts';

/** All lists, each once, in the order of the file. */
export const listsOf = (collections: readonly CollectionView[]): string[] => [
  ...new Set(collections.map(({ list }) => list)),
];
