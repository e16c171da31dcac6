import type { Tree } from '../../xml/tree.ts';
import { SiteSet } from '../fields/site-set.ts';
import type { Reading } from '../reading.ts';
import { emptySecrets } from './empty-secrets.ts';
import { hiddenIn } from './secrets-in-text.ts';

const cache = new WeakMap<Reading, SiteSet>();

/** Where secrets stand, documents that hold some, and empty places where one would stand. */
export function hiddenSites(tree: Tree, reading: Reading): SiteSet {
  const known = cache.get(reading);
  if (known) return known;
  const empty = emptySecrets(tree, reading).map((site) => ({ site }));
  const made = new SiteSet(hiddenIn(tree, reading), empty);
  cache.set(reading, made);
  return made;
}
