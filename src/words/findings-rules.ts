import type { FindingCode } from '../core/index.ts';
import type { FindingWords, Params } from './findings.ts';
import { count, number } from './numbers.ts';
import { say, value } from './said.ts';

const first = 'Most boxes take the first rule that fits.';

/** Words for findings about lists of rules. */
export const ruleWords: Record<
  Extract<FindingCode, `rule-${string}` | 'rules-unjudged'>,
  (params: Params) => FindingWords
> = {
  'rule-covered': ({ rule, by, line }) => ({
    what: say`The rule ${value(rule)} adds nothing: ${value(by)} on line ${number(Number(line ?? 0))} already fits all that it fits, and does the same.`,
    why: `${first} This one may be left over; it does no harm.`,
  }),
  'rule-shadowed': ({ rule, by, line }) => ({
    what: say`The rule ${value(rule)} is never reached: ${value(by)} on line ${number(Number(line ?? 0))} fits all that it fits, and does the opposite.`,
    why: `${first} If yours does, this rule has no effect, though somebody wanted it. Look at the order of the two.`,
  }),
  'rule-contradicted': ({ rule, by, line }) => ({
    what: say`The rules ${value(by)} on line ${number(Number(line ?? 0))} and ${value(rule)} fit the same, and do the opposite.`,
    why: `${first} If the new box goes another way than the old one, what was closed is open. Keep the one that is meant.`,
  }),
  'rules-unjudged': ({ count: left, all }) => ({
    what: say`${count(Number(left ?? 0), 'rule')} of ${number(Number(all ?? 0))} could not be compared with the others.`,
    why: 'They hold something that this tool does not understand, so nothing is said of them here. Read them yourself.',
  }),
};
