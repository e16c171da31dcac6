import { recordPath } from '../../compile/spread.ts';
import { recordLists } from '../../reading/keys/record-lists.ts';
import type { Cause, Finding } from '../../views.ts';
import { type Site, TEXT } from '../../xml/site.ts';
import { isWithin } from '../../xml/tree.ts';
import { movedSites, usedByMoves } from '../devices/moved-roles.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';

/**
 * Records that something used before and nothing uses any more: the plan leaves all of it out, writes other names there,
 * or moves roles away from the device that they define.
 */
export function checkUnused(input: CheckInput): Finding[] {
  const { tree, reading, donor, set, gone, leftBy, place, recordNamed, planned } = input;
  if (!planned) return [];
  const moved = movedSites(input);
  const isMoved = (site: Site) => moved.has(siteKey(site.node, site.attr));
  const left = new Set<number>(usedByMoves(input));
  for (const { site, to, tier } of reading.references)
    if (tier !== 'possible' && !gone(site.node) && !isMoved(site)) left.add(to);
  for (const node of namedByDevice(input, moved)) left.add(node);
  const before = new Map<number, Uses>();
  const renamed = new Set<number>();
  for (const { site, to, tier } of donor.references) {
    if (tier === 'possible' || left.has(to) || gone(to)) continue;
    const uses = before.get(to) ?? { count: 0, moved: 0, set: 0, leftBy: new Set() };
    before.set(to, uses);
    uses.count++;
    if (gone(site.node)) {
      uses.leftBy.add(leftBy(site.node) ?? '');
      continue;
    }
    if (isMoved(site)) uses.moved++;
    else if (set.has(siteKey(site.node, site.attr))) uses.set++;
    // Who still says the old name of a record means it.
    else renamed.add(to);
  }
  for (const to of renamed) before.delete(to);
  const lists = recordLists(donor);
  return [...before].map(([to, uses]) => ({
    code: 'record-unused',
    severity: 'note',
    place: place({ node: to, attr: TEXT }),
    params: {
      name: recordNamed(to),
      count: uses.count,
      ...(uses.moved > 0 && { moved: uses.moved }),
      ...(uses.set > 0 && { set: uses.set }),
    },
    byPlan: true,
    cause: causeOf(uses, lists.indexOf(to)),
    repairs: [{ code: 'leave-out', params: {}, decisions: [{ kind: 'leave-out', path: recordPath(tree, donor, to) }] }],
  }));
}

interface Uses {
  count: number;
  moved: number;
  set: number;
  /** Decisions that left users out. */
  readonly leftBy: Set<string>;
}

/** One for the records of one list that lost their users by the same decisions. */
function causeOf({ moved, set, leftBy }: Uses, list: number): Cause {
  const decisions = [...leftBy].sort();
  const only = moved + set === 0 && decisions.length === 1 ? decisions[0]! : null;
  return { key: `${list}\n${moved > 0}\n${set > 0}\n${decisions.join('\n')}`, decision: only, lost: null };
}

/** Records of tagged devices that are named by the device's name elsewhere than where a role moved away. */
function namedByDevice({ reading, tree, gone }: CheckInput, moved: ReadonlySet<number>): number[] {
  if (moved.size === 0) return [];
  const records = new Map(
    reading.tagging.flatMap(({ records }) => records.map(({ device, node }) => [device, node] as const)),
  );
  return reading.mentions.flatMap(({ value, site }) => {
    const node = records.get(value);
    if (node === undefined || isWithin(tree, site.node, node) || gone(site.node)) return [];
    return moved.has(siteKey(site.node, site.attr)) ? [] : [node];
  });
}
