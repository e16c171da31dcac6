import type {
  Around,
  BackupView,
  BuildView,
  CareView,
  Comparison,
  DependentsView,
  DevicesRead,
  DocumentText,
  FieldQuery,
  FieldsView,
  KeyOption,
  Plan,
  PlanView,
  Receiver,
  ReceiverPort,
  RecordQuery,
  RecordsView,
  Result,
  SuggestBy,
  Suggestion,
} from '../core/index.ts';
import type { CarryDesk } from './carry-protocol.ts';

export type { CarryLists } from './carry-protocol.ts';
export type { Comparison };

export interface Suggestions {
  readonly old: readonly ReceiverPort[];
  readonly by: Readonly<Record<SuggestBy, readonly Suggestion[]>>;
}

export type Phase = 'bytes' | 'reading' | 'meaning';

/** `done` of `total` in the phase's own unit: bytes, text units, steps. */
export type Progress = (phase: Phase, done: number, total: number) => void;

/**
 * What the page asks of the worker, which alone holds the text, the tree and the reading. Every call but `open` is
 * about the backup opened last. To cancel, the page ends the worker and starts another.
 */
export interface Desk extends CarryDesk {
  /** What is in it comes with `view`. */
  open(bytes: ArrayBuffer, name: string, progress: Progress): Promise<Result<Pick<BackupView, 'hash'>>>;
  /**
   * Everything that follows from a plan; also where the plan's corrections change the reading. Where the new box is
   * known, what does not fit it is among the findings.
   */
  view(plan: Plan, receiver?: Receiver | null): Promise<{ readonly backup: BackupView; readonly plan: PlanView }>;
  /** Tries the signatures of the certificates; true where views asked for from now on tell more than earlier ones. */
  signatures(plan: Plan): Promise<boolean>;
  build(plan: Plan): Promise<BuildView>;
  /** The old box's sockets, and the pairs that each way of suggesting finds. */
  suggest(plan: Plan, receiver: Receiver): Promise<Suggestions>;
  /** What would miss the record at a path; null where nothing stands there. */
  dependents(plan: Plan, path: string): Promise<DependentsView | null>;
  /** Another backup as the description of the new box. It is not kept. */
  receiverOf(bytes: ArrayBuffer, name: string, progress: Progress): Promise<Result<Receiver>>;
  /** What a command printed, or a list of names, as the description of the new box. */
  devices(text: string): Promise<Result<DevicesRead>>;
  /** Records by section or by words, a page at a time. */
  records(query: RecordQuery): Promise<RecordsView>;
  /** Fields by words, a page at a time. */
  fields(plan: Plan, query: FieldQuery): Promise<FieldsView>;
  /** What the records of a list may be told apart by. */
  keyOptions(plan: Plan, collection: string): Promise<readonly KeyOption[]>;
  /** Secrets, and what fits the old box only, field by field. */
  care(plan: Plan): Promise<CareView>;
  /** What a document inside a value says, secrets blacked out; null where none is there that can be read. */
  document(plan: Plan, path: string): Promise<DocumentText | null>;
  /** The lines [from, to] of the original text, from 1, secrets blacked out. */
  lines(from: number, to: number): Promise<readonly string[]>;
  /** The units [start, end) of the original with up to `units` around them, secrets blacked out. */
  around(start: number, end: number, units: number): Promise<Around>;
  /** Original and result of one section as text for a side by side look, each cut to `limit` units. */
  compare(plan: Plan, sectionPath: string, limit: number): Promise<Comparison>;
}

/** A worker that can get ready before there is anything to do. */
export interface WarmDesk extends Desk {
  /** Works on a backup of no importance until something else is asked; see practice.ts. */
  practise(text: string): Promise<void>;
}
