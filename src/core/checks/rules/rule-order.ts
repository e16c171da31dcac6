import type { Reading } from '../../reading/reading.ts';
import { once } from '../facts/once.ts';
import { type RuleFact, type RuleList, ruleListsOf } from './rule-facts.ts';

/** Lists in which the place of a record decides what applies. */
export interface RuleOrder {
  /** Elements of rules. */
  readonly rules: ReadonlySet<number>;
  /** Those that fit all addresses and ports, of one network or protocol or of all: rules behind them hardly apply. */
  readonly closing: ReadonlySet<number>;
}

/** Most boxes take the first rule that fits (common practice, no source). */
export const ruleOrderOf = once((reading: Reading): RuleOrder => {
  const rules = new Set<number>();
  const closing = new Set<number>();
  for (const list of ruleListsOf(reading)) {
    for (const rule of list.rules) {
      rules.add(rule.node);
      if (isClosing(rule, list)) closing.add(rule.node);
    }
  }
  return { rules, closing };
});

function isClosing({ enabled, match }: RuleFact, { parts: { ends, ports } }: RuleList): boolean {
  return enabled && match.unknown === '' && ![...ends, ...ports].some((name) => match.parts.has(name));
}
