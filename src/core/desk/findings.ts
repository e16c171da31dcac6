import { amend } from '../checks/amended.ts';
import { setAside } from '../checks/aside.ts';
import { type CheckInput, check } from '../checks/index.ts';
import { type Compiled, withinAny } from '../compile/compile.ts';
import { DeviceIndex, seatsOf } from '../compile/seats.ts';
import { setValues } from '../compile/set-values.ts';
import { type Plan, renamesOf } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import type { Finding, PlanView } from '../views.ts';
import { type Backup, placeOf } from './open.ts';
import { subnetViews } from './subnet-view.ts';

/** What checks need to know that neither the file nor the plan says; see `CheckInput`. */
export type Circumstances = Partial<Pick<CheckInput, 'now' | 'receiverVersion' | 'receiver' | 'proven'>>;

/** What is wrong with a backup as the plan would make it, and the networks that its roles would have. */
export function findingsOf(
  backup: Backup,
  reading: Reading,
  plan: Plan,
  { troubles, edits }: Compiled,
  recordNamed: (node: number) => string,
  { now = null, receiverVersion = null, receiver = null, proven = null }: Circumstances,
): Pick<PlanView, 'findings' | 'subnets'> {
  const { tree, decoded } = backup;
  const amended = amend(tree, reading, setValues(tree, reading, plan, []));
  const renames = renamesOf(plan);
  const gone = withinAny(tree, [...edits.leftOut.keys()]);
  const place: CheckInput['place'] = (site) => placeOf(backup, site);
  const found = check({
    tree,
    decoded,
    ...amended,
    plan,
    renames,
    leaves: edits.leftOut.size > 0,
    gone,
    place,
    recordNamed,
    seats: seatsOf(tree, amended.reading, plan),
    devices: new DeviceIndex(amended.reading, renames),
    added: edits.added,
    receiver,
    planned: plan.decisions.some(({ kind }) => kind !== 'correct' && kind !== 'set-aside'),
    now,
    receiverVersion,
    // Tried on the donor's own list: where the plan sets a certificate, its places in the list are others.
    proven: amended.reading.certificates === reading.certificates ? proven : null,
  });
  const entries = troubles
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
  return {
    findings: setAside([...entries, ...found], plan),
    subnets: subnetViews(amended.reading, gone, place),
  };
}
