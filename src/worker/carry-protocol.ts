import type {
  AccountRow,
  AsWritten,
  BoxBoundView,
  CarryDetail,
  CarrySummary,
  CarryWindow,
  CarryWindowQuery,
  CertificateRow,
  Comparison,
  FitView,
  GraftChanges,
  GraftState,
  LackingView,
  Plan,
  Receiver,
  ReceiverMark,
  Result,
  Trouble,
  ValueHint,
} from '../core/index.ts';
import type { Progress } from './protocol.ts';

/** Lists that the carry sheet shows beside its tree. */
export interface CarryLists {
  readonly summary: CarrySummary;
  readonly boxBound: readonly BoxBoundView[];
  readonly certificates: readonly CertificateRow[];
  /** Names that the new box lacks; null where nothing is known of it. */
  readonly lacking: readonly LackingView[] | null;
  /** What these may be pointed to. */
  readonly has: { readonly ports: readonly string[]; readonly roles: readonly string[] };
}

/** What the page asks about what goes over and what stays behind. Each call tells the plan that it is about. */
export interface CarryDesk {
  /** What becomes of every record: of the old backup and, for a graft, of the new box's own; null where it cannot be made. */
  account(plan: Plan): Promise<readonly AccountRow[] | null>;
  carryWindow(plan: Plan, query: CarryWindowQuery): Promise<CarryWindow>;
  carryLists(plan: Plan, receiver: Receiver | null): Promise<CarryLists>;
  /** Null where nothing stands at an id. */
  carryDetail(plan: Plan, id: string): Promise<CarryDetail | null>;
  /** The plan with rows ticked or not; with their needs, also all that they need in the end. */
  tick(plan: Plan, ids: readonly string[], carried: boolean, withNeeds: boolean): Promise<Plan>;
  /**
   * How a new value compares with others of its field, how it is to be written to look like the old one, and why it cannot
   * be set; null for nothing to say.
   */
  tryValue(
    plan: Plan,
    path: string,
    value: string,
  ): Promise<{ readonly hint: ValueHint | null; readonly form: AsWritten | null; readonly trouble: Trouble | null }>;
  /** Keeps another backup as the one that settings go into; with null it is put away. */
  receive(
    bytes: ArrayBuffer | null,
    name: string,
    progress: Progress,
  ): Promise<Result<{ readonly mark: ReceiverMark; readonly box: Receiver | null } | null>>;
  graft(plan: Plan): Promise<GraftState>;
  /** What the graft makes of the receiver's file; null where none is asked for or it cannot be made. */
  graftChanges(plan: Plan): Promise<GraftChanges | null>;
  /** A section of the receiver's file before and after, each side cut to `limit` units. */
  compareGraft(plan: Plan, section: string, limit: number): Promise<Comparison | null>;
  /** How a saved plan meets the open backup, and what of it to go on with. */
  fit(plan: Plan): Promise<FitView>;
  /** The plan as it is kept: with what it takes to find its places in another backup. */
  seal(plan: Plan): Promise<Plan>;
}
