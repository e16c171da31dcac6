import {
  decide as add,
  undo as back,
  type Decision,
  redo as forward,
  type History,
  loadPlan,
  type Plan,
  savePlan,
  step,
  subjectOf,
  type Trouble,
  withdraw,
} from '../core/index.ts';
import { afresh, follow, working } from './open.ts';
import { useDesk } from './session.ts';

const { getState, setState } = useDesk;

function go(history: History): void {
  if (history === getState().history) return;
  setState({ history });
  follow();
}

/** Another plan as one step. */
export const changePlan = (name: string, plan: Plan): void => go(step(getState().history, plan, name));

/** One step of the way back, whatever number of decisions it holds. */
export function change(name: string, decisions: readonly Decision[], withdrawn: readonly string[] = []): void {
  const { plan } = getState().history.present;
  const without = withdrawn.reduce(withdraw, plan);
  const next = decisions.reduce(add, without);
  if (JSON.stringify(next) !== JSON.stringify(plan)) changePlan(name, next);
}

/** Takes decisions back that are not the last ones. */
export const takeBack = (name: string, subjects: readonly string[]): void => change(name, [], subjects);

export const undo = (): void => go(back(getState().history));
export const redo = (): void => go(forward(getState().history));

/** The present plan as text, which from now on counts as safe. */
export async function planText(): Promise<string> {
  const { plan } = getState().history.present;
  const text = savePlan(await working().seal(plan));
  setState({ safe: plan });
  return text;
}

/** Nothing at risk any more: the result of this plan was handed over. */
export const markSafe = (plan: Plan): void => setState({ safe: plan });

/**
 * Takes a saved plan in as one step; undo gives the earlier one back. What was made for another backup is taken to where
 * it belongs in this one.
 */
export async function takePlan(json: string, fileName: string): Promise<Trouble | null> {
  const loaded = loadPlan(json);
  if (!loaded.ok) return loaded.trouble;
  const desk = working();
  const fit = await desk.fit(loaded.value.plan);
  if (desk !== working()) return null;
  const plan = afresh(fit.plan, getState().history.present.plan.file);
  setState({ strange: loaded.value.troubles, met: { fit, plan } });
  changePlan(`Load the plan ${fileName}`, plan);
  return null;
}

/** What was said about the reading, alone: for other backups of the same kind, whatever file it came from. */
export const correctionsText = (): string =>
  savePlan({ file: null, decisions: getState().history.present.plan.decisions.filter(isCorrection) });

/**
 * Takes the corrections of a saved file in beside the present decisions, as one step.
 * @returns how many there were, and how many entries of another kind were left; or why the file cannot be read.
 */
export function takeCorrections(json: string, fileName: string): { taken: number; left: number } | Trouble {
  const loaded = loadPlan(json);
  if (!loaded.ok) return loaded.trouble;
  const { plan, troubles } = loaded.value;
  const corrections = plan.decisions.filter(isCorrection);
  change(`Take corrections from ${fileName}`, corrections);
  return { taken: corrections.length, left: plan.decisions.length - corrections.length + troubles.length };
}

const isCorrection = ({ kind }: Decision): boolean => kind === 'correct';

/** Whether a decision is the one that a subject tells. */
export const isAbout = (decision: Decision, subject: string): boolean => subjectOf(decision) === subject;
