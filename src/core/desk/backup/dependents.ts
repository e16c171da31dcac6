import { needsOf } from '../../carry/needs.ts';
import { withinAny } from '../../compile/compile.ts';
import { listOf } from '../../reading/keys/collections.ts';
import { type RecordLists, recordLists } from '../../reading/keys/record-lists.ts';
import { recordName } from '../../reading/keys/record-name.ts';
import type { Collection, Reading } from '../../reading/reading.ts';
import type { DependentsView, FollowView } from '../../views.ts';
import { nodeAt, pathOf } from '../../xml/path.ts';
import { nameOf, type Tree } from '../../xml/tree.ts';
import { type Backup, nodePlace } from './open.ts';

/** How many places of a kind are told one by one. */
const PLACES = 50;

/**
 * What would miss a record, at once and in the end: everything to leave out with it. Null where the path names nothing.
 * `all` holds each record or single setting once, nearest first; leave all of them out and no reference is cut.
 */
export function dependentsOf(backup: Backup, reading: Reading, path: string): DependentsView | null {
  const { tree } = backup;
  const node = nodeAt(tree, path);
  if (node === -1) return null;
  const needs = needsOf(tree, reading);
  const direct = needs.neededBy(node).filter(({ kind }) => kind !== 'inside');
  const inside = withinAny(tree, [node]);
  const found = needs.allNeededBy(node).filter((chain) => !inside(chain.node));
  // What lies in another that goes goes with it.
  const tops = outermost(
    tree,
    found.map((chain) => chain.node),
  );
  const chains = found.filter((chain) => tops.has(chain.node));
  const lists = recordLists(reading);
  return {
    path,
    direct: followViews(
      backup,
      lists,
      direct.map(({ from }) => from),
    ),
    all: chains.map((chain) => {
      const collection = lists.of(chain.node);
      const last = chain.why.at(-1)!;
      return {
        path: pathOf(tree, chain.node),
        name: collection ? recordName(tree, collection, chain.node) : nameOf(tree, chain.node),
        collection: collection ? listOf(tree, collection) : '',
        place: nodePlace(backup, chain.node),
        because: pathOf(tree, last.to),
        steps: chain.why.length,
      };
    }),
  };
}

function outermost(tree: Tree, nodes: readonly number[]): Set<number> {
  const tops = new Set<number>();
  let end = 0;
  for (const node of [...nodes].sort((a, b) => a - b)) {
    if (node < end) continue;
    tops.add(node);
    end = tree.after[node]!;
  }
  return tops;
}

/** Records and settings by their kind, each counted once, the kind with the most first. */
export function followViews(backup: Backup, lists: RecordLists, nodes: Iterable<number>): FollowView[] {
  const groups = new Map<Collection | null, number[]>();
  for (const node of new Set(nodes)) {
    const collection = lists.of(node);
    const group = groups.get(collection);
    if (group) group.push(node);
    else groups.set(collection, [node]);
  }
  return [...groups]
    .map(([collection, group]) => ({
      collection: collection ? listOf(backup.tree, collection) : '',
      count: group.length,
      places: group
        .sort((a, b) => a - b)
        .slice(0, PLACES)
        .map((node) => nodePlace(backup, node)),
    }))
    .sort((a, b) => b.count - a.count);
}
