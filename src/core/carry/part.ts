import { sectionPath } from '../compile/leave-out.ts';
import { isTick, type Part, type Plan, planOf, resultOf, type Tick, withPart } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import { pathOf } from '../xml/path.ts';
import type { Tree } from '../xml/tree.ts';
import { topsOf } from './chosen.ts';
import type { GraftRequest, Pick } from './graft.ts';
import { tick } from './tick.ts';

/**
 * The plan that says of the donor what goes over, whatever result is asked for: of a part all that is not ticked stays
 * behind. A plan without a part is itself.
 */
export function effective(tree: Tree, reading: Reading, plan: Plan): Plan {
  if (resultOf(plan) === 'whole') return plan;
  const decisions = plan.decisions.filter((decision) => !isTick(decision));
  return { ...planOf([...decisions, ...nothing(tree, reading), ...plan.part!.ticks], plan.file) };
}

/** All that can stay behind, left out; lines of a list section by section. */
function nothing(tree: Tree, reading: Reading): Tick[] {
  const listed = new Map(
    reading.sections.flatMap((section) => (section.lines ? section.nodes.map((node) => [node, section] as const) : [])),
  );
  const paths = topsOf(tree, reading).map((top) => {
    const section = listed.get(top);
    return section ? sectionPath(tree, section) : pathOf(tree, top);
  });
  return [...new Set(paths)].map((path) => ({ kind: 'leave-out', path }));
}

/** Rows of the carry sheet ticked or not, in the result that is asked for; see `tick`. */
export function tickRows(tree: Tree, reading: Reading, plan: Plan, ids: readonly string[], carried: boolean): Plan {
  if (resultOf(plan) === 'whole') return tick(tree, reading, plan, ids, carried);
  const said = tick(tree, reading, effective(tree, reading, plan), ids, carried).decisions.filter(isTick);
  const bare = new Set(nothing(tree, reading).map(({ path }) => path));
  const out = new Set(said.filter(({ kind }) => kind === 'leave-out').map(({ path }) => path));
  // A part starts from nothing, so what no longer stays behind has to be said.
  const taken = [...bare].filter((path) => !out.has(path)).map((path): Tick => ({ kind: 'keep', path }));
  return withPart(plan, { ticks: [...taken, ...said.filter(({ path }) => !bare.has(path))] });
}

/** What a part asks a graft for: everything that is ticked, each in its own way. */
export function requestOf({ ticks, modes, answers, standings, withNeeds }: Part): GraftRequest {
  const picks = ticks.flatMap(({ kind, path }): Pick[] =>
    kind === 'keep' ? [{ id: path, mode: modes[path] ?? 'merge' }] : [],
  );
  return { picks, withNeeds, answers: new Map(Object.entries(answers)), standings: new Map(Object.entries(standings)) };
}
