import type { Finding } from '../../views.ts';
import { TEXT } from '../../xml/site.ts';
import type { CheckInput } from '../input.ts';
import { leaveOut, setTo } from '../repairs/repairs.ts';

/** Settings that fit the old hardware only and would travel. */
export function checkBoxBound(input: CheckInput): Finding[] {
  const { reading, gone, place } = input;
  return reading.boxBound
    .filter(({ node }) => !gone(node))
    .map(({ node, attr, reason, sign }) => ({
      code: 'box-bound-travels' as const,
      severity: 'warning' as const,
      place: place({ node, attr: attr >= 0 ? attr : TEXT }),
      params: { reason, sign },
      byPlan: false,
      cause: { key: reason, decision: null, lost: null },
      // Others may stand beside an attribute, so it is emptied.
      repairs:
        attr >= 0 ? setTo(input, 'empty-value', {}, [{ site: { node, attr }, value: '' }]) : leaveOut(input, node),
    }));
}
