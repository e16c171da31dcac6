import { append } from '../../lists.ts';
import type { Reading } from '../../reading/reading.ts';
import { once } from '../facts/once.ts';
import { rolesByNode } from '../facts/tables.ts';
import { networksOf } from '../networks/networks.ts';
import {
  type Interval,
  type Intervals,
  includes,
  intervalOf,
  meets,
  type Part,
  union,
  without,
} from '../rules/intervals.ts';
import { type RuleFact, type RuleList, ruleListsOf } from '../rules/rule-facts.ts';
import { THE_BOX } from '../rules/rule-pieces.ts';
import { type Sides, sidesOf } from '../rules/rule-sides.ts';
import { shifted } from '../rules/service-ports.ts';
import { zonesOf } from '../rules/zones.ts';

/** What the rules do with people of a role who want to reach the box itself on a port. */
export interface Admission {
  /** The rule that lets some of them in for sure; null where none does. */
  readonly rule: RuleFact | null;
  /** Whether, where none does for sure, one may: what decides is not understood in every part. */
  readonly maybe: boolean;
  /** The first rule that may; null where that is one that could not be read at all. */
  readonly unsure: RuleFact | null;
}

/** What rules name a record by, with its node behind it. */
const RECORD = 'record ';

/**
 * Common practice, no source: of the rules of a role the first that fits decides.
 * @param stays whether a rule's element is there
 */
export function admission(reading: Reading, role: number, port: number, stays: (node: number) => boolean): Admission {
  const zones = zonesOf(reading);
  const roles = rolesByNode(reading);
  const isNoRole = (name: string) => {
    const node = Number(name.replace(RECORD, ''));
    return !roles.has(node) && !zones.has(node);
  };
  const blocks = networksOf(reading).blocks.filter((block) => block.role === role);
  const record = `${RECORD}${reading.roles[role]!.node}`;
  const people = union(blocks.map(({ extent }) => intervalOf(extent)));
  const addresses = blocks.map(({ address }) => [intervalOf({ first: address, last: address })]);
  let maybe = false;
  let unsure: RuleFact | null = null;
  for (const list of ruleListsOf(reading)) {
    const { from, to } = list.scope;
    if ((from && !from.has(record)) || (to && !to.has(record))) continue;
    if (list.unjudged > 0) maybe = true;
    const sides = sidesOf(reading, list);
    // Without an address only rules that let go anywhere tell something.
    for (const address of addresses.length > 0 ? addresses : [[]]) {
      const made = decided(list, sides, { record, isNoRole, people, address, port }, stays);
      if (made.rule) return made;
      maybe ||= made.maybe;
      unsure ??= made.unsure;
    }
  }
  return { rule: null, maybe, unsure };
}

/** What was asked of a backup as it is, since each plan asks again. */
const asWas = new WeakMap<Reading, Map<string, Admission>>();

/** What the rules of a backup do as it is. */
export function admissionAsWas(reading: Reading, role: number, port: number): Admission {
  const known = asWas.get(reading) ?? new Map<string, Admission>();
  asWas.set(reading, known);
  const key = `${role} ${port}`;
  const made = known.get(key) ?? admission(reading, role, port, () => true);
  known.set(key, made);
  return made;
}

/** Networks that are looked at where a page listens on all of them. */
const MOST = 64;

/** Roles by which some rule lets people in, to wherever: those that it names, or whose addresses it tells as senders. */
export const rolesLetIn = once((reading): readonly number[] => {
  const named = new Set<string>();
  const senders: Interval[] = [];
  for (const list of ruleListsOf(reading)) {
    const sides = sidesOf(reading, list);
    const waysIn = [...list.parts.via, ...list.parts.ends].filter((name) => sides.get(name) === 'source');
    for (const match of new Set(list.rules.flatMap(({ allows, match }) => (allows ? [match] : []))))
      for (const name of waysIn) {
        const part = match.parts.get(name);
        for (const one of part?.named.keys() ?? []) named.add(one);
        if (part && list.parts.via.length === 0) append(senders, part.numbers);
      }
    if (list.rules.some(({ allows }) => allows)) for (const one of list.scope.from ?? []) named.add(one);
  }
  const told = union(senders);
  const senderRoles = new Set(
    networksOf(reading).blocks.flatMap(({ role, extent }) => (meets(told, [intervalOf(extent)]) ? [role] : [])),
  );
  return reading.roles
    .flatMap(({ node }, role) => (named.has(`record ${node}`) || senderRoles.has(role) ? [role] : []))
    .slice(0, MOST);
});

interface Asked {
  /** The role as rules name it. */
  readonly record: string;
  /** Whether what rules name is neither a role nor a zone. */
  readonly isNoRole: (name: string) => boolean;
  /** Addresses of its networks; none where they are not known. */
  readonly people: Intervals;
  /** The box's own address there. */
  readonly address: Intervals;
  readonly port: number;
}

/** Walks a list for one address of the box, with the people about whom no rule decided yet. */
function decided(list: RuleList, sides: Sides, asked: Asked, stays: (node: number) => boolean): Admission {
  let left: Intervals | null = asked.people.length > 0 ? asked.people : null;
  /** Whether a rule that may shut them out came before. */
  let doubt = false;
  let unsure: RuleFact | null = null;
  const fit = new Map<RuleFact['match'], Fit>();
  for (const rule of list.rules) {
    let own = fit.get(rule.match);
    if (!own) {
      own = fitOf(list, rule, sides, asked);
      fit.set(rule.match, own);
    }
    const { fits, who } = own;
    if (fits === 'no' || !rule.enabled || !stays(rule.node)) continue;
    if (who !== null && who !== 'some' && (who.length === 0 || (left !== null && !meets(left, who)))) continue;
    // Everyone, or those whose addresses it tells.
    const some = who === null || (who !== 'some' && left !== null);
    if (fits === 'maybe' || who === 'some' || doubt) {
      if (!rule.allows) doubt = true;
      else if (some || who === 'some') unsure ??= rule;
      continue;
    }
    if (rule.allows) {
      if (some) return { rule, maybe: unsure !== null, unsure };
      if (left === null) unsure ??= rule;
    } else if (who === null) break;
    else if (left === null) doubt = true;
    else {
      left = without(left, who);
      if (left.length === 0) break;
    }
  }
  return { rule: null, maybe: unsure !== null, unsure };
}

interface Fit {
  readonly fits: 'yes' | 'maybe' | 'no';
  /** Whom it fits: everyone, those of some addresses, or some of whom nobody knows who they are. */
  readonly who: Intervals | 'some' | null;
}

/** What pages and shells are reached by, and what carries it: RFC 9293, and RFC 791 and 8200 for the rest. */
const carriers = new Set(['tcp', 'ip', 'ipv4', 'ipv6']);

const no: Fit = { fits: 'no', who: null };

/** Whether a rule is about people of the role who go to the box on the port. */
function fitOf({ parts, scope }: RuleList, { match }: RuleFact, sides: Sides, asked: Asked): Fit {
  const { turned, unknown } = match.odd;
  const port = { first: BigInt(asked.port), last: BigInt(asked.port) };
  const wanted = [port, shifted(port, 'tcp')];
  const known = new Set([...parts.via, ...parts.ports, ...parts.ends, ...parts.protocol]);
  // Hours, or a condition that is a record of its own, may keep people out.
  // A list between a network and itself may mean the box's address there, or not.
  let told = scope.to === null && unknown === '' && [...match.parts.keys()].every((name) => known.has(name));
  let who: Fit['who'] = null;
  const { isNoRole } = asked;
  const isPlain = (name: string, part: Part) => part.opaque === '' && !turned.has(name);
  // Where lists tell by which network people come, only that says that a rule is about them.
  let isAbout = scope.from !== null || !parts.via.some((name) => sides.get(name) === 'source');
  for (const name of parts.via) {
    const part = match.parts.get(name);
    if (!part || turned.has(name)) continue;
    if (sides.get(name) === 'destination') {
      if (part.named.has(THE_BOX)) continue;
      if (!part.named.has(asked.record) && !isUntold(part, isNoRole)) return no;
      told = false;
    } else if (part.named.has(asked.record)) isAbout = true;
    else if (!isUntold(part, isNoRole)) return no;
  }
  for (const name of parts.protocol) {
    const part = match.parts.get(name);
    // Common practice, no source: what turns a rule's ends or ports round leaves the protocol that they are told for.
    if (!part || [...part.named.keys()].some((one) => carriers.has(one))) continue;
    if (part.opaque === '') return no;
    told = false;
  }
  for (const name of parts.ports) {
    const part = match.parts.get(name);
    if (!part || (isPlain(name, part) && wanted.some((one) => includes(part.numbers, [one])))) continue;
    if (turned.has(name) || isUntold(part)) told = false;
    else return no;
  }
  for (const name of parts.ends) {
    const part = match.parts.get(name);
    if (!part) continue;
    const side = sides.get(name);
    if (part.named.has(asked.record) && isPlain(name, part)) {
      if (side === 'source') isAbout = true;
      // To their own network: whether the box's address there is meant, too, is not said.
      else told = false;
      continue;
    }
    if (side === 'source') {
      if (!isPlain(name, part) || isUntold(part, isNoRole)) who = 'some';
      else who = union([...part.numbers, ...[...part.named.values()].flatMap((outer) => outer ?? [])]);
      continue;
    }
    const isBox = part.named.has(THE_BOX) || meets(part.numbers, asked.address);
    if (side === 'destination' && isPlain(name, part) && isBox) continue;
    if (side === undefined || turned.has(name) || isUntold(part, isNoRole)) told = false;
    else return no;
  }
  if (!isAbout) told = false;
  return { fits: told ? 'yes' : 'maybe', who };
}

/** Whether more may match than the numbers say: by a text that is not understood, or by a record of unknown extent. */
const isUntold = ({ opaque, named }: Part, isUnknown: (name: string) => boolean = () => true): boolean =>
  opaque !== '' || [...named].some(([name, outer]) => outer === null && isUnknown(name));
