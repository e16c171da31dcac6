import {
  type DependentsView,
  emptyPlan,
  type FieldQuery,
  type FileMark,
  isEmpty,
  newHistory,
  type Plan,
  type Receiver,
  type RecordQuery,
} from '../core/index.ts';
import { type DeskAtWork, loadDesk } from '../platform/desks.ts';
import { practiceText } from '../platform/examples.ts';
import type { Comparison, Progress, Suggestions } from '../worker/protocol.ts';
import { type Opened, openedOf, type Source, useDesk } from './session.ts';

export type { Source };

const { getState, setState } = useDesk;

/**
 * Each backup has a worker of its own. The one at work stays until another file is read well, so that cancelling or
 * refusing the new file costs nothing.
 */
let atWork: DeskAtWork | null = null;
let arriving: DeskAtWork | null = null;
let spare: Promise<DeskAtWork> | null = null;
/** Counts the files taken up; what comes back for an earlier one is dropped. */
let turn = 0;

/**
 * Starts a worker ahead of the next file, so that reading begins at once. It practises where no other is at work, which it
 * would slow down.
 */
export function warmUp(): void {
  if (spare) return;
  const started = loadDesk().then((start) => start());
  spare = started;
  started.then(practise).catch(() => {
    if (spare === started) spare = null;
  });
}

async function practise(desk: DeskAtWork): Promise<void> {
  if (atWork) return;
  const text = await practiceText().catch(() => null);
  // Ended, or given a file, meanwhile: then there is nothing to get ready for.
  if (text !== null) await desk.practise(text).catch(() => {});
}

async function hire(): Promise<DeskAtWork> {
  const ready = spare;
  spare = null;
  return (await ready?.catch(() => null)) ?? (await loadDesk())();
}

/**
 * Reads a file. With `keepPlan` the present decisions are tried on it and the new box stays described; otherwise the
 * plan starts empty and the new box is unknown.
 */
export async function open(source: Source, keepPlan = false): Promise<void> {
  const mine = ++turn;
  arriving?.end();
  arriving = null;
  const kept = openedOf(getState().session);
  const old = getState().history.present.plan;
  const leaving = keepPlan && kept ? atWork : null;
  const file = { name: source.name, size: source.size };
  setState({ session: { phase: 'busy', file, amount: null, kept } });
  let desk: DeskAtWork | null = null;
  try {
    desk = await hire();
    if (mine !== turn) return desk.end();
    arriving = desk;
    const bytes = await source.bytes();
    if (mine !== turn) return;
    const read = await desk.open(bytes, source.name, (phase, done, total) => {
      const { session } = getState();
      if (mine === turn && session.phase === 'busy')
        setState({ session: { ...session, amount: { phase, done, total } } });
    });
    if (mine !== turn) return;
    if (!read.ok) {
      desk.end();
      arriving = null;
      setState({ session: { phase: 'refused', file, trouble: read.trouble, kept } });
      return;
    }
    const mark = { name: source.name, hash: read.value.hash };
    // The old backup tells what the decisions were about, and the new one where that stands now.
    const brought = leaving && kept && !isEmpty(old) ? await desk.fit(await leaving.seal(old)) : null;
    if (mine !== turn) return;
    const plan: Plan = brought ? afresh(brought.plan, mark) : { ...emptyPlan, file: mark };
    const newBox = keepPlan ? getState().newBox : null;
    const { backup, plan: view } = await desk.view(plan, newBox?.receiver);
    if (mine !== turn) return;
    atWork?.end();
    atWork = desk;
    arriving = null;
    const { sheet } = getState();
    setState({
      session: { phase: 'open', id: mine, file, backup, view, behind: false, fault: null },
      history: newHistory(plan),
      safe: keepPlan ? emptyPlan : plan,
      newBox,
      into: null,
      arriving: null,
      describing: null,
      met: brought && { fit: brought, plan },
      strange: [],
      sheet: kept ? sheet : 'reading',
    });
    warmUp();
    trySignatures(desk);
  } catch (error) {
    desk?.end();
    if (mine !== turn) return;
    arriving = null;
    setState({ session: { phase: 'broken', file, message: (error as Error).message, kept } });
  }
}

/** A plan to go on with on a backup: the outline of the one that it was made for has served. */
export function afresh({ outline: _, ...plan }: Plan, file: FileMark | null): Plan {
  return { ...plan, file };
}

/** Stops reading; the backup that was open stays. */
export function cancel(): void {
  turn++;
  arriving?.end();
  arriving = null;
  backToKept();
  warmUp();
}

/** Leaves a refusal behind. */
export function backToKept(): void {
  setState(({ session }) => ({ session: openedOf(session) ?? { phase: 'empty' } }));
}

/** Puts the backup away, with its plan. */
export function close(): void {
  turn++;
  atWork?.end();
  atWork = null;
  setState({
    session: { phase: 'empty' },
    history: newHistory(),
    safe: emptyPlan,
    newBox: null,
    into: null,
    arriving: null,
    describing: null,
    met: null,
    strange: [],
    sheet: 'reading',
  });
  warmUp();
}

const change = (id: number, update: Partial<Opened>) =>
  setState((state) => {
    const { session } = state;
    const opened = openedOf(session);
    if (!opened || opened.id !== id) return state;
    const next = { ...opened, ...update };
    if (session.phase === 'open') return { session: next };
    return session.phase === 'empty' ? state : { session: { ...session, kept: next } };
  });

/** Signatures take their time, so they are tried once the file is shown; what comes of it follows. */
async function trySignatures(desk: DeskAtWork): Promise<void> {
  const news = await desk.signatures(getState().history.present.plan).catch(() => false);
  if (news && desk === atWork) await follow();
}

/** The worker that is working a plan out. */
let following: DeskAtWork | null = null;
/** Counts what was asked, so that an answer from before is asked for again. */
let asked = 0;

/** Works out what follows from the present plan and the new box. Decisions made meanwhile wait, and only the latest of them counts. */
export async function follow(): Promise<void> {
  asked++;
  const opened = openedOf(getState().session);
  if (opened) change(opened.id, { behind: true });
  if (!opened || !atWork || following === atWork) return;
  const desk = atWork;
  following = desk;
  try {
    for (;;) {
      const { plan } = getState().history.present;
      const receiver = getState().newBox?.receiver;
      const before = asked;
      const { backup, plan: view } = await desk.view(plan, receiver);
      if (desk !== atWork) break;
      if (before !== asked || plan !== getState().history.present.plan || receiver !== getState().newBox?.receiver)
        continue;
      change(opened.id, { backup, view, behind: false, fault: null });
      break;
    }
  } catch (error) {
    if (desk === atWork) change(opened.id, { behind: false, fault: (error as Error).message });
  } finally {
    if (following === desk) following = null;
  }
  // A certificate that was set is tried, too.
  if (desk === atWork && getState().history.present.plan.decisions.some(({ kind }) => kind === 'set-value'))
    trySignatures(desk);
}

/** Lets a worker of its own do one piece of reading and ends it. */
export function justRead<T>(ask: (desk: DeskAtWork, progress: Progress) => Promise<T>): {
  readonly read: Promise<T>;
  stop(): void;
} {
  let stopped = false;
  let desk: DeskAtWork | null = null;
  const read = (async () => {
    desk = await hire();
    try {
      if (stopped) throw new Error('The reading was stopped.');
      return await ask(desk, () => {});
    } finally {
      desk.end();
      warmUp();
    }
  })();
  return {
    read,
    stop() {
      stopped = true;
      desk?.end();
    },
  };
}

export function working(): DeskAtWork {
  if (!atWork) throw new Error('No backup is open.');
  return atWork;
}

export const build = (plan: Plan) => working().build(plan);
export const suggest = (plan: Plan, receiver: Receiver): Promise<Suggestions> => working().suggest(plan, receiver);
export const dependents = (plan: Plan, path: string): Promise<DependentsView | null> =>
  working().dependents(plan, path);
export const records = (query: RecordQuery) => working().records(query);
export const fields = (plan: Plan, query: FieldQuery) => working().fields(plan, query);
export const keyOptions = (plan: Plan, collection: string) => working().keyOptions(plan, collection);
export const care = (plan: Plan) => working().care(plan);
export const documentAt = (plan: Plan, path: string) => working().document(plan, path);
export const lines = (from: number, to: number) => working().lines(from, to);
export const around = (start: number, end: number, units: number) => working().around(start, end, units);
export const compare = (plan: Plan, section: string, limit: number): Promise<Comparison> =>
  working().compare(plan, section, limit);
