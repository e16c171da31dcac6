import { amend } from '../../checks/amended/amended.ts';
import { stillProven } from '../../checks/amended/amended-certificates.ts';
import { type CheckInput, check } from '../../checks/index.ts';
import { withOwners } from '../../checks/report/owners.ts';
import { setAside } from '../../checks/report/set-aside.ts';
import { type Compiled, withinAny } from '../../compile/compile.ts';
import { DeviceIndex, seatsOf } from '../../compile/seats.ts';
import { setValues } from '../../compile/set-values.ts';
import { emptyPlan, type Plan, renamesOf } from '../../plan/plan.ts';
import type { ProvenCertificate } from '../../reading/certificates/certificates.ts';
import type { Reading } from '../../reading/reading.ts';
import type { Finding, PlanView } from '../../views.ts';
import { type Backup, placeOf } from '../backup/open.ts';
import { subnetViews } from './subnet-view.ts';

/** What checks need to know that neither the file nor the plan says; see `CheckInput`. */
export type Circumstances = Partial<Pick<CheckInput, 'now' | 'receiverVersion' | 'receiver'>> & {
  /** The donor's certificates with their signatures tried; null where that was not done yet. */
  readonly proven?: readonly ProvenCertificate[] | null;
  /** The certificates as a plan sets them, likewise, with the reading that they are of; see `asPlanned`. */
  readonly provenSet?: { readonly of: Reading['certificates']; readonly list: readonly ProvenCertificate[] } | null;
};

/** The reading with the values that the plan sets. Its certificates are the reading's own where none is touched. */
export function asPlanned({ tree }: Backup, reading: Reading, plan: Plan): Reading {
  return amend(tree, reading, setValues(tree, reading, plan, [])).reading;
}

/** What is wrong with a backup as the plan would make it, and the networks that its roles would have. */
export function findingsOf(
  backup: Backup,
  reading: Reading,
  plan: Plan,
  compiled: Pick<Compiled, 'troubles' | 'edits'>,
  recordNamed: (node: number) => string,
  circumstances: Circumstances,
): Pick<PlanView, 'findings' | 'subnets'> {
  const input = inputOf(backup, reading, plan, compiled.edits, recordNamed, circumstances);
  const entries = compiled.troubles
    .filter(({ code }) => code !== 'plan-port-doubled')
    .map(
      ({ code, params = {} }): Finding => ({
        code: 'plan-entry',
        severity: 'error',
        place: null,
        params: { ...params, trouble: code },
        byPlan: true,
      }),
    );
  const found = check(input);
  const owners = input.planned ? withOwners(found, donors(backup, reading, recordNamed, circumstances), input) : found;
  if (!input.planned) keep(reading, circumstances, found);
  return {
    findings: setAside([...entries, ...owners], plan),
    subnets: subnetViews(input.reading, input.gone, input.place),
  };
}

function inputOf(
  backup: Backup,
  reading: Reading,
  plan: Plan,
  edits: Pick<Compiled['edits'], 'leftOut' | 'added'>,
  recordNamed: (node: number) => string,
  { now = null, receiverVersion = null, receiver = null, proven = null, provenSet = null }: Circumstances,
): CheckInput {
  const { tree, decoded } = backup;
  const amended = amend(tree, reading, setValues(tree, reading, plan, []));
  const renames = renamesOf(plan);
  return {
    tree,
    decoded,
    reading: amended.reading,
    set: amended.set,
    lost: amended.lost,
    donor: reading,
    plan,
    renames,
    leaves: edits.leftOut.size > 0,
    gone: withinAny(tree, [...edits.leftOut.keys()]),
    leftBy: (node) => {
      let at = node;
      while (at !== -1 && !edits.leftOut.has(at)) at = tree.parent[at]!;
      return edits.leftOut.get(at) ?? null;
    },
    place: (site) => placeOf(backup, site),
    recordNamed,
    seats: seatsOf(tree, amended.reading, plan),
    devices: new DeviceIndex(amended.reading, renames),
    added: edits.added,
    receiver,
    planned: plan.decisions.some(({ kind }) => kind !== 'correct' && kind !== 'set-aside'),
    now,
    receiverVersion,
    proven:
      provenSet?.of === amended.reading.certificates
        ? provenSet.list
        : proven && stillProven(proven, amended.reading.certificates, amended.set),
  };
}

interface Donors {
  readonly of: string;
  readonly proven: Circumstances['proven'];
  readonly findings: readonly Finding[];
}

const known = new WeakMap<Reading, Donors>();

/** What the donor's own findings rest on besides the file; of the time the hour is enough. */
const restsOn = ({ now = null, receiver = null, receiverVersion = null }: Circumstances) =>
  JSON.stringify([now?.slice(0, 13), receiver, receiverVersion]);

function keep(reading: Reading, circumstances: Circumstances, findings: readonly Finding[]): readonly Finding[] {
  known.set(reading, { of: restsOn(circumstances), proven: circumstances.proven, findings });
  return findings;
}

/** What is wrong with the donor itself; mostly known already, since a file is looked at before anything is decided. */
function donors(
  backup: Backup,
  reading: Reading,
  recordNamed: (node: number) => string,
  circumstances: Circumstances,
): readonly Finding[] {
  const own = known.get(reading);
  if (own && own.of === restsOn(circumstances) && own.proven === circumstances.proven) return own.findings;
  const nothing = { leftOut: new Map(), added: [] };
  return keep(reading, circumstances, check(inputOf(backup, reading, emptyPlan, nothing, recordNamed, circumstances)));
}
