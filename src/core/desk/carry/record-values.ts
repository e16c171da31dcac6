import type { Plan } from '../../plan/plan.ts';
import type { Reading } from '../../reading/reading.ts';
import { hiddenSites } from '../../reading/secrets/hidden-sites.ts';
import type { CarryValue } from '../../views.ts';
import { sitePath } from '../../xml/path.ts';
import { type Site, TAG, TEXT, valueAt } from '../../xml/site.ts';
import { attributesOf, isElement, isLeaf, nameOf, type Tree } from '../../xml/tree.ts';
import type { Backup } from '../backup/open.ts';
import type { CarryTree } from './carry-tree.ts';

/** Longer values are certificates, keys and files, which are pasted, not typed; in units. */
const LONG = 300;

/** A value of a record, with the names that lead to it. */
export interface Leaf {
  readonly site: Site;
  readonly name: string;
}

/**
 * The values of a record or setting: texts and attributes inside it that belong to no other entry, in the order of the
 * file; before them its own name where that is its key.
 * @param deep whether those of the entries inside it are told, too.
 */
export function leavesOf(
  tree: Tree,
  { units }: Pick<CarryTree, 'units'>,
  node: number,
  tagIsKey: boolean,
  deep = false,
): Leaf[] {
  const leaves: Leaf[] = [];
  const own = units.of[node]!;
  if (tagIsKey) leaves.push({ site: { node, attr: TAG }, name: '' });
  for (let at = node; at < tree.after[node]!; at++) {
    if (!isElement(tree, at) || (!deep && units.of[at] !== own)) continue;
    const name = nameFrom(tree, node, at);
    const [first, end] = attributesOf(tree, at);
    for (let attr = first; attr < end; attr++) {
      const attribute = tree.names[tree.attrName[attr]!]!;
      if (attribute === 'xmlns' || attribute.startsWith('xmlns:')) continue;
      leaves.push({ site: { node: at, attr }, name: `${name}${name && ' '}@${attribute}` });
    }
    if (isLeaf(tree, at)) leaves.push({ site: { node: at, attr: TEXT }, name });
  }
  return leaves;
}

function nameFrom(tree: Tree, top: number, node: number): string {
  const names: string[] = [];
  for (let at = node; at !== top; at = tree.parent[at]!) names.unshift(nameOf(tree, at));
  return names.join(' / ');
}

/** Values for the page: no secret is told, and long ones are cut. */
export function valueViews({ tree }: Backup, reading: Reading, plan: Plan, leaves: readonly Leaf[]): CarryValue[] {
  const secrets = hiddenSites(tree, reading);
  const set = new Map<string, string>();
  for (const decision of plan.decisions)
    if (decision.kind === 'set-value' && decision.was === undefined) set.set(decision.path, decision.value);
  return leaves.map(({ site, name }) => {
    const path = sitePath(tree, site);
    const value = valueAt(tree, site).trim();
    const secret = secrets.has(site.node, site.attr);
    const now = set.get(path) ?? null;
    const long = value.length > LONG || value.includes('\n');
    return {
      path,
      name: name || (site.attr === TAG ? 'its own name' : nameOf(tree, site.node)),
      value: secret ? '' : value.slice(0, LONG),
      secret,
      held: value !== '',
      long,
      set: secret && now !== null ? '' : now,
    };
  });
}
