import { emptyPlan, type Plan } from './plan.ts';

/** A plan with the way back: each step keeps the name of the decision that led to it. */
export interface History {
  readonly past: readonly Step[];
  readonly present: Step;
  readonly future: readonly Step[];
}

export interface Step {
  readonly plan: Plan;
  /** Words for people; empty for the start. */
  readonly name: string;
}

export const newHistory = (plan: Plan = emptyPlan): History => ({ past: [], present: { plan, name: '' }, future: [] });

/** A new decision; what had been undone is given up. */
export const step = (history: History, plan: Plan, name: string): History => ({
  past: [...history.past, history.present],
  present: { plan, name },
  future: [],
});

export function undo(history: History): History {
  const back = history.past.at(-1);
  if (!back) return history;
  return { past: history.past.slice(0, -1), present: back, future: [history.present, ...history.future] };
}

export function redo(history: History): History {
  const [next, ...future] = history.future;
  if (!next) return history;
  return { past: [...history.past, history.present], present: next, future };
}
