import type { Edits } from '../compile/edits.ts';
import { placeFinder } from '../compile/leave-out.ts';
import { RECORD, spreadRecords } from '../compile/spread.ts';
import type { PatchSet } from '../patch/patch-set.ts';
import type { Plan } from '../plan/plan.ts';
import { propertiesOf } from '../reading/outline/properties.ts';
import type { Reading } from '../reading/reading.ts';
import { bad, type Result } from '../trouble.ts';
import type { Fits } from '../xml/edit.ts';
import type { Tree } from '../xml/tree.ts';
import { chosen } from './chosen.ts';
import { Attempt } from './graft-attempt.ts';
import type { GraftAccount } from './graft-ledger.ts';
import { obstacle, type PlacedPick, takesSectionsOnly } from './graft-limits.ts';
import type { Loose } from './graft-loose.ts';
import type { Answer, Mode } from './merge.ts';
import { kinship } from './names.ts';
import type { NewKey } from './new-keys.ts';
import type { Standing } from './standing.ts';

/** A document with its meaning: the one that settings come from, or the one that they go to. */
export interface Side {
  readonly tree: Tree;
  readonly reading: Reading;
  readonly fits: Fits;
  /** Whether an element is a rule that fits all that is left, so that nothing behind it applies; none is if left out. */
  readonly isClosing?: (node: number) => boolean;
}

/** One thing to take: a path, or the path of a collection, and how it meets what the receiver has. */
export interface Pick {
  readonly id: string;
  readonly mode: Exclude<Mode, 'holder'>;
}

export interface GraftRequest {
  readonly picks: readonly Pick[];
  /** Whether what the picked records need comes along; of that only what the receiver does not have. */
  readonly withNeeds: boolean;
  /** By the donor's path: what to do where both have a thing and it differs. */
  readonly answers: ReadonlyMap<string, Answer>;
  /** By the donor's path: the path of the receiver's element that it is to stand behind, or in as the first. */
  readonly standings?: ReadonlyMap<string, string>;
}

/** Both have it, under one key, with other content. */
export interface Clash {
  /** Paths in the donor and in the receiver. */
  readonly from: string;
  readonly to: string;
  /** Empty for a single setting. */
  readonly key: string;
  readonly answer: Answer;
  /** The key that it gets, where it is carried under a new one. */
  readonly newKey: string | null;
  readonly choices: readonly Answer[];
}

/** Something new among others of its kind on the receiver. */
export interface Placed extends Standing {
  /** Nodes of the donor and of the receiver: what is put in, and what is around it then. */
  readonly from: number;
  readonly inside: number;
}

export interface Graft {
  /** On the receiver's text. */
  readonly patches: PatchSet;
  /** On the receiver's tree. */
  readonly edits: Edits;
  readonly clashes: readonly Clash[];
  readonly loose: readonly Loose[];
  readonly placed: readonly Placed[];
  readonly account: GraftAccount;
  /** The donor's plan with what follows from new keys: what was read to make the result. */
  readonly plan: Plan;
}

/** How often keys are chosen anew before giving up; each round settles every clash that is left. */
const ROUNDS = 50;

/**
 * Takes sections and records out of one backup into another, as patches on the other's text: in its indentation, line
 * ends, escapes and encoding, each record next to those that it stands next to on the donor. The donor's plan applies to what is taken: renamed
 * ports, set values, and what is left out inside of what is picked. What fits the receiver's box only stays as it is there.
 */
export function graft(donor: Side, plan: Plan, receiver: Side, asked: GraftRequest): Result<Graft> {
  // What is needed are single records, for which another form has no place.
  const kin = kinship(donor.tree, receiver.tree);
  const withNeeds = asked.withNeeds && !takesSectionsOnly(kin);
  const request = { ...asked, withNeeds };
  const picks = placed(donor, request.picks);
  const trouble = obstacle(donor, receiver, picks, kin);
  if (trouble) return bad(trouble);
  const chosenPlan = chosen(
    donor.tree,
    donor.reading,
    plan,
    picks.map(({ id }) => id),
    request.withNeeds,
  );
  const keys = new Map<number, NewKey>();
  const lists = propertiesOf(donor.tree);
  for (let round = 0; round < ROUNDS; round++) {
    const attempt = new Attempt(donor, receiver, picks, request, chosenPlan, keys, lists);
    const made = attempt.run();
    if (!made.ok) return made;
    const open = attempt.unsettled();
    if (open.length === 0) return made;
    for (const node of open) keys.set(node, attempt.nextKey(node));
  }
  return bad({ code: 'graft-no-key', params: { rounds: ROUNDS } });
}

/** A record that is written as several elements side by side is picked with all of them. */
function placed({ tree, reading }: Side, picks: readonly Pick[]): PlacedPick[] {
  const find = placeFinder(tree, reading);
  const spread = spreadRecords(tree, reading);
  return picks
    .map((pick) => {
      const [top, ...more] = find(pick.id);
      const id = top !== undefined && more.length === 0 && spread.has(top) ? pick.id + RECORD : pick.id;
      return { ...pick, id, nodes: find(id) };
    })
    .filter(({ nodes }) => nodes.length > 0);
}
