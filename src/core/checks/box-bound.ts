import type { Finding } from '../views.ts';
import { TEXT } from '../xml/site.ts';
import type { CheckInput } from './input.ts';

/** Settings that fit the old hardware only and would travel. */
export function checkBoxBound({ reading, gone, place }: CheckInput): Finding[] {
  return reading.boxBound
    .filter(({ node }) => !gone(node))
    .map(({ node, attr, reason, sign }) => ({
      code: 'box-bound-travels' as const,
      severity: 'warning' as const,
      place: place({ node, attr: attr >= 0 ? attr : TEXT }),
      params: { reason, sign },
      byPlan: false,
    }));
}
