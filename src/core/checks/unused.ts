import type { Finding } from '../views.ts';
import { TEXT } from '../xml/site.ts';
import type { CheckInput } from './input.ts';

/** Records that something used before and nothing uses any more, since the plan leaves all of it out. */
export function checkUnused({ reading, gone, place, recordNamed, planned }: CheckInput): Finding[] {
  if (!planned) return [];
  const left = new Map<number, number>();
  const before = new Map<number, number>();
  for (const { site, to, tier } of reading.references) {
    if (tier === 'possible') continue;
    before.set(to, (before.get(to) ?? 0) + 1);
    if (!gone(site.node)) left.set(to, (left.get(to) ?? 0) + 1);
  }
  const findings: Finding[] = [];
  for (const [to, count] of before) {
    if (gone(to) || left.has(to)) continue;
    findings.push({
      code: 'record-unused',
      severity: 'note',
      place: place({ node: to, attr: TEXT }),
      params: { name: recordNamed(to), count },
      byPlan: true,
      repairs: [
        {
          code: 'leave-out',
          params: {},
          decisions: [{ kind: 'leave-out', path: place({ node: to, attr: TEXT }).path }],
        },
      ],
    });
  }
  return findings;
}
