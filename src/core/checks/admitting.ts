import type { Reading } from '../reading/reading.ts';
import { wordsOf } from '../values/name-words.ts';
import { networksOf } from './networks.ts';
import { type RuleFact, type RuleList, ruleListsOf } from './rule-facts.ts';
import { hasAny, sourceWords } from './rule-words.ts';
import { includes, intervalOf, meets } from './sets.ts';

/**
 * The rule that lets people of a role reach the box itself on a port; null where none does, or where that cannot be told.
 * Common practice, no source: of the rules of a role the first that fits decides.
 * @param stays whether a rule's element is there
 */
export function admitting(
  reading: Reading,
  role: number,
  port: number,
  stays: (node: number) => boolean,
): RuleFact | null {
  const box = boxIn(reading, role);
  for (const list of ruleListsOf(reading))
    for (const rule of list.rules) {
      if (!rule.enabled || !stays(rule.node) || rule.match.unknown !== '') continue;
      const fits = fitsBox(list, rule, box, port);
      if (fits === 'no') continue;
      if (rule.allows) return rule;
      if (fits === 'all') break;
    }
  return null;
}

interface Box {
  readonly record: string;
  readonly addresses: readonly { readonly first: bigint; readonly last: bigint }[];
}

const boxIn = (reading: Reading, role: number): Box => ({
  record: `record ${reading.roles[role]!.node}`,
  addresses: networksOf(reading)
    .blocks.filter((block) => block.role === role)
    .map(({ address }) => intervalOf({ first: address, last: address })),
});

/** `all` that comes from the role to the box on the port, `some` of it, or none. */
function fitsBox({ parts }: RuleList, { match }: RuleFact, box: Box, port: number): 'all' | 'some' | 'no' {
  const wanted = [{ first: BigInt(port), last: BigInt(port) }];
  if (!parts.via.some((name) => match.parts.get(name)?.named.has(box.record))) return 'no';
  for (const name of parts.ports) {
    const part = match.parts.get(name);
    if (part && (part.opaque !== '' || !includes(part.numbers, wanted))) return 'no';
  }
  let all = true;
  for (const name of parts.ends) {
    const part = match.parts.get(name);
    if (!part || part.named.has(box.record)) continue;
    all = false;
    // Whoever may come, somebody may; where they may go, the box has to be.
    if (isSource(name)) continue;
    if (part.opaque !== '' || match.turned.has(name) || !box.addresses.some((own) => meets(part.numbers, [own])))
      return 'no';
  }
  return all ? 'all' : 'some';
}

const isSource = (name: string) =>
  name
    .split('/')
    .slice(-2)
    .some((step) => hasAny(wordsOf(step), sourceWords));
