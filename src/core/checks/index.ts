import type { Finding } from '../views.ts';
import { checkAddresses } from './addresses.ts';
import { checkBoxBound } from './box-bound.ts';
import { checkCautions } from './cautions.ts';
import { checkCertificates } from './certificates.ts';
import { checkDocuments } from './documents.ts';
import { checkForm } from './form.ts';
import type { CheckInput } from './input.ts';
import { checkMoved } from './moved.ts';
import { checkNamesAndNumbers } from './names-and-numbers.ts';
import { checkPorts } from './ports.ts';
import { checkReferences } from './references.ts';
import { checkRules } from './rules.ts';
import { checkSeats } from './seats.ts';
import { checkSecrets } from './secrets.ts';
import { checkUnused } from './unused.ts';
import { checkVersion } from './version.ts';
import { checkWayIn } from './way-in.ts';

export type { CheckInput } from './input.ts';

const families = [
  checkPorts,
  checkDocuments,
  checkSeats,
  checkMoved,
  checkReferences,
  checkBoxBound,
  checkForm,
  checkAddresses,
  checkCertificates,
  checkRules,
  checkNamesAndNumbers,
  checkSecrets,
  checkUnused,
  checkVersion,
  checkWayIn,
  checkCautions,
];

const weight = { error: 0, warning: 1, note: 2 } as const;

/** All findings, the gravest first, then in the order of the file. */
export function check(input: CheckInput): Finding[] {
  const findings = families.flatMap((family) => family(input));
  return withoutEchoes(findings).sort(
    (a, b) => weight[a.severity] - weight[b.severity] || (a.place?.start ?? -1) - (b.place?.start ?? -1),
  );
}

/** A value that is odd in its field, where another finding says what is wrong with it, is said once. */
function withoutEchoes(findings: readonly Finding[]): Finding[] {
  const told = new Set<number>();
  for (const { code, place } of findings) if (code !== 'value-outlier' && place) told.add(place.start);
  return findings.filter(({ code, place }) => code !== 'value-outlier' || !place || !told.has(place.start));
}
