import type { Correction } from '../reading/reading.ts';
import { bad, good, type Result, type Trouble } from '../trouble.ts';
import { type Decision, type FileMark, type Plan, planOf } from './plan.ts';

/** Version of the saved form that this code writes. */
export const PLAN_VERSION = 1;

/** What is kept of an entry that this code does not know, so that saving again loses nothing. */
export interface LoadedPlan {
  readonly plan: Plan;
  /** Entries that could not be taken in, each with its key. */
  readonly troubles: readonly Trouble[];
}

/** The plan as JSON: `{"plan": 1, "file": …, "ports": {old: new}, "leaveOut": [path], "corrections": […]}`. */
export function savePlan(plan: Plan): string {
  const ports: Record<string, string> = Object.create(null);
  const leaveOut: string[] = [];
  const corrections: Correction[] = [];
  for (const decision of plan.decisions) {
    switch (decision.kind) {
      case 'rename-port':
        ports[decision.from] = decision.to;
        break;
      case 'leave-out':
        leaveOut.push(decision.path);
        break;
      case 'correct':
        corrections.push(decision.correction);
        break;
      default:
        decision satisfies never;
    }
  }
  const saved = { plan: PLAN_VERSION, ...(plan.file && { file: plan.file }), ports, leaveOut, corrections };
  return `${JSON.stringify(saved, null, 2)}\n`;
}

/** Reads a saved plan. Every key but `plan` may be missing; an entry of the wrong shape is reported, not dropped. */
export function loadPlan(json: string): Result<LoadedPlan> {
  let saved: unknown;
  try {
    saved = JSON.parse(json);
  } catch (error) {
    return bad({ code: 'plan-not-json', params: { reason: (error as Error).message } });
  }
  if (!isRecord(saved) || typeof saved.plan !== 'number') return bad({ code: 'plan-not-a-plan' });
  if (saved.plan > PLAN_VERSION)
    return bad({ code: 'plan-newer', params: { version: saved.plan, known: PLAN_VERSION } });
  const troubles: Trouble[] = [];
  const strange = (key: string, entry: unknown) => {
    troubles.push({ code: 'plan-entry-unknown', params: { key, entry: JSON.stringify(entry)?.slice(0, 120) ?? '' } });
  };
  const decisions: Decision[] = [];
  const { ports = {}, leaveOut = [], corrections = [] } = saved;
  if (isRecord(ports)) {
    for (const [from, to] of Object.entries(ports)) {
      if (typeof to === 'string' && to.trim() !== '') decisions.push({ kind: 'rename-port', from, to });
      else strange(`ports.${from}`, to);
    }
  } else strange('ports', ports);
  if (Array.isArray(leaveOut)) {
    for (const [at, path] of leaveOut.entries()) {
      if (typeof path === 'string') decisions.push({ kind: 'leave-out', path });
      else strange(`leaveOut.${at}`, path);
    }
  } else strange('leaveOut', leaveOut);
  if (Array.isArray(corrections)) {
    for (const [at, correction] of corrections.entries()) {
      if (isCorrection(correction)) decisions.push({ kind: 'correct', correction });
      else strange(`corrections.${at}`, correction);
    }
  } else strange('corrections', corrections);
  for (const key of Object.keys(saved)) {
    if (!['plan', 'file', 'ports', 'leaveOut', 'corrections'].includes(key)) strange(key, saved[key]);
  }
  const plan = planOf(decisions, fileMark(saved.file));
  return good({ plan, troubles });
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function fileMark(value: unknown): FileMark | null {
  if (!isRecord(value) || typeof value.name !== 'string' || typeof value.hash !== 'string') return null;
  return { name: value.name, hash: value.hash };
}

function isCorrection(value: unknown): value is Correction {
  if (!isRecord(value)) return false;
  const text = (...keys: string[]) => keys.every((key) => typeof value[key] === 'string');
  const told = typeof value.yes === 'boolean';
  switch (value.correct as Correction['correct']) {
    case 'field-names':
      return text('template', 'collection') && told;
    case 'key':
      return text('collection') && isRecord(value.key);
    case 'port':
    case 'not-a-port':
      return text('value');
    case 'secret':
    case 'box-bound':
      return text('template') && told;
    default:
      return false;
  }
}
