import type { Trouble } from '../trouble.ts';
import type { Place } from './backup.ts';
import type { RecordMark, Standing } from './carry.ts';

/** How a graft would go; nothing is written yet. */
export type GraftState =
  | { readonly state: 'no-receiver' }
  | { readonly state: 'refused'; readonly receiver: ReceiverMark; readonly trouble: Trouble }
  | ({ readonly state: 'ready' } & GraftView);

/** The backup that settings go into, for people. */
export interface ReceiverMark {
  readonly name: string;
  readonly host: string | null;
  readonly root: string;
  readonly entries: number;
  /** How much of its form it shares with the donor, 0 to 1. */
  readonly kin: number;
  /** Whether it is of another form, so that only whole sections can go over. */
  readonly sectionsOnly: boolean;
  /** Whether it is the donor's text once more. */
  readonly same: boolean;
}

export interface GraftView {
  readonly receiver: ReceiverMark;
  readonly picks: readonly PickView[];
  readonly picksTotal: number;
  readonly clashes: readonly ClashView[];
  /** References that go over and whose target neither side gives. */
  readonly loose: readonly LooseView[];
  readonly standings: StandingViews;
  /** What comes along since what is ticked needs it. */
  readonly along: readonly RecordMark[];
  readonly ledger: ReceiverLedger;
  /** Settings bound to the receiver's hardware, which stay as they are there. */
  readonly stays: number;
}

/** Where records come to stand on the receiver, the first of `total`. */
export interface StandingViews {
  readonly standings: readonly StandingView[];
  readonly total: number;
  readonly lists: readonly StandingList[];
}

export interface StandingView extends Standing {
  readonly record: RecordMark;
  /** The receiver's path of what it comes to stand behind, or to stand in as the first. */
  readonly behind: string;
  /** Empty for the start. */
  readonly behindName: string;
  /** Whether its place decides what applies. */
  readonly matters: boolean;
  /** Which of the lists it is in. */
  readonly list: number;
}

/** The places that a record of the receiver's list can stand behind, the first of `total`, and the path of what is around. */
export interface StandingList {
  readonly start: string;
  readonly places: readonly { readonly path: string; readonly name: string }[];
  readonly total: number;
}

/** One thing that is ticked for a graft, and how it meets what is there. */
export interface PickView {
  readonly path: string;
  readonly name: string;
  /** Empty for a section itself. */
  readonly section: string;
  readonly mode: 'replace' | 'merge' | 'add';
  /** Whether it is written as several lines side by side: then it cannot be replaced as a whole. */
  readonly spread: boolean;
}

/** The account of every record of the receiver: kept + replaced + removed is records, or `balances` is false. */
export interface ReceiverLedger {
  readonly records: number;
  readonly kept: number;
  readonly replaced: number;
  readonly removed: number;
  /** Records that come to them. */
  readonly added: number;
  readonly balances: boolean;
}

/** A record that both have under one key, with other content. */
export interface ClashView {
  /** The donor's path: what an answer is given for. */
  readonly path: string;
  readonly mark: RecordMark;
  readonly key: string;
  readonly answer: 'keep' | 'replace' | 'new-key';
  readonly asked: boolean;
  readonly newKey: string | null;
  readonly choices: readonly ('keep' | 'replace' | 'new-key')[];
  /** Records of the donor that name it. */
  readonly namedBy: number;
  /** Values that differ; null where one side has none, and a secret is not told. */
  readonly differs: readonly {
    readonly name: string;
    readonly from: string | null;
    readonly to: string | null;
    readonly secret: boolean;
  }[];
  readonly differsTotal: number;
}

export interface LooseView {
  readonly record: RecordMark;
  readonly value: string;
  readonly target: string;
  readonly place: Place;
}

/** What a graft makes of the receiver's file. */
export interface GraftChanges {
  /** In the order of the file; the first of `total`. */
  readonly changes: readonly GraftChange[];
  readonly total: number;
  readonly sections: readonly GraftSection[];
}

export interface GraftChange {
  readonly kind: 'added' | 'changed' | 'left-out';
  /** The element of the receiver that it lies in. */
  readonly path: string;
  readonly section: string;
  /** From 1, in the receiver's file. */
  readonly line: number;
  /** Cut; secrets blacked out. */
  readonly before: string;
  readonly after: string;
}

/** A section of the receiver; the counts are records. */
export interface GraftSection {
  readonly path: string;
  readonly name: string;
  /** UTF-16 units of source text. */
  readonly size: number;
  readonly kept: number;
  readonly replaced: number;
  readonly removed: number;
  readonly added: number;
}
