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
import { withRoles } from './role-of.ts';
import { checkRules } from './rules.ts';
import { checkSaved } from './saved.ts';
import { checkSeats } from './seats.ts';
import { checkSecrets } from './secrets.ts';
import { checkStandard } from './standard.ts';
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
