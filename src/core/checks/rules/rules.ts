import type { Finding } from '../../views.ts';
import { TEXT } from '../../xml/site.ts';
import type { CheckInput } from '../input.ts';
import { leaveOut } from '../repairs/repairs.ts';
import { type Covers, coversIn, coversWithout, type RuleParts } from './rule-cover.ts';
import { type RuleFact, type RuleList, ruleListsOf } from './rule-facts.ts';

/** Findings of one kind that are listed one by one; the rest is counted. */
const MOST = 200;

interface Active {
  readonly rules: readonly RuleFact[];
  readonly matches: readonly RuleParts[];
  readonly covers: Covers;
}

const known = new WeakMap<RuleList, Active>();

/** The rules of a list that are on, and what covers what among them. */
function activeIn(list: RuleList): Active {
  let active = known.get(list);
  if (!active) {
    const rules = list.rules.filter(({ enabled }) => enabled);
    const matches = rules.map(({ match }) => match);
    active = { rules, matches, covers: coversIn(matches) };
    known.set(list, active);
  }
  return active;
}

/**
 * Rules that decide nothing since one before them fits everything that they fit. Which of two rules decides is the box's
 * custom: most take the first that fits, so that is said with the finding. Rules that are off, or that the plan leaves out,
 * take no part.
 */
export function checkRules(input: CheckInput): Finding[] {
  const { reading, gone, place, recordNamed } = input;
  const findings: Finding[] = [];
  const said = new Map<Finding['code'], number>();
  let unjudged = 0;
  let judged = 0;
  for (const list of ruleListsOf(reading)) {
    unjudged += list.unjudged;
    judged += list.rules.length;
    const { rules, matches, covers: whole } = activeIn(list);
    const { covers, cut } = input.leaves ? coversWithout(matches, whole, (rule) => gone(rules[rule]!.node)) : whole;
    if (cut) unjudged += rules.length;
    for (const { rule, by, same } of covers) {
      const [later, earlier] = [rules[rule]!, rules[by]!];
      const alike = later.allows === earlier.allows;
      const code = alike ? 'rule-covered' : same ? 'rule-contradicted' : 'rule-shadowed';
      said.set(code, (said.get(code) ?? 0) + 1);
      if (said.get(code)! > MOST) continue;
      const where = place({ node: earlier.node, attr: TEXT });
      findings.push({
        code,
        severity: alike ? 'note' : 'warning',
        place: place({ node: later.node, attr: TEXT }),
        params: { rule: recordNamed(later.node), by: recordNamed(earlier.node), line: where.line },
        byPlan: false,
        repairs: [
          ...leaveOut(input, later.node),
          ...(code === 'rule-contradicted' ? leaveOut(input, earlier.node, 'leave-out-other') : []),
        ],
      });
    }
  }
  for (const [code, count] of said)
    if (count > MOST)
      findings.push({
        code: 'findings-more',
        severity: code === 'rule-covered' ? 'note' : 'warning',
        place: null,
        params: { of: code, count: count - MOST },
        byPlan: false,
      });
  if (unjudged > 0 && judged > 0)
    findings.push({
      code: 'rules-unjudged',
      severity: 'note',
      place: null,
      params: { count: unjudged, all: unjudged + judged },
      byPlan: false,
    });
  return findings;
}
