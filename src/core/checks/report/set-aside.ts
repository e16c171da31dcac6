import { type Decision, type FindingMark, type Plan, subjectOf } from '../../plan/plan.ts';
import type { Finding } from '../../views.ts';

type Aside = Extract<Decision, { kind: 'set-aside' }>;

/** What changes from day to day, or with records that the finding is not about. */
const passing = new Set(['days', 'line', 'all']);

/** What tells a finding from others; see `FindingMark`. */
export function markOf({ code, place, params }: Pick<Finding, 'code' | 'place' | 'params'>): FindingMark {
  const about: Record<string, string | number> = {};
  for (const name in params) if (!passing.has(name)) about[name] = params[name]!;
  return { code, path: place?.path ?? null, about };
}

/** What keeps the file from being made or breaks something for sure cannot be set aside, nor can what the plan itself says. */
export const canSetAside = ({ code, severity }: Pick<Finding, 'code' | 'severity'>): boolean =>
  severity !== 'error' && code !== 'plan-entry' && code !== 'aside-idle';

/**
 * The findings with the reasons for which some are set aside, and one more for each such decision that meets none. A place
 * whose record has moved is known again by its names, where one finding alone says the same; of a finding that counts
 * places, no more are set aside than were there.
 */
export function setAside(found: readonly Finding[], { decisions }: Plan): readonly Finding[] {
  const findings = found.map((finding) => (canSetAside(finding) ? { ...finding, mark: markOf(finding) } : finding));
  const asides = decisions
    .filter((decision): decision is Aside => decision.kind === 'set-aside')
    .sort((a, b) => (subjectOf(a) < subjectOf(b) ? -1 : 1));
  if (asides.length === 0) return findings;
  const codes = new Set<string>(asides.map(({ finding }) => finding.code));
  const marked = findings
    .filter(({ code }) => codes.has(code))
    .map((finding) => ({ finding, mark: markOf(finding), key: keyOf(markOf(finding)) }));
  const byKey = new Map<string, (typeof marked)[number][]>();
  for (const one of marked) {
    const alike = byKey.get(one.key);
    if (alike) alike.push(one);
    else byKey.set(one.key, [one]);
  }
  const reasons = new Map<Finding, Aside>();
  const left: Aside[] = [];
  for (const aside of asides) {
    const same = (byKey.get(keyOf(aside.finding)) ?? []).filter(
      ({ mark, finding }) => mark.path === aside.finding.path && fits(mark, aside.finding) && canSetAside(finding),
    );
    for (const { finding } of same) reasons.set(finding, aside);
    if (same.length === 0) left.push(aside);
  }
  const idle: Finding[] = [];
  for (const aside of left) {
    const alike = byKey.get(keyOf(aside.finding)) ?? [];
    const free = alike.filter(
      ({ finding, mark }) => !reasons.has(finding) && fits(mark, aside.finding) && canSetAside(finding),
    );
    if (free.length === 1) reasons.set(free[0]!.finding, aside);
    else
      idle.push(
        idleOf(
          aside,
          alike.map(({ finding }) => finding),
        ),
      );
  }
  return [
    ...findings.map((finding) => {
      const own = reasons.get(finding);
      return own ? { ...finding, aside: { reason: own.reason, decision: subjectOf(own) } } : finding;
    }),
    ...idle,
  ];
}

/** The same for findings that say the same of places with the same names. */
function keyOf({ code, path, about }: FindingMark): string {
  const parts = Object.keys(about).filter((name) => name !== 'count');
  return [code, path?.replace(/\[\d+\]/g, '') ?? '', ...parts.sort().map((name) => `${name}=${about[name]}`)].join(
    '\n',
  );
}

/** No more places than were set aside. */
const fits = (now: FindingMark, then: FindingMark): boolean =>
  Number(now.about.count ?? 0) <= Number(then.about.count ?? 0);

function idleOf(aside: Aside, alike: readonly Finding[]): Finding {
  const why = alike.some((finding) => !canSetAside(finding)) ? 'grave' : alike.length > 0 ? 'other' : 'gone';
  return {
    code: 'aside-idle',
    severity: 'note',
    place: null,
    params: { of: aside.finding.code, reason: aside.reason, why, path: aside.finding.path ?? '' },
    byPlan: true,
    repairs: [{ code: 'take-back', params: {}, decisions: [], withdraws: [subjectOf(aside)] }],
  };
}
