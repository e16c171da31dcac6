import { attributeValue, type Site } from './site.ts';
import { attribute, attributesOf, elementsOf, isElement, type Tree } from './tree.ts';

/**
 * The site that is to `to` what `site` is to `from`: down the same names, past elements whose attributes tell them apart
 * in the same way. Null where `to` has no such place.
 */
export function likeSite(tree: Tree, site: Site, from: number, to: number): Site | null {
  const steps: number[] = [];
  for (let node = site.node; node !== from; node = tree.parent[node]!) {
    if (node === -1) return null;
    steps.unshift(node);
  }
  let at = to;
  for (const step of steps) {
    at = childLike(tree, at, step, step === site.node ? site.attr : -1);
    if (at === -1) return null;
  }
  if (site.attr < 0) return { node: at, attr: site.attr };
  const attr = attribute(tree, at, tree.names[tree.attrName[site.attr]!]!);
  return attr === -1 ? null : { node: at, attr };
}

/** The child of `parent` with the name of `like` and, where several have it here or there, its attributes but `except`. */
function childLike(tree: Tree, parent: number, like: number, except: number): number {
  if (!isElement(tree, parent)) return -1;
  const named = (holder: number) => [...elementsOf(tree, holder)].filter((node) => tree.name[node] === tree.name[like]);
  const same = named(parent);
  if (same.length <= 1 && named(tree.parent[like]!).length <= 1) return same[0] ?? -1;
  const [first, end] = attributesOf(tree, like);
  const exact = same.filter((node) => {
    for (let attr = first; attr < end; attr++) {
      if (attr === except) continue;
      const own = attribute(tree, node, tree.names[tree.attrName[attr]!]!);
      if (own === -1 || attributeValue(tree, own) !== attributeValue(tree, attr)) return false;
    }
    return true;
  });
  return exact.length === 1 ? exact[0]! : -1;
}
