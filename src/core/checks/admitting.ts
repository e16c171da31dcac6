import type { Reading } from '../reading/reading.ts';
import { networksOf } from './networks.ts';
import { type RuleFact, type RuleList, ruleListsOf } from './rule-facts.ts';
import { type Sides, sidesOf } from './rule-sides.ts';
import { type Intervals, includes, intervalOf, meets, type Part, union, without } from './sets.ts';
import { once } from './tables.ts';

/** What the rules do with people of a role who want to reach the box itself on a port. */
export interface Admission {
  /** The rule that lets some of them in for sure; null where none does. */
  readonly rule: RuleFact | null;
  /** Whether, where none does for sure, one may: what decides is not understood in every part. */
  readonly maybe: boolean;
  /** The first rule that may; null where that is one that could not be read at all. */
  readonly unsure: RuleFact | null;
}

/**
 * Common practice, no source: of the rules of a role the first that fits decides.
 * @param stays whether a rule's element is there
 */
export function admission(reading: Reading, role: number, port: number, stays: (node: number) => boolean): Admission {
  const roles = new Set(reading.roles.map(({ node }) => `record ${node}`));
  const blocks = networksOf(reading).blocks.filter((block) => block.role === role);
  const record = `record ${reading.roles[role]!.node}`;
  const people = union(blocks.map(({ extent }) => intervalOf(extent)));
  const addresses = blocks.map(({ address }) => [intervalOf({ first: address, last: address })]);
  let maybe = false;
  let unsure: RuleFact | null = null;
  for (const list of ruleListsOf(reading)) {
    if (list.unjudged > 0) maybe = true;
    const sides = sidesOf(reading, list);
    // Without an address only rules that let go anywhere tell something.
    for (const address of addresses.length > 0 ? addresses : [[]]) {
      const made = decided(list, sides, { record, roles, people, address, port }, stays);
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

/** Roles by which some rule lets people in, to wherever. */
export const rolesLetIn = once((reading): readonly number[] => {
  const named = new Set<string>();
  for (const list of ruleListsOf(reading))
    for (const { allows, match } of list.rules)
      if (allows)
        for (const name of list.parts.via) for (const one of match.parts.get(name)?.named.keys() ?? []) named.add(one);
  return reading.roles.flatMap(({ node }, role) => (named.has(`record ${node}`) ? [role] : [])).slice(0, MOST);
});

interface Asked {
  /** The role as rules name it, and all roles. */
  readonly record: string;
  readonly roles: ReadonlySet<string>;
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
    // Everyone, or those whose addresses it tells.
    const some = who === null || (who !== 'some' && left !== null && meets(left, who));
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
function fitOf({ parts }: RuleList, { match }: RuleFact, sides: Sides, asked: Asked): Fit {
  const { turned, unknown } = match.odd;
  const wanted = [{ first: BigInt(asked.port), last: BigInt(asked.port) }];
  const known = new Set([...parts.via, ...parts.ports, ...parts.ends, ...parts.protocol]);
  // Hours, or a condition that is a record of its own, may keep people out.
  let told = unknown === '' && [...match.parts.keys()].every((name) => known.has(name));
  let who: Fit['who'] = null;
  const isPlain = (name: string, part: Part) => part.opaque === '' && !turned.has(name);
  for (const name of parts.via) {
    const part = match.parts.get(name);
    if (!part || turned.has(name)) continue;
    if (!part.named.has(asked.record) && !isUntold(part, (other) => !asked.roles.has(other))) return no;
  }
  if (!parts.via.some((name) => match.parts.get(name)?.named.has(asked.record) && !turned.has(name))) told = false;
  for (const name of parts.protocol) {
    const part = match.parts.get(name);
    // Common practice, no source: what turns a rule's ends or ports round leaves the protocol that they are told for.
    if (!part || [...part.named.keys()].some((one) => carriers.has(one))) continue;
    if (part.opaque === '') return no;
    told = false;
  }
  for (const name of parts.ports) {
    const part = match.parts.get(name);
    if (!part || (isPlain(name, part) && includes(part.numbers, wanted))) continue;
    if (turned.has(name) || isUntold(part)) told = false;
    else return no;
  }
  for (const name of parts.ends) {
    const part = match.parts.get(name);
    if (!part || (part.named.has(asked.record) && isPlain(name, part))) continue;
    const side = sides.get(name);
    if (side === 'source') {
      if (!isPlain(name, part) || isUntold(part)) who = 'some';
      else who = union([...part.numbers, ...[...part.named.values()].flatMap((outer) => outer ?? [])]);
      continue;
    }
    if (side === 'destination' && isPlain(name, part) && meets(part.numbers, asked.address)) continue;
    if (side === undefined || turned.has(name) || isUntold(part)) told = false;
    else return no;
  }
  return { fits: told ? 'yes' : 'maybe', who };
}

/** Whether more may match than the numbers say: by a text that is not understood, or by a record of unknown extent. */
const isUntold = ({ opaque, named }: Part, isUnknown: (name: string) => boolean = () => true): boolean =>
  opaque !== '' || [...named].some(([name, outer]) => outer === null && isUnknown(name));
