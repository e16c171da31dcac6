import type { BackupView, Correction, Decision, PlanView } from '../core/index.ts';
import { kindOfRecord } from './lists.ts';

/** The last name of a path: `/box[1]/routes[1]/route[3]` is `route 3`, `/box[1]/section(routes)` is `routes`. */
export function lastStep(path: string): string {
  const element = path.replace(/\/record\(\)$/, '');
  const step = element.slice(element.lastIndexOf('/') + 1);
  const section = /^section\((.*)\)$/.exec(step);
  if (section) return decodeURIComponent(section[1]!);
  if (step.endsWith('[*]')) {
    const kind = /\{(.+)\}\[\*\]$/.exec(step)?.[1];
    return step === '*[*]' ? 'all' : `all ${kind === undefined ? step.slice(0, -3) : decodeURIComponent(kind)}`;
  }
  return step.replace(/\[(\d+)\]$/, (_, at: string) => (at === '1' ? '' : ` ${at}`));
}

/** A path as people read it: no root, no index of one. */
export function pathWords(path: string): string {
  return path
    .replace(/\/record\(\)$/, '')
    .split('/')
    .slice(2)
    .map((step) =>
      step.startsWith('section(') ? lastStep(step) : step.replace(/\[1\]$/, '').replace(/\[(\d+)\]$/, ' $1'),
    )
    .join(' / ');
}

function correctionName(correction: Correction): string {
  switch (correction.correct) {
    case 'field-names': {
      const field = lastStep(correction.template);
      const names = kindOfRecord(correction.collection);
      return correction.yes ? `${field} names ${names}` : `${field} does not name ${names}`;
    }
    case 'key':
      return `Another key for ${kindOfRecord(correction.collection)}`;
    case 'port':
      return `${correction.value} is a port`;
    case 'not-a-port':
      return `${correction.value} is not a port`;
    case 'secret':
      return `${lastStep(correction.template)} is ${correction.yes ? 'a secret' : 'no secret'}`;
    case 'box-bound':
      return `${correction.sign || lastStep(correction.template)} is ${correction.yes ? '' : 'not '}bound to the old box`;
    default:
      return correction satisfies never;
  }
}

/** `setting@state` is `state`; `lan/name()` is the name of `lan`. */
function valueName(path: string): string {
  if (path.endsWith('/name()')) return `the name of ${lastStep(path.slice(0, -'/name()'.length))}`;
  const step = lastStep(path);
  return step.startsWith('@') ? step.slice(1) : step;
}

/** What people call things that decisions tell by path or by old name. */
export interface Known {
  readonly nameOf?: (path: string) => string | undefined;
  /** The name in the result of one of the old box's ports. */
  readonly portOf?: (port: string) => string | undefined;
}

/** Roles by their labels, records that come out otherwise by their names, and ports by their new ones. */
export function knownNames(backup: Pick<BackupView, 'roles'>, view: Pick<PlanView, 'ports' | 'ledger'>): Known {
  const names = new Map<string, string>();
  // What is only called by its element is told by its place, too.
  for (const { path, name } of view.ledger.entries) if (!lastStep(path).startsWith(name)) names.set(path, name);
  for (const { place, label, name } of backup.roles) names.set(place.path, label || name);
  const ports = new Map(view.ports.map(({ from, to }) => [from, to]));
  return { nameOf: (path) => names.get(path.replace(/\/record\(\)$/, '')), portOf: (port) => ports.get(port) };
}

/** What a decision does, in the words of its button. */
export function decisionName(decision: Decision, known: Known = {}): string {
  switch (decision.kind) {
    case 'rename-port':
      return `Put ${decision.from} on ${decision.to}`;
    case 'leave-out':
      return `Leave out ${known.nameOf?.(decision.path) ?? lastStep(decision.path)}`;
    case 'keep':
      return `Keep ${known.nameOf?.(decision.path) ?? lastStep(decision.path)}`;
    case 'set-value':
      // The value may be a secret, so it is not said.
      return `Change ${decision.was ?? valueName(decision.path)}`;
    case 'move-role': {
      const role = known.nameOf?.(decision.role) ?? lastStep(decision.role);
      const { to } = decision;
      if (to.on === 'none') return `Take ${role} off its port`;
      const port = known.portOf?.(to.port) ?? to.port;
      return to.on === 'tag' ? `Move ${role} to VLAN ${to.tag} on ${port}` : `Move ${role} to ${port}`;
    }
    case 'correct':
      return correctionName(decision.correction);
    case 'set-aside':
      return `Set aside ${decision.finding.path === null ? 'a finding' : `a finding on ${lastStep(decision.finding.path)}`}: ${decision.reason}`;
    default:
      return decision satisfies never;
  }
}

/**
 * A decision by its subject, with its number in the plan; what no decision of the plan did comes from the ticks.
 * @param isAbout whether a decision has a subject.
 */
export function subjectWords(
  subject: string,
  decisions: readonly Decision[],
  isAbout: (decision: Decision, subject: string) => boolean,
  known: Known,
): string {
  const at = decisions.findIndex((decision) => isAbout(decision, subject));
  const decision = decisions[at];
  if (decision) return `${at + 1}. ${decisionName(decision, known)}`;
  return subject.startsWith('leave-out ') ? 'not ticked' : subject;
}
