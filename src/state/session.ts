import { create } from 'zustand';
import {
  type BackupView,
  emptyPlan,
  type FitView,
  type History,
  isEmpty,
  newHistory,
  type Plan,
  type PlanView,
  type Receiver,
  type ReceiverMark,
  type Trouble,
} from '../core/index.ts';
import type { Phase } from '../worker/protocol.ts';

/** A file as it was handed over: bytes are read only when its turn comes. */
export interface Incoming {
  readonly name: string;
  /** Bytes. */
  readonly size: number;
}

/** A file to read; its bytes are asked for once. */
export interface Source extends Incoming {
  bytes(): Promise<ArrayBuffer>;
}

export interface Amount {
  readonly phase: Phase;
  readonly done: number;
  readonly total: number;
}

/** A backup that is read, with all that follows from the plan. The text itself stays with the worker. */
export interface Opened {
  readonly phase: 'open';
  /** Tells one opened file from the next, also where the same file is opened twice. */
  readonly id: number;
  readonly file: Incoming;
  readonly backup: BackupView;
  readonly view: PlanView;
  /** A later decision is being worked out; `view` shows an earlier plan. */
  readonly behind: boolean;
  /** The last decision could not be worked out through a fault of ours. */
  readonly fault: string | null;
}

/** The box that the settings go to, as far as it was described. */
export interface NewBox {
  readonly receiver: Receiver;
  /** The file or the command that told of it, for people. */
  readonly from: string;
  /** Whether a file on the disk says the same. */
  readonly safe: boolean;
  /** Its own backup, where that was handed over: what a graft goes into. */
  readonly backup?: Source | null;
}

/** The backup that a graft is to go into, while it is read, or why it was refused. */
export interface Arriving {
  readonly name: string;
  readonly trouble: Trouble | null;
}

/** A plan that came from elsewhere, as it was taken in. */
export interface Met {
  readonly fit: FitView;
  /** The plan that it became: the words stand as long as that is in the history. */
  readonly plan: Plan;
}

/** What the page is doing. While another file is read or refused, `kept` is the one that stays. */
export type Session =
  | { readonly phase: 'empty' }
  | {
      readonly phase: 'busy';
      readonly file: Incoming;
      readonly amount: Amount | null;
      readonly kept: Opened | null;
    }
  | { readonly phase: 'refused'; readonly file: Incoming; readonly trouble: Trouble; readonly kept: Opened | null }
  | { readonly phase: 'broken'; readonly file: Incoming; readonly message: string; readonly kept: Opened | null }
  | Opened;

export const sheets = ['reading', 'ports', 'carry', 'findings', 'changes', 'handover'] as const;
export type Sheet = (typeof sheets)[number];

export interface State {
  readonly session: Session;
  readonly sheet: Sheet;
  /** Null where the new box is not described. */
  readonly newBox: NewBox | null;
  /** The new box is being described, by a file where one was handed over for it. */
  readonly describing: { readonly source: Source | null } | null;
  /** The backup that a graft goes into, held by the worker; null where none is open. */
  readonly into: ReceiverMark | null;
  readonly arriving: Arriving | null;
  /** The plan with its way back. */
  readonly history: History;
  /** The plan that was last saved or downloaded; leaving the page with another one loses decisions. */
  readonly safe: History['present']['plan'];
  /** How a plan that was made for another backup met this one; null where there was none. */
  readonly met: Met | null;
  /** Entries of a loaded plan that could not be taken in. */
  readonly strange: readonly Trouble[];
}

export const empty: State = {
  session: { phase: 'empty' },
  sheet: 'reading',
  newBox: null,
  into: null,
  arriving: null,
  describing: null,
  history: newHistory(),
  safe: emptyPlan,
  met: null,
  strange: [],
};

export const useDesk = create<State>(() => empty);

/** The opened backup, also while another one is being read. */
export function openedOf(session: Session): Opened | null {
  if (session.phase === 'open') return session;
  return session.phase === 'empty' ? null : session.kept;
}

/** Decisions, or a description of the new box, that would be lost with the page. */
export const atRisk = ({ session, history, safe, newBox }: State): boolean =>
  openedOf(session) !== null &&
  ((history.present.plan !== safe && !isEmpty(history.present.plan)) || newBox?.safe === false);
