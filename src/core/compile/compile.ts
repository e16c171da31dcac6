import { type Patch, PatchSet } from '../patch/patch-set.ts';
import type { Plan } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import type { Trouble } from '../trouble.ts';
import { type Fits, writeSpan, writeTag } from '../xml/edit.ts';
import { removePatches } from '../xml/remove.ts';
import { TAG, valueAt } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import { type Edits, siteKey, type ValueEdit } from './edits.ts';
import { leftOutNodes } from './leave-out.ts';
import { type PortRename, portRenames } from './rename-ports.ts';

/** What a plan comes to for one file. Where `troubles` is not empty, some entry of the plan had no or no safe effect. */
export interface Compiled {
  readonly patches: PatchSet;
  readonly edits: Edits;
  readonly troubles: readonly Trouble[];
}

/** (tree, reading, plan) → patches on the original text, and the same said as facts. The order of decisions is nothing. */
export function compile(tree: Tree, reading: Reading, plan: Plan, fits: Fits): Compiled {
  const troubles: Trouble[] = [];
  const leftOut = leftOutNodes(tree, plan, troubles);
  const gone = withinAny(tree, [...leftOut.keys()]);
  const renames = portRenames(reading, plan, troubles).filter(({ mention }) => !gone(mention.site.node));
  const removals = [...leftOut].map(([node, owner]) => ({ node, owner }));
  const removed = removePatches(tree, removals);
  const patches: Patch[] = removed.patches;
  const values = new Map<string, ValueEdit>();
  const tags = new Map<number, { name: string; owner: string }>();
  for (const [key, changes] of bySite(renames)) {
    const { site } = changes[0]!.mention;
    const value = spliced(valueAt(tree, site), changes);
    const owners = [...new Set(changes.map((change) => change.owner))];
    if (site.attr === TAG) {
      const made = writeTag(tree, site.node, value, owners.join(' + '));
      if (!made.ok) troubles.push(made.trouble);
      else {
        patches.push(...made.value);
        tags.set(site.node, { name: value, owner: owners.join(' + ') });
      }
      continue;
    }
    const made = changes.map(({ mention, at, to, owner }) =>
      writeSpan(tree, site, at, at + mention.port.length, to, fits, owner),
    );
    const failed = made.find((result) => !result.ok);
    if (failed && !failed.ok) {
      troubles.push(failed.trouble);
      continue;
    }
    patches.push(...made.flatMap((result) => (result.ok ? [result.value] : [])));
    values.set(key, { site, value, owners });
  }
  return {
    patches: PatchSet.of(tree.text, patches),
    edits: { leftOut, goneComments: removed.comments, values, tags },
    troubles,
  };
}

function bySite(renames: readonly PortRename[]): Map<string, PortRename[]> {
  const groups = new Map<string, PortRename[]>();
  for (const rename of renames) {
    const key = siteKey(rename.mention.site);
    const group = groups.get(key);
    if (group) group.push(rename);
    else groups.set(key, [rename]);
  }
  return groups;
}

/** The value with every port in it replaced. */
function spliced(value: string, changes: readonly PortRename[]): string {
  let result = '';
  let at = 0;
  for (const change of [...changes].sort((a, b) => a.at - b.at)) {
    result += value.slice(at, change.at) + change.to;
    at = change.at + change.mention.port.length;
  }
  return result + value.slice(at);
}

/** A test whether a node lies in one of the given subtrees; they are in document order and none holds another. */
export function withinAny(tree: Tree, tops: readonly number[]): (node: number) => boolean {
  return (node) => {
    let low = 0;
    let high = tops.length - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const top = tops[middle]!;
      if (node < top) high = middle - 1;
      else if (node >= tree.after[top]!) low = middle + 1;
      else return true;
    }
    return false;
  };
}
