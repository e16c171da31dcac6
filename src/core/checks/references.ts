import type { Finding } from '../views.ts';
import type { CheckInput } from './input.ts';

/** References without a target: those that the donor already had, and those whose target the plan leaves out. */
export function checkReferences({ reading, gone, place, recordNamed }: CheckInput): Finding[] {
  const findings: Finding[] = [];
  for (const { site, value, field, tier, nearest } of reading.dangling) {
    if (gone(site.node)) continue;
    findings.push({
      code: 'reference-dangling',
      severity: tier === 'possible' ? 'note' : 'warning',
      place: place(site),
      params: { value, field: reading.fields[field]?.name ?? '', ...(nearest !== null && { nearest }) },
      byPlan: false,
    });
  }
  for (const { site, value, to, field, tier } of reading.references) {
    if (tier === 'possible' || gone(site.node) || !gone(to)) continue;
    findings.push({
      code: 'reference-left-out',
      severity: tier === 'certain' ? 'error' : 'warning',
      place: place(site),
      params: { value, field: reading.fields[field]?.name ?? '', target: recordNamed(to) },
      byPlan: true,
    });
  }
  return findings;
}
