import { withinAny } from '../compile/compile.ts';
import { placeFinder } from '../compile/leave-out.ts';
import { type Decision, type Plan, planOf } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import { pathOf } from '../xml/path.ts';
import { elementsOf, type Tree } from '../xml/tree.ts';
import { needsOf } from './needs.ts';
import { outermost } from './tick.ts';

/**
 * The plan whose result holds only what was chosen: everything else stays behind. Of the ticks that the plan had, those
 * inside of what is chosen still count, but for what is needed.
 * The root stays with its attributes, and so does what stands before and after it. What is chosen comes with the elements
 * around it as a shell (see compile/leave-out.ts), so the result is well-formed whatever was chosen.
 * @param ids paths, or paths of collections; those that are not in the file are passed over.
 * @param withNeeds whether what the chosen records need in the end comes along.
 */
export function chosen(tree: Tree, reading: Reading, plan: Plan, ids: readonly string[], withNeeds: boolean): Plan {
  const find = placeFinder(tree, reading);
  const places = ids.map((id) => ({ id, nodes: find(id) })).filter(({ nodes }) => nodes.length > 0);
  const inside = withinAny(
    tree,
    outermost(
      tree,
      places.flatMap(({ nodes }) => nodes),
    ),
  );
  const named = new Set(places.map(({ id }) => id));
  const decisions: Decision[] = plan.decisions.filter((decision) => {
    if (decision.kind !== 'leave-out' && decision.kind !== 'keep') return true;
    const nodes = find(decision.path);
    return !named.has(decision.path) && nodes.length > 0 && nodes.every(inside);
  });
  for (const top of topsOf(tree, reading))
    if (!inside(top)) decisions.push({ kind: 'leave-out', path: pathOf(tree, top) });
  for (const { id } of places) decisions.push({ kind: 'keep', path: id });
  if (withNeeds) {
    const needs = needsOf(tree, reading);
    const own = new Uint8Array(needs.nodes.length);
    for (const { nodes } of places) for (const node of nodes) for (const entry of needs.entriesAt(node)) own[entry] = 1;
    for (const node of needs.toTakeAlong(own)) decisions.push({ kind: 'keep', path: pathOf(tree, node) });
  }
  return { ...plan, ...planOf(decisions, plan.file) };
}

/** Sections, and what stands beside the elements that hold them all. */
export function topsOf(tree: Tree, reading: Reading): number[] {
  const sections = new Set(reading.sections.flatMap(({ nodes }) => nodes));
  const holders = new Set([tree.root]);
  for (const node of sections) for (let at = tree.parent[node]!; at !== -1; at = tree.parent[at]!) holders.add(at);
  const tops: number[] = [];
  for (const holder of [...holders].sort((a, b) => a - b))
    for (const child of elementsOf(tree, holder)) if (!holders.has(child)) tops.push(child);
  return tops.sort((a, b) => a - b);
}
