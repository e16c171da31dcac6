import type { Finding } from '../views.ts';
import { checkAddresses } from './addresses.ts';
import { checkBoxBound } from './box-bound.ts';
import { checkCertificates } from './certificates.ts';
import { checkForm } from './form.ts';
import type { CheckInput } from './input.ts';
import { checkPorts } from './ports.ts';
import { checkReferences } from './references.ts';
import { checkRules } from './rules.ts';
import { checkSeats } from './seats.ts';

export type { CheckInput } from './input.ts';

const families = [
  checkPorts,
  checkSeats,
  checkReferences,
  checkBoxBound,
  checkForm,
  checkAddresses,
  checkCertificates,
  checkRules,
];

const weight = { error: 0, warning: 1, note: 2 } as const;

/** All findings, the gravest first, then in the order of the file. */
export function check(input: CheckInput): Finding[] {
  const findings = families.flatMap((family) => family(input));
  return findings.sort(
    (a, b) => weight[a.severity] - weight[b.severity] || (a.place?.start ?? -1) - (b.place?.start ?? -1),
  );
}
