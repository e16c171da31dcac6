import type { Correction } from '../reading/reading.ts';
import { bad, good, type Result, type Trouble } from '../trouble.ts';
import {
  type Decision,
  type FileMark,
  type FindingMark,
  newPart,
  type OutlinePart,
  type Part,
  type Plan,
  type PlanOutline,
  planOf,
  results,
  type Seat,
  type Tick,
} from './plan.ts';

/** Version of the saved form that this code writes. */
export const PLAN_VERSION = 1;

/** What is kept of an entry that this code does not know, so that saving again loses nothing. */
export interface LoadedPlan {
  readonly plan: Plan;
  /** Entries that could not be taken in, each with its key. */
  readonly troubles: readonly Trouble[];
}

/**
 * The plan as JSON: `{"plan": 1, "file": …, "ports": {old: new},
 * "roles": {path: {port, tag} or null}, "leaveOut": [path], "keep": [path],
 * "values": [{path, value, was}], "corrections": […], "setAside": [{code, path, about, reason}],
 * "outline": {sections, collections}, "part": {result, leaveOut, keep, withNeeds, modes, answers, standings}}`. Values are written as they are, secrets too where one was set.
 */
export function savePlan(plan: Plan): string {
  const ports: Record<string, string> = Object.create(null);
  const roles: Record<string, SavedSeat> = Object.create(null);
  const leaveOut: string[] = [];
  const keep: string[] = [];
  const values: Omit<Extract<Decision, { kind: 'set-value' }>, 'kind'>[] = [];
  const corrections: Correction[] = [];
  const setAside: (FindingMark & { readonly reason: string })[] = [];
  for (const decision of plan.decisions) {
    switch (decision.kind) {
      case 'rename-port':
        ports[decision.from] = decision.to;
        break;
      case 'leave-out':
        leaveOut.push(decision.path);
        break;
      case 'keep':
        keep.push(decision.path);
        break;
      case 'set-value': {
        const { kind: _, ...value } = decision;
        values.push(value);
        break;
      }
      case 'move-role':
        roles[decision.role] = savedSeat(decision.to);
        break;
      case 'correct':
        corrections.push(decision.correction);
        break;
      case 'set-aside':
        setAside.push({ ...decision.finding, reason: decision.reason });
        break;
      default:
        decision satisfies never;
    }
  }
  const saved = {
    plan: PLAN_VERSION,
    ...(plan.file && { file: plan.file }),
    ports,
    roles,
    leaveOut,
    keep,
    values,
    corrections,
    ...(setAside.length > 0 && { setAside }),
    ...(plan.outline && { outline: plan.outline }),
    ...(plan.part && { part: savedPart(plan.part) }),
  };
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
  const { ports = {}, roles = {}, leaveOut = [], keep = [], values = [], corrections = [], setAside = [] } = saved;
  if (isRecord(ports)) {
    for (const [from, to] of Object.entries(ports)) {
      if (typeof to === 'string' && to.trim() !== '') decisions.push({ kind: 'rename-port', from, to });
      else strange(`ports.${from}`, to);
    }
  } else strange('ports', ports);
  if (isRecord(roles)) {
    for (const [role, saved] of Object.entries(roles)) {
      const to = seatOf(saved);
      if (to) decisions.push({ kind: 'move-role', role, to });
      else strange(`roles.${role}`, saved);
    }
  } else strange('roles', roles);
  const each = (key: string, list: unknown, take: (entry: unknown) => Decision | null) => {
    if (!Array.isArray(list)) return strange(key, list);
    for (const [at, entry] of list.entries()) {
      const decision = take(entry);
      if (decision) decisions.push(decision);
      else strange(`${key}.${at}`, entry);
    }
  };
  each('leaveOut', leaveOut, (path) => (typeof path === 'string' ? { kind: 'leave-out', path } : null));
  each('keep', keep, (path) => (typeof path === 'string' ? { kind: 'keep', path } : null));
  each('values', values, setValue);
  each('corrections', corrections, (correction) => (isCorrection(correction) ? { kind: 'correct', correction } : null));
  each('setAside', setAside, asideOf);
  for (const key of Object.keys(saved)) if (!known.has(key)) strange(key, saved[key]);
  const outline = outlineOf(saved.outline);
  if (saved.outline !== undefined && !outline) strange('outline', saved.outline);
  const part = partOf(saved.part);
  if (saved.part !== undefined && !part) strange('part', saved.part);
  const plan = planOf(decisions, fileMark(saved.file));
  return good({ plan: { ...plan, ...(outline && { outline }), ...(part && { part }) }, troubles });
}

const known = new Set('plan file ports roles leaveOut keep values corrections setAside outline part'.split(' '));

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** `{"port": name}`, with `"tag": VLAN ID` for a tagged device; null for no device. */
type SavedSeat = { readonly port: string; readonly tag?: number } | null;

function savedSeat(seat: Seat): SavedSeat {
  if (seat.on === 'none') return null;
  return seat.on === 'tag' ? { port: seat.port, tag: seat.tag } : { port: seat.port };
}

function seatOf(saved: unknown): Seat | null {
  if (saved === null) return { on: 'none' };
  if (!isRecord(saved) || typeof saved.port !== 'string' || saved.port.trim() === '') return null;
  const { port, tag } = saved;
  if (tag === undefined) return { on: 'port', port };
  return typeof tag === 'number' ? { on: 'tag', port, tag } : null;
}

function fileMark(value: unknown): FileMark | null {
  if (!isRecord(value) || typeof value.name !== 'string' || typeof value.hash !== 'string') return null;
  return { name: value.name, hash: value.hash };
}

function outlineOf(value: unknown): PlanOutline | null {
  if (!isRecord(value)) return null;
  const isText = (text: unknown) => text === undefined || typeof text === 'string';
  const isPart = (part: unknown): part is OutlinePart =>
    isRecord(part) &&
    typeof part.name === 'string' &&
    typeof part.count === 'number' &&
    isText(part.key) &&
    isText(part.marks);
  const parts = (list: unknown) => (Array.isArray(list) && list.every(isPart) ? list : null);
  const sections = parts(value.sections);
  const collections = parts(value.collections);
  const { landmarks } = value;
  const isMap = isRecord(landmarks) && Object.values(landmarks).every((mark) => typeof mark === 'string');
  if (!sections || !collections || (landmarks !== undefined && !isMap)) return null;
  return { sections, collections, ...(isMap && { landmarks: landmarks as Record<string, string> }) };
}

function savedPart({ ticks, ...rest }: Part) {
  const paths = (kind: Tick['kind']) => ticks.filter((tick) => tick.kind === kind).map(({ path }) => path);
  return { ...rest, leaveOut: paths('leave-out'), keep: paths('keep') };
}

function partOf(value: unknown): Part | null {
  if (!isRecord(value)) return null;
  const { result, leaveOut = [], keep = [], withNeeds = true, modes = {}, answers = {}, standings = {} } = value;
  const known = results.find((one) => one === result);
  const isPaths = (list: unknown): list is string[] =>
    Array.isArray(list) && list.every((path) => typeof path === 'string');
  const isOf = (map: unknown, words: readonly string[]) =>
    isRecord(map) && Object.values(map).every((word) => typeof word === 'string' && words.includes(word));
  if (!known || !isPaths(leaveOut) || !isPaths(keep) || typeof withNeeds !== 'boolean') return null;
  if (!isOf(modes, ['replace', 'merge', 'add']) || !isOf(answers, ['keep', 'replace', 'new-key'])) return null;
  if (!isRecord(standings) || !Object.values(standings).every((path) => typeof path === 'string')) return null;
  const ticks: Tick[] = [
    ...leaveOut.map((path): Tick => ({ kind: 'leave-out', path })),
    ...keep.map((path): Tick => ({ kind: 'keep', path })),
  ];
  return {
    ...newPart,
    result: known,
    ticks,
    withNeeds,
    modes: modes as Part['modes'],
    answers: answers as Part['answers'],
    standings: standings as Part['standings'],
  };
}

function setValue(entry: unknown): Decision | null {
  if (!isRecord(entry)) return null;
  const { path, value, was } = entry;
  if (typeof path !== 'string' || typeof value !== 'string') return null;
  if (was !== undefined && (typeof was !== 'string' || was === '')) return null;
  return { kind: 'set-value', path, value, ...(was !== undefined && { was }) };
}

function asideOf(entry: unknown): Decision | null {
  if (!isRecord(entry)) return null;
  const { code, path, about, reason } = entry;
  if (typeof code !== 'string' || (path !== null && typeof path !== 'string')) return null;
  if (typeof reason !== 'string' || reason.trim() === '' || !isAbout(about)) return null;
  return { kind: 'set-aside', finding: { code, path, about }, reason };
}

const isAbout = (value: unknown): value is FindingMark['about'] =>
  isRecord(value) && Object.values(value).every((part) => typeof part === 'string' || typeof part === 'number');

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
      return text('template') && told;
    case 'box-bound':
      return text('template') && told && (value.sign === undefined || text('sign'));
    default:
      return false;
  }
}
