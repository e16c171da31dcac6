import { type Site, TEXT, textOf } from '../../xml/site.ts';
import { attributesOf, isElement, isLeaf, nameOf, type Tree } from '../../xml/tree.ts';
import type { Reading } from '../reading.ts';
import { nameSays } from './secret-names.ts';

const cache = new WeakMap<Reading, readonly Site[]>();

/**
 * Empty places where a secret would stand: what is typed there is one. Told by their name, or since others of their name
 * hold secrets.
 */
export function emptySecrets(tree: Tree, reading: Reading): readonly Site[] {
  const known = cache.get(reading);
  if (known) return known;
  const sites: Site[] = [];
  const names = new Set(reading.secrets.map(({ site }) => siteName(tree, site)));
  const isSecret = (site: Site) => {
    const name = siteName(tree, site);
    if (names.has(name)) return true;
    const says = nameSays(name.slice(name.lastIndexOf(' ') + 1));
    return says !== null && says !== 'public' && says !== 'about-secrets';
  };
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const text = { node, attr: TEXT };
    if (isLeaf(tree, node) && isShort(tree, node) && textOf(tree, node).trim() === '' && isSecret(text))
      sites.push(text);
    const [first, end] = attributesOf(tree, node);
    for (let attr = first; attr < end; attr++)
      if (tree.valueStart[attr] === tree.valueEnd[attr] && isSecret({ node, attr })) sites.push({ node, attr });
  }
  cache.set(reading, sites);
  return sites;
}

const isShort = (tree: Tree, node: number) => tree.closeStart[node]! - tree.openEnd[node]! < 80;

/** The names of the element around it, of its own element, and of its attribute. */
function siteName(tree: Tree, { node, attr }: Site): string {
  const parent = tree.parent[node]!;
  const around = parent === -1 ? '' : nameOf(tree, parent);
  return attr >= 0 ? `${nameOf(tree, node)} ${tree.names[tree.attrName[attr]!]!}` : `${around} ${nameOf(tree, node)}`;
}
