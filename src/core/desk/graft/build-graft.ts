import { type Graft, type GraftRequest, graft } from '../../carry/graft.ts';
import { ruleOrderOf } from '../../checks/rules/rule-order.ts';
import type { Plan } from '../../plan/plan.ts';
import { good, type Result } from '../../trouble.ts';
import type { OpenBackup } from '../backup/open.ts';
import { type Proved, prove } from '../plan/build.ts';

export interface BuiltGraft extends Proved {
  readonly graft: Graft;
}

const side = ({ backup, reading }: OpenBackup) => ({ tree: backup.tree, reading, fits: backup.fits });

function closed(receiver: OpenBackup) {
  const { closing } = ruleOrderOf(receiver.reading);
  return { ...side(receiver), isClosing: (node: number) => closing.has(node) };
}

/** What a graft would do to the receiver; nothing is written yet. */
export const planGraft = (donor: OpenBackup, plan: Plan, receiver: OpenBackup, request: GraftRequest): Result<Graft> =>
  graft(side(donor), plan, closed(receiver), request);

/**
 * The receiver's backup with what was picked in it, proved like any result: both readers read it again from its bytes, and
 * what they find is what the graft says must come out.
 */
export function buildGraft(
  donor: OpenBackup,
  plan: Plan,
  receiver: OpenBackup,
  request: GraftRequest,
): Result<BuiltGraft> {
  const made = planGraft(donor, plan, receiver, request);
  if (!made.ok) return made;
  const proved = prove(receiver.backup, made.value);
  return proved.ok ? good({ ...proved.value, graft: made.value }) : proved;
}
