import { subjectOf } from '../../plan/plan.ts';
import type { Finding } from '../../views.ts';
import type { CheckInput } from '../input.ts';
import { takeBack } from '../repairs/repairs.ts';

/** Findings that speak for several places and stand at the first, which may be another one after the plan. */
const summed: ReadonlySet<Finding['code']> = new Set([
  'address-documentation',
  'address-not-canonical',
  'caution-mentioned',
  'character-unseen',
  'findings-more',
  'rules-unjudged',
  'schema-untold',
  'secret-shared',
  'secrets-travel',
]);

/** Tells what the plan breaks from what was wrong already: a finding that the donor does not have is the plan's. */
export function withOwners(
  findings: readonly Finding[],
  donors: readonly Finding[],
  { set, place, plan }: Pick<CheckInput, 'set' | 'place' | 'plan'>,
): readonly Finding[] {
  const said = new Map<string, Finding>();
  for (const finding of donors) {
    const spot = spotOf(finding);
    const known = said.get(spot);
    if (!known || countOf(finding) > countOf(known)) said.set(spot, finding);
  }
  const setAt = new Set([...set.values()].map(({ site }) => place(site).path));
  const isNew = (finding: Finding): boolean => {
    const before = said.get(spotOf(finding));
    if (!before) return true;
    if (summed.has(finding.code)) return countOf(finding) > countOf(before);
    // At a value that the plan sets it is another fault, though of the same kind.
    return (
      finding.place !== null &&
      setAt.has(finding.place.path) &&
      JSON.stringify(finding.params) !== JSON.stringify(before.params)
    );
  };
  const settersOf = (path: string) =>
    plan.decisions.flatMap((one) => (one.kind === 'set-value' && one.path === path ? [subjectOf(one)] : []));
  return findings.map((finding) => {
    if (!finding.byPlan && !isNew(finding)) return finding;
    const { repairs = [], place: at } = finding;
    // A fault of the very value that the plan sets goes with it.
    const isOwn = at !== null && setAt.has(at.path) && !repairs.some(({ code }) => code === 'take-back');
    return { ...finding, byPlan: true, repairs: isOwn ? [...repairs, ...takeBack(settersOf(at.path))] : repairs };
  });
}

const spotOf = ({ code, place, params: { kind, section, char, of } }: Finding): string =>
  summed.has(code) ? `${code} ${kind ?? section ?? char ?? of ?? ''}` : `${code} ${place?.path ?? ''}`;

const countOf = ({ params: { count } }: Finding): number => (typeof count === 'number' ? count : 0);
