import { type Site, TAG, TEXT } from './site.ts';
import { attribute, firstElement, isElement, nameOf, nextElement, type Tree } from './tree.ts';

/**
 * Paths as people write them: `/root[1]/section[1]/item[3]`, each index counting siblings of the same name from 1;
 * `…/item[3]/@name` for an attribute, `…/item[3]/name()` for a record's own tag. Names are as written.
 */
const ordinals = new WeakMap<Tree, Int32Array>();

/** For each element its place among the siblings of its name, from 1; made once for a tree, in one pass. */
export function ordinalsOf(tree: Tree): Int32Array {
  const known = ordinals.get(tree);
  if (known) return known;
  const made = new Int32Array(tree.size);
  const seen = new Int32Array(tree.names.length);
  const stamp = new Int32Array(tree.names.length).fill(-2);
  for (let node = -1; node < tree.size; node++) {
    if (node >= 0 && !isElement(tree, node)) continue;
    const first = node === -1 ? tree.root : firstElement(tree, node);
    for (let child = first; child !== -1; child = node === -1 ? -1 : nextElement(tree, child)) {
      const name = tree.name[child]!;
      seen[name] = stamp[name] === node ? seen[name]! + 1 : 1;
      stamp[name] = node;
      made[child] = seen[name]!;
    }
  }
  ordinals.set(tree, made);
  return made;
}

export function pathOf(tree: Tree, node: number): string {
  const ordinal = ordinalsOf(tree);
  const steps: string[] = [];
  for (let at = node; at !== -1; at = tree.parent[at]!) steps.push(`/${nameOf(tree, at)}[${ordinal[at]}]`);
  return steps.reverse().join('');
}

export function sitePath(tree: Tree, site: Site): string {
  const path = pathOf(tree, site.node);
  if (site.attr === TEXT) return path;
  return site.attr === TAG ? `${path}/name()` : `${path}/@${tree.names[tree.attrName[site.attr]!]}`;
}

/** The path of a site without indices: the same for all sites that stand alike. */
export function templateOf(tree: Tree, { node, attr }: Site): string {
  const steps: string[] = [];
  for (let at = node; at !== -1; at = tree.parent[at]!) steps.push(`/${nameOf(tree, at)}`);
  const path = steps.reverse().join('');
  if (attr === TEXT) return path;
  return attr === TAG ? `${path}/name()` : `${path}/@${tree.names[tree.attrName[attr]!]}`;
}

const step = /^([^[\]]+)\[(\d+)\]$/;

/** The element at a path; -1 where the tree has none there or the path is not one. A missing index means 1. */
export function nodeAt(tree: Tree, path: string): number {
  const steps = path.split('/').slice(1);
  if (!path.startsWith('/') || steps.length === 0) return -1;
  let node = -1;
  for (const [depth, text] of steps.entries()) {
    const parts = step.exec(text);
    const name = parts ? parts[1]! : text;
    let left = parts ? Number(parts[2]) : 1;
    let child = depth === 0 ? tree.root : firstElement(tree, node);
    while (child !== -1 && !(nameOf(tree, child) === name && --left === 0)) {
      child = depth === 0 ? -1 : nextElement(tree, child);
    }
    if (child === -1) return -1;
    node = child;
  }
  return node;
}

/** As `nodeAt`, for many paths of one tree: each parent's children are counted once. */
export function pathFinder(tree: Tree): (path: string) => number {
  const nodes = new Map<string, number>();
  const children = new Map<number, Map<string, number[]>>();
  const childrenOf = (parent: number) => {
    let byName = children.get(parent);
    if (byName) return byName;
    byName = new Map();
    for (let child = firstElement(tree, parent); child !== -1; child = nextElement(tree, child)) {
      const name = nameOf(tree, child);
      const kin = byName.get(name);
      if (kin) kin.push(child);
      else byName.set(name, [child]);
    }
    children.set(parent, byName);
    return byName;
  };
  const find = (path: string): number => {
    const known = nodes.get(path);
    if (known !== undefined) return known;
    const cut = path.lastIndexOf('/');
    let node = -1;
    if (cut === 0) node = nodeAt(tree, path);
    else if (cut > 0) {
      const above = find(path.slice(0, cut));
      const text = path.slice(cut + 1);
      const parts = step.exec(text);
      if (above !== -1) node = childrenOf(above).get(parts ? parts[1]! : text)?.[Number(parts?.[2] ?? 1) - 1] ?? -1;
    }
    nodes.set(path, node);
    return node;
  };
  return find;
}

/** The site at a path, or null. */
export function siteAt(tree: Tree, path: string, find = (one: string) => nodeAt(tree, one)): Site | null {
  const cut = path.lastIndexOf('/');
  const last = path.slice(cut + 1);
  if (last.startsWith('@')) {
    const node = find(path.slice(0, cut));
    const attr = node === -1 ? -1 : attribute(tree, node, last.slice(1));
    return attr === -1 ? null : { node, attr };
  }
  const own = last === 'name()';
  const node = find(own ? path.slice(0, cut) : path);
  return node === -1 ? null : { node, attr: own ? TAG : TEXT };
}
