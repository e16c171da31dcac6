import {
  type Decision,
  type OutlinePart,
  type Part,
  type Plan,
  type PlanOutline,
  planOf,
  type Tick,
} from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import type { Tree } from '../xml/tree.ts';
import { type FitReason, Judge } from './fit-judge.ts';
import { atPath, Pathfinder, pathIn } from './landmarks.ts';
import { chainNames, groupsOf, outlineOf, recordIds } from './outline.ts';
import { MARK, RecordMarks } from './record-marks.ts';

export interface FitEntry {
  readonly decision: Decision;
  readonly reason: FitReason;
}

/** A part of a file, with the number of its entries then and now; null for one that was or is not there. */
export interface FitPart {
  readonly name: string;
  readonly before: number | null;
  readonly now: number | null;
  /** Records that were not there, as nodes, and how many are not there any more; null where that is not known. */
  readonly added: readonly number[] | null;
  readonly removed: number | null;
  /** True where records are told by a key; otherwise one that has changed counts as removed and added. */
  readonly keyed: boolean;
}

/** How a saved plan meets a backup. */
export interface Fit {
  /** True for the very file that it was made for. */
  readonly sameFile: boolean;
  /** What to go on with: what fits, at the places where it belongs now; what is gone is not in it. */
  readonly plan: Plan;
  /** As they are in that plan. */
  readonly fits: readonly Decision[];
  /** Those of them whose place is another now, each with the one it had. */
  readonly moved: readonly { readonly decision: Decision; readonly from: string }[];
  /** Their places are there, and may be others than was meant. */
  readonly check: readonly FitEntry[];
  /** As they were in the saved plan. */
  readonly gone: readonly FitEntry[];
  /** Parts that are new, gone, larger or smaller, or hold other records; none where the plan does not say what its file had. */
  readonly sections: readonly FitPart[];
  readonly collections: readonly FitPart[];
}

/** What is gone for one of these reasons does no harm where it stays in the plan, and may count again. */
const harmless = new Set<FitReason>(['port-missing', 'field-missing', 'collection-missing']);

/** Tries a saved plan on a backup: what still fits, what may mean something else, what is gone, what is new since. */
export function fit(plan: Plan, { tree, hash }: { readonly tree: Tree; readonly hash: string }, reading: Reading): Fit {
  const sameFile = plan.file?.hash === hash;
  const now = outlineOf(tree, reading);
  const judge = new Judge(tree, reading, sameFile ? null : steadyRecords(plan.outline, now, tree, reading));
  const landmarks = plan.outline?.landmarks;
  const finder = !sameFile && landmarks ? new Pathfinder(tree, reading, landmarks) : null;
  const fits: Decision[] = [];
  const moved: Fit['moved'][number][] = [];
  const check: FitEntry[] = [];
  const gone: FitEntry[] = [];
  /** The decision as it stays in the plan; null for one that does not. */
  const judged = (decision: Decision): Decision | null => {
    const [path] = pathIn(decision);
    const found = finder && path !== undefined ? finder.find(path) : null;
    if (typeof found === 'string') {
      // The findings of the new backup say which of those that are set aside no longer stand.
      if (decision.kind === 'set-aside') {
        fits.push(decision);
        return decision;
      }
      gone.push({ decision, reason: found === 'other' ? 'record-gone' : 'place-missing' });
      return null;
    }
    const placed = found && path !== undefined ? atPath(decision, found.path) : decision;
    const reason = judge.reason(placed, found === null ? null : found.sure);
    if (reason === 'records-moved') check.push({ decision: placed, reason });
    else if (reason !== null) {
      gone.push({ decision, reason });
      return harmless.has(reason) || sameFile ? decision : null;
    } else fits.push(placed);
    if (found && path !== found.path) moved.push({ decision: placed, from: path! });
    return placed;
  };
  const kept = (decisions: readonly Decision[]) =>
    decisions.map(judged).filter((decision): decision is Decision => decision !== null);
  const decisions = planOf(kept(plan.decisions), plan.file);
  const part = plan.part && { part: placedPart(plan.part, kept(plan.part.ticks) as Tick[], finder) };
  const compared = plan.outline && !sameFile ? new Comparison(plan.outline, now, tree, reading) : null;
  return {
    sameFile,
    plan: { ...plan, ...decisions, ...part },
    fits,
    moved,
    check,
    gone,
    sections: compared?.sections() ?? [],
    collections: compared?.collections() ?? [],
  };
}

/** A part with its places as they are now; what is said of things that are gone goes with them. */
function placedPart(part: Part, ticks: readonly Tick[], finder: Pathfinder | null): Part {
  if (!finder) return { ...part, ticks };
  const placed = <T>(said: Readonly<Record<string, T>>): Record<string, T> =>
    Object.fromEntries(
      Object.entries(said).flatMap(([path, word]) => {
        const found = finder.find(path);
        return typeof found === 'string' ? [] : [[found.path, word] as const];
      }),
    );
  return {
    ...part,
    ticks,
    modes: placed(part.modes),
    answers: placed(part.answers),
    standings: placed(part.standings),
  };
}

/** What two outlines of a box's backups do not have alike. */
class Comparison {
  constructor(
    private readonly before: PlanOutline,
    private readonly now: PlanOutline,
    private readonly tree: Tree,
    private readonly reading: Reading,
  ) {}

  sections(): FitPart[] {
    return pairs(this.before.sections, this.now.sections)
      .filter(([then, today]) => then?.count !== today?.count)
      .map(([then, today, name]) => ({ ...counts(then, today, name), added: null, removed: null, keyed: false }));
  }

  /** Records are told by what told them apart then. */
  collections(): FitPart[] {
    const { tree, reading, before } = this;
    const groups = groupsOf(tree, reading);
    const specs = new Map(before.collections.map(({ name, key }) => [name, key ?? '']));
    const ids = recordIds(new RecordMarks(tree, reading), groups, specs);
    return pairs(before.collections, this.now.collections).flatMap(([then, today, name]): FitPart[] => {
      const records = groups.get(name)?.records ?? [];
      const told = { ...counts(then, today, name), keyed: (then?.key ?? '') !== '' };
      if (!then) return [{ ...told, added: records, removed: null }];
      if (then.marks === undefined) return then.count === today?.count ? [] : [{ ...told, added: null, removed: null }];
      const left = new Map<string, number>();
      for (let at = 0; at < then.marks.length; at += MARK) {
        const mark = then.marks.slice(at, at + MARK);
        left.set(mark, (left.get(mark) ?? 0) + 1);
      }
      const added = records.filter((node) => {
        const times = left.get(ids.get(node)!) ?? 0;
        left.set(ids.get(node)!, times - 1);
        return times <= 0;
      });
      const removed = then.count - (records.length - added.length);
      return added.length + removed === 0 ? [] : [{ ...told, added, removed }];
    });
  }
}

const counts = (then: OutlinePart | undefined, today: OutlinePart | undefined, name: string) => ({
  name,
  before: then?.count ?? null,
  now: today?.count ?? null,
});

function pairs(
  before: readonly OutlinePart[],
  now: readonly OutlinePart[],
): [OutlinePart | undefined, OutlinePart | undefined, string][] {
  const then = new Map(before.map((part) => [part.name, part]));
  const today = new Map(now.map((part) => [part.name, part]));
  return [...new Set([...then.keys(), ...today.keys()])].map((name) => [then.get(name), today.get(name), name]);
}

/** Records of collections whose number is the same as it was; none where the plan does not say. */
function steadyRecords(before: PlanOutline | undefined, now: PlanOutline, tree: Tree, reading: Reading): Set<number> {
  const nodes = new Set<number>();
  if (!before) return nodes;
  const steady = new Set(
    pairs(before.collections, now.collections).flatMap(([then, today, name]) =>
      then?.count === today?.count ? [name] : [],
    ),
  );
  const chain = chainNames(tree, reading);
  for (const { parent, item, records } of reading.collections)
    if (steady.has(`${chain(parent)}/${item ?? '*'}`)) for (const node of records) nodes.add(node);
  return nodes;
}
