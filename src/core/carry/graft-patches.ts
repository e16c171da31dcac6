import { type Edits, siteKey, type ValueEdit } from '../compile/edits.ts';
import { type Patch, PatchSet } from '../patch/patch-set.ts';
import { good, type Result } from '../trouble.ts';
import { writeValue } from '../xml/edit.ts';
import { removePatches } from '../xml/remove.ts';
import { TEXT } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import type { Side } from './graft.ts';
import type { Orders } from './merge.ts';
import { Placing } from './place.ts';
import { styleOf } from './style.ts';

/** What a receiver is told to do, as patches on its text and as facts; `from` is what nodes of the donor stand for. */
export function writeOrders(
  from: Tree,
  { tree, fits }: Pick<Side, 'tree' | 'fits'>,
  orders: Orders,
): Result<{ patches: PatchSet; edits: Edits }> {
  const values = new Map<string, ValueEdit>();
  const patches: Patch[] = [];
  const { lineEnd } = styleOf(tree);
  for (const { site, value } of orders.values) {
    const made = writeValue(tree, site, value, fits, 'graft');
    if (!made.ok) return made;
    for (const patch of made.value)
      patches.push(site.attr === TEXT ? { ...patch, text: patch.text.replaceAll('\n', lineEnd) } : patch);
    values.set(siteKey(site), { site, value, owners: ['graft'] });
  }
  const removed = [...orders.removed].sort((a, b) => a - b);
  const removal = removePatches(
    tree,
    removed.map((node) => ({ node, owner: 'graft' })),
  );
  const placing = new Placing(from, tree, fits);
  for (const swap of orders.swaps) placing.swap(swap);
  placing.insert(orders.inserts);
  const out = [...removed, ...orders.swaps.map(({ to }) => to)].sort((a, b) => a - b);
  return good({
    patches: PatchSet.of(tree.text, [...patches, ...removal.patches, ...placing.patches]),
    edits: {
      leftOut: new Map(out.map((node) => [node, 'graft'])),
      goneComments: removal.comments,
      values,
      tags: new Map(),
      added: [],
      attributes: new Map(),
      foreign: placing.foreign,
    },
  });
}
