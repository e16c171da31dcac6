import { deviceRecords } from '../../carry/need-edges.ts';
import { type Decision, type Plan, renamesOf, subjectOf } from '../../plan/plan.ts';
import type { BoxBound } from '../../reading/reading.ts';
import type { BoxBoundView, LackingView, RecordMark } from '../../views.ts';
import { sitePath } from '../../xml/path.ts';
import { TEXT, valueAt } from '../../xml/site.ts';
import { firstElement, nameOf, nextElement } from '../../xml/tree.ts';
import { placeOf } from '../backup/open.ts';
import type { CarryView } from './carry-view.ts';

/** Everything that fits the old box only, in the order of the file, each with the decision that answers it either way. */
export function boxBoundList(view: CarryView): BoxBoundView[] {
  const said = new Map(view.plan.decisions.map((decision) => [subjectOf(decision), decision]));
  return view.reading.boxBound.map((bound): BoxBoundView => {
    const { leave, keep } = answers(view, bound);
    const answer = said.get(subjectOf(leave));
    const mark = view.mark(bound.node);
    const path = sitePath(view.backup.tree, siteOf(bound));
    return {
      ...mark,
      path,
      called: view.lineName(bound.node) ?? calledBy(view, bound, path, mark),
      place: placeOf(view.backup, siteOf(bound)),
      reason: bound.reason,
      sign: bound.sign,
      answer: view.gone(bound.node) || isSame(answer, leave) ? 'left-out' : isSame(answer, keep) ? 'kept' : 'open',
      leave,
      keep,
    };
  });
}

/** The section, the record and its own tag; where it lies alone in an element, that as well: it may only wrap the value. */
function calledBy(
  { backup: { tree } }: CarryView,
  bound: BoxBound,
  path: string,
  { path: unit, section, name }: RecordMark,
): string {
  const tag = path.slice(path.lastIndexOf('/') + 1).replace(/\[\d+\]$/, '');
  const above = tree.parent[bound.node]!;
  const isAlone = bound.attr < 0 && firstElement(tree, above) === bound.node && nextElement(tree, bound.node) === -1;
  const around = isAlone ? [nameOf(tree, above)] : [];
  if (section === '') return [...around, tag].join(' / ');
  return [...new Set(path === unit ? [section, ...around, name] : [section, name, ...around, tag])].join(' / ');
}

const siteOf = ({ node, attr }: BoxBound) => ({ node, attr: attr >= 0 ? attr : TEXT });

/** An element stays behind or is kept; an attribute, which others may stand beside, is emptied or stays as it is. */
function answers({ backup: { tree } }: CarryView, bound: BoxBound): { leave: Decision; keep: Decision } {
  const site = siteOf(bound);
  const path = sitePath(tree, site);
  if (bound.attr < 0) return { leave: { kind: 'leave-out', path }, keep: { kind: 'keep', path } };
  return {
    leave: { kind: 'set-value', path, value: '' },
    keep: { kind: 'set-value', path, value: valueAt(tree, site) },
  };
}

function isSame(one: Decision | undefined, other: Decision): boolean {
  if (!one || one.kind !== other.kind) return false;
  return one.kind !== 'set-value' || (other.kind === 'set-value' && one.value === other.value);
}

/** What the box that settings go to has: names of its devices, and of its roles where its own backup is known. */
export interface Has {
  readonly ports: readonly string[];
  /** Null where nothing is known of its roles: then only ports are looked at. */
  readonly roles: readonly string[] | null;
}

/**
 * Names of devices, as they come out under the plan, and of roles that stay behind, that the new box does not have: one
 * entry for each place that goes over. To point one to another name decide `repoint`; `tick` leaves its record out.
 */
export function lackingList(view: CarryView, has: Has): LackingView[] {
  const { reading, plan, backup } = view;
  const list: LackingView[] = [];
  const ports = new Set(has.ports);
  const renames = renamesOf(plan);
  const set = valuesSet(plan);
  const add = (kind: LackingView['kind'], site: Parameters<typeof sitePath>[1], value: string, to: string) => {
    const path = sitePath(backup.tree, site);
    if (set.has(path) || set.has(`${path} ${value}`)) return;
    list.push({ kind, value, to, path, place: placeOf(backup, site), record: view.mark(site.node) });
  };
  // A device that a record of the file makes (a VLAN, an aggregate) is made again where that record goes over; loopback and
  // tunnels belong to every box.
  const made = new Set(reading.ports.filter(({ kind }) => kind === 'other').map(({ name }) => name));
  for (const [device, node] of deviceRecords(reading)) if (!view.gone(node)) made.add(device);
  for (const { site, value, port, portAt } of reading.mentions) {
    const to = renames.get(port) ?? port;
    if (view.gone(site.node) || ports.has(to) || made.has(port)) continue;
    add('port', site, value, value.slice(0, portAt) + to + value.slice(portAt + port.length));
  }
  if (has.roles) {
    const known = new Set(has.roles);
    const roles = new Map(reading.roles.map(({ node, name }) => [node, name]));
    for (const { site, value, to, tier } of reading.references) {
      const name = roles.get(to);
      if (name === undefined || tier === 'possible' || view.gone(site.node) || !view.gone(to) || known.has(name))
        continue;
      add('role', site, value, value);
    }
  }
  return list;
}

/** Points one place of the list to another name. */
export const repoint = ({ path, value }: Pick<LackingView, 'path' | 'value'>, to: string): Decision => ({
  kind: 'set-value',
  path,
  was: value,
  value: to,
});

function valuesSet(plan: Plan): Set<string> {
  const set = new Set<string>();
  for (const decision of plan.decisions) {
    if (decision.kind !== 'set-value') continue;
    set.add(decision.was === undefined ? decision.path : `${decision.path} ${decision.was}`);
  }
  return set;
}
