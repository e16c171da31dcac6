import type { ResultKind } from '../../plan/plan.ts';
import type { Finding } from '../../views.ts';

/** What speaks of a whole file: in a part most records stay behind by intent, and what the new box has stays as it is there. */
const ofWhole: ReadonlySet<Finding['code']> = new Set([
  'record-unused',
  'way-in-left-out',
  'way-in-closed',
  'way-in-no-rule',
  'way-in-unknown',
]);

/**
 * Findings as they hold for the result that is asked for.
 * @param loose paths of the references that a graft leaves without a target; null where none is asked for, or it cannot
 * be made. What the receiver has is no loss, though the donor leaves it behind.
 */
export function findingsOfPart(
  findings: readonly Finding[],
  result: ResultKind,
  loose: ReadonlySet<string> | null,
): readonly Finding[] {
  if (result === 'whole') return findings;
  return findings.filter(
    ({ code, place }) =>
      !ofWhole.has(code) && (loose === null || code !== 'reference-left-out' || !place || loose.has(place.path)),
  );
}
