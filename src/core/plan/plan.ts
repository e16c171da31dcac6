import type { Correction } from '../reading/reading.ts';

/** One decision of the technician. A new kind fails to compile until every place handles it. */
export type Decision =
  /** The port `from`, and every device derived from it, is called `to` in the result. */
  | { readonly kind: 'rename-port'; readonly from: string; readonly to: string }
  /** The element at `path` stays behind. */
  | { readonly kind: 'leave-out'; readonly path: string }
  | { readonly kind: 'correct'; readonly correction: Correction };

/**
 * The immutable list of decisions. Order carries no meaning: of two decisions about the same thing only the later one is
 * kept, so any order of what is left gives the same result.
 */
export interface Plan {
  /** What it was made for; null for a plan that is not bound to a file. */
  readonly file: FileMark | null;
  readonly decisions: readonly Decision[];
}

/** Enough to tell a file from another without holding anything of its content. */
export interface FileMark {
  readonly name: string;
  /** Hash of the decoded text; see text/hash.ts. */
  readonly hash: string;
}

export const emptyPlan: Plan = { file: null, decisions: [] };

/** What a decision is about: two decisions with the same subject exclude each other. */
export function subjectOf(decision: Decision): string {
  switch (decision.kind) {
    case 'rename-port':
      return `rename-port ${decision.from}`;
    case 'leave-out':
      return `leave-out ${decision.path}`;
    case 'correct':
      return `correct ${correctionSubject(decision.correction)}`;
    default:
      return decision satisfies never;
  }
}

function correctionSubject(correction: Correction): string {
  switch (correction.correct) {
    case 'field-names':
      return `field-names ${correction.template} ${correction.collection}`;
    case 'key':
      return `key ${correction.collection}`;
    case 'port':
    case 'not-a-port':
      return `port ${correction.value}`;
    case 'secret':
    case 'box-bound':
      return `${correction.correct} ${correction.template}`;
    default:
      return correction satisfies never;
  }
}

/** The plan with one decision more; an earlier one about the same thing gives way. */
export function decide(plan: Plan, decision: Decision): Plan {
  const subject = subjectOf(decision);
  return { ...plan, decisions: [...plan.decisions.filter((other) => subjectOf(other) !== subject), decision] };
}

/** A plan of many decisions; of two about the same thing the later one counts. */
export function planOf(decisions: Iterable<Decision>, file: FileMark | null = null): Plan {
  const bySubject = new Map<string, Decision>();
  for (const decision of decisions) bySubject.set(subjectOf(decision), decision);
  return { file, decisions: [...bySubject.values()] };
}

/** The plan without whatever it says about the subject. */
export function withdraw(plan: Plan, subject: string): Plan {
  return { ...plan, decisions: plan.decisions.filter((decision) => subjectOf(decision) !== subject) };
}

export function renamesOf(plan: Plan): Map<string, string> {
  const renames = new Map<string, string>();
  for (const decision of plan.decisions) if (decision.kind === 'rename-port') renames.set(decision.from, decision.to);
  return renames;
}

export function correctionsOf(plan: Plan): Correction[] {
  return plan.decisions.flatMap((decision) => (decision.kind === 'correct' ? [decision.correction] : []));
}
