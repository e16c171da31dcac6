import type { Finding } from '../views.ts';
import { checkCautions } from './cautions/cautions.ts';
import { checkCertificates } from './credentials/certificates.ts';
import { checkSecrets } from './credentials/secrets.ts';
import { checkBoxBound } from './devices/box-bound.ts';
import { checkDocuments } from './devices/documents.ts';
import { checkMoved } from './devices/moved-roles.ts';
import { checkPorts } from './devices/ports.ts';
import { checkSeats } from './devices/seats.ts';
import { checkForm } from './form/form.ts';
import { checkVersion } from './form/format-version.ts';
import { checkNamesAndNumbers } from './form/names-and-numbers.ts';
import { checkSaved } from './form/save-time.ts';
import { checkStandard } from './form/standard.ts';
import type { CheckInput } from './input.ts';
import { checkAddresses } from './networks/addresses.ts';
import { checkReferences } from './references/references.ts';
import { checkUnused } from './references/unused.ts';
import { withRoles } from './report/role-of-finding.ts';
import { checkRules } from './rules/rules.ts';
import { checkWayIn } from './way-in/way-in.ts';

export type { CheckInput } from './input.ts';

const families = [
  checkPorts,
  checkDocuments,
  checkSeats,
  checkMoved,
  checkReferences,
  checkBoxBound,
  checkForm,
  checkStandard,
  checkAddresses,
  checkCertificates,
  checkRules,
  checkNamesAndNumbers,
  checkSecrets,
  checkUnused,
  checkVersion,
  checkSaved,
  checkWayIn,
  checkCautions,
];

const weight = { error: 0, warning: 1, note: 2 } as const;

/** All findings, the gravest first, then in the order of the file. */
export function check(input: CheckInput): Finding[] {
  const findings = families.flatMap((family) => family(input));
  return withRoles(input, withoutEchoes(findings)).sort(
    (a, b) => weight[a.severity] - weight[b.severity] || (a.place?.start ?? -1) - (b.place?.start ?? -1),
  );
}

/** Codes that say the same of a place as others do in closer words. */
const general: ReadonlySet<Finding['code']> = new Set(['value-outlier', 'schema-type', 'schema-too-many']);
/** The one of these that rests on no standard. */
const weakest = 'value-outlier';
/** These say something else of a value than that it is wrong. */
const aside =
  /^(?:blank-in-value|character-unseen|secret-|box-bound-|address-(?:documentation|special|not-canonical)|port-in-)/;

/** What is wrong with a value is said once, in the closest words. */
function withoutEchoes(findings: readonly Finding[]): Finding[] {
  const told = new Set<number>();
  const close = new Set<number>();
  for (const { code, place } of findings) {
    if (!place || code === weakest) continue;
    told.add(place.start);
    if (!general.has(code) && !aside.test(code)) close.add(place.start);
  }
  return findings.filter(({ code, place, severity }) => {
    if (!place || !general.has(code) || severity === 'error') return true;
    return !(code === weakest ? told : close).has(place.start);
  });
}
