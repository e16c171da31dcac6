import type { Finding } from '../views.ts';
import { TEXT } from '../xml/site.ts';
import type { CheckInput } from './input.ts';
import { coversIn } from './rule-cover.ts';
import { ruleListsOf } from './rule-facts.ts';

/**
 * Rules that decide nothing since one before them fits everything that they fit. Which of two rules decides is the box's
 * custom: most take the first that fits, so that is said with the finding. Rules that are off, or that the plan leaves out,
 * take no part.
 */
export function checkRules({ reading, gone, place, recordNamed }: CheckInput): Finding[] {
  const findings: Finding[] = [];
  let unjudged = 0;
  let judged = 0;
  for (const list of ruleListsOf(reading)) {
    unjudged += list.unjudged;
    judged += list.rules.length;
    const rules = list.rules.filter(({ enabled, node }) => enabled && !gone(node));
    const { covers, cut } = coversIn(rules);
    if (cut) unjudged += rules.length;
    for (const { rule, by, same } of covers) {
      const [later, earlier] = [rules[rule]!, rules[by]!];
      const alike = later.allows === earlier.allows;
      const where = place({ node: earlier.node, attr: TEXT });
      findings.push({
        code: alike ? 'rule-covered' : same ? 'rule-contradicted' : 'rule-shadowed',
        severity: alike ? 'note' : 'warning',
        place: place({ node: later.node, attr: TEXT }),
        params: { rule: recordNamed(later.node), by: recordNamed(earlier.node), line: where.line },
        byPlan: false,
      });
    }
  }
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
