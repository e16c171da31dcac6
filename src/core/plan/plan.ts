import type { Correction } from '../reading/reading.ts';

/** One decision of the technician. A new kind fails to compile until every place handles it. */
export type Decision =
  /** The port `from`, and every device derived from it, is called `to` in the result. */
  | { readonly kind: 'rename-port'; readonly from: string; readonly to: string }
  /**
   * What stands at `path` stays behind: an element, all records of a collection where the path ends in `[*]` (of one kind
   * where it ends in `{kind}[*]`), or all elements of a record that is written as several where it ends in `/record()`.
   */
  | { readonly kind: 'leave-out'; readonly path: string }
  /**
   * What stands at `path` goes over although something around it stays behind. Of all that is said about a place and
   * what is around it the nearest counts, so sections, collections and records are ticked in any order.
   */
  | { readonly kind: 'keep'; readonly path: string }
  /**
   * The value at `path` (an element, `/@name`, or `/name()` for its own name) becomes `value`: all of it or, with `was`,
   * the reference or item that is written so. What is set is written as it is told; no port is renamed in it.
   */
  | { readonly kind: 'set-value'; readonly path: string; readonly value: string; readonly was?: string }
  /** The role whose record stands at the path `role` sits on `to` in the result. */
  | { readonly kind: 'move-role'; readonly role: string; readonly to: Seat }
  | { readonly kind: 'correct'; readonly correction: Correction }
  /** A finding that stands has been judged: it is listed apart, with the reason, and asks for nothing more. */
  | { readonly kind: 'set-aside'; readonly finding: FindingMark; readonly reason: string };

/** What tells one finding from others, in this file and in the next backup of the same box. */
export interface FindingMark {
  readonly code: string;
  /** The place; null for one about the file as a whole. */
  readonly path: string | null;
  /** What it says: names and values, never a secret's, and a count where it is about several places. */
  readonly about: Readonly<Record<string, string | number>>;
}

/**
 * Where a role sits: on a device, on a VLAN ID of one, or nowhere. Ports are called as the donor calls them; new names
 * of ports apply to moved roles, too, all at once, so that moves and renames may be decided in any order. A name that
 * the donor does not have is taken as it is.
 */
export type Seat =
  | { readonly on: 'port'; readonly port: string }
  | { readonly on: 'tag'; readonly port: string; readonly tag: number }
  | { readonly on: 'none' };

/**
 * The immutable list of decisions. Order carries no meaning: of two decisions about the same thing only the later one is
 * kept, so any order of what is left gives the same result.
 */
export interface Plan {
  /** What it was made for; null for a plan that is not bound to a file. */
  readonly file: FileMark | null;
  readonly decisions: readonly Decision[];
  /** What that file was made of, to compare with the next backup of the same box; see carry/fit.ts. */
  readonly outline?: PlanOutline;
  /** What is to come out; the whole file without what is left out where nothing is said. */
  readonly part?: Part;
}

export type Tick = Extract<Decision, { kind: 'leave-out' | 'keep' }>;

export const isTick = (decision: Decision): decision is Tick =>
  decision.kind === 'leave-out' || decision.kind === 'keep';

/** All that is not left out; only what is ticked; or what is ticked, put into another backup. */
export const results = ['whole', 'ticked', 'graft'] as const;
export type ResultKind = (typeof results)[number];

/**
 * A result that starts from nothing. Its ticks are its own: those of the whole file wait until that is asked for again.
 * All other decisions hold for every result.
 */
export interface Part {
  readonly result: ResultKind;
  readonly ticks: readonly Tick[];
  /** Whether a graft takes along what the ticked records need and the receiver lacks. */
  readonly withNeeds: boolean;
  /** How something that is ticked meets what the receiver has, by its path; `merge` where nothing is said. */
  readonly modes: Readonly<Record<string, 'replace' | 'merge' | 'add'>>;
  /** By the donor's path: what to do where both have a thing and it differs. */
  readonly answers: Readonly<Record<string, 'keep' | 'replace' | 'new-key'>>;
  /**
   * By the donor's path: the path on the receiver of what it is to stand behind, or to stand in as the first. Where nothing
   * is said, it stands next to its neighbours.
   */
  readonly standings: Readonly<Record<string, string>>;
}

export const newPart: Part = { result: 'whole', ticks: [], withNeeds: true, modes: {}, answers: {}, standings: {} };

export const resultOf = (plan: Plan): ResultKind => plan.part?.result ?? 'whole';

/** The plan with another thing to come out. */
export const withPart = (plan: Plan, change: Partial<Part>): Plan => ({
  ...plan,
  part: { ...(plan.part ?? newPart), ...change },
});

/** Whether a plan says nothing that could be lost. */
export const isEmpty = ({ decisions, part }: Plan): boolean => decisions.length === 0 && !part?.ticks.length;

/** The decisions that count in the result that is asked for: of a part its own ticks, and not those of the whole file. */
export const saidIn = (plan: Plan): readonly Decision[] =>
  resultOf(plan) === 'whole'
    ? plan.decisions
    : [...plan.decisions.filter((decision) => !isTick(decision)), ...plan.part!.ticks];

/** Names of sections and collections with the number of entries in them, and marks of records; no values. */
export interface PlanOutline {
  readonly sections: readonly OutlinePart[];
  readonly collections: readonly OutlinePart[];
  /** What tells the records on the way of the plan's paths; see carry/landmarks.ts. */
  readonly landmarks?: Readonly<Record<string, string>>;
}

export interface OutlinePart {
  readonly name: string;
  readonly count: number;
  /** What its records are told apart by, and the mark of each in order; see carry/record-marks.ts. None where there are too many. */
  readonly key?: string;
  readonly marks?: string;
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
    case 'keep':
      return `leave-out ${decision.path}`;
    case 'set-value':
      return `set-value ${decision.path}${decision.was === undefined ? '' : ` ${decision.was}`}`;
    case 'move-role':
      return `move-role ${decision.role}`;
    case 'correct':
      return `correct ${correctionSubject(decision.correction)}`;
    case 'set-aside':
      return `set-aside ${findingSubject(decision.finding)}`;
    default:
      return decision satisfies never;
  }
}

const findingSubject = ({ code, path, about }: FindingMark): string =>
  [
    code,
    path ?? '',
    ...Object.keys(about)
      .sort()
      .map((name) => `${name}=${about[name]}`),
  ].join(' ');

function correctionSubject(correction: Correction): string {
  switch (correction.correct) {
    case 'field-names':
      return `field-names ${correction.template} ${withoutIndices(correction.collection)}`;
    case 'key':
      return `key ${withoutIndices(correction.collection)}`;
    case 'port':
    case 'not-a-port':
      return `port ${correction.value}`;
    case 'secret':
      return `secret ${correction.template}`;
    case 'box-bound':
      return `box-bound ${correction.template}${correction.sign === undefined ? '' : ` ${correction.sign}`}`;
    default:
      return correction satisfies never;
  }
}

/** Lists that stand alike in several places are one. */
const withoutIndices = (path: string): string => path.replace(/\[\d+\]/g, '');

/**
 * The plan with one decision more; an earlier one about the same thing gives way. A tick is one of the result that is
 * asked for.
 */
export function decide(plan: Plan, decision: Decision): Plan {
  const subject = subjectOf(decision);
  if (isTick(decision) && resultOf(plan) !== 'whole') {
    const ticks = plan.part!.ticks.filter((other) => subjectOf(other) !== subject);
    return withPart(plan, { ticks: [...ticks, decision] });
  }
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
  if (resultOf(plan) !== 'whole' && subject.startsWith('leave-out '))
    return withPart(plan, { ticks: plan.part!.ticks.filter((tick) => subjectOf(tick) !== subject) });
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
