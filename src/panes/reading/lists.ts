import type { CollectionView } from '../../core/index.ts';
import { pathWords } from '../../words/decisions.ts';

/** The path of a list without indices: lists that stand alike in several places are one. */
export const listPath = ({ path, item }: Pick<CollectionView, 'path' | 'item'>): string =>
  `${path.replace(/\[\d+\]/g, '')}/${item ?? '*'}`;

/** Paths of all lists, each once, in the order of the file. */
export const listsOf = (collections: readonly CollectionView[]): string[] => [...new Set(collections.map(listPath))];

/** `/box/zones/zone` as people read it. */
export const listName = (path: string): string => pathWords(path) || path;
