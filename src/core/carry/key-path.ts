import type { Key } from '../reading/reading.ts';
import { pathOf } from '../xml/path.ts';
import { attribute, childNamed, type Tree } from '../xml/tree.ts';

/** The site of a record's key, for `set-value`; null where it has none that can be set. */
export function keyPath(tree: Tree, key: Key, node: number): string | null {
  switch (key.by) {
    case 'tag':
      return `${pathOf(tree, node)}/name()`;
    case 'attribute':
      return attribute(tree, node, key.name) === -1 ? null : `${pathOf(tree, node)}/@${key.name}`;
    case 'leaf': {
      let at = node;
      for (const step of key.path) at = at === -1 ? -1 : childNamed(tree, at, step);
      return at === -1 ? null : pathOf(tree, at);
    }
    case 'position':
      return null;
    default:
      return key satisfies never;
  }
}
