import type { Seat } from '../plan/plan.ts';
import type { Trouble } from '../trouble.ts';
import type { Place } from './backup.ts';
import type { Finding, SubnetView } from './findings.ts';
import type { ReceiverLedger } from './graft.ts';

/** Everything that follows from one plan. */
export interface PlanView {
  /** Entries of the plan that do not fit this file; they are kept in the plan and have no effect. */
  readonly troubles: readonly Trouble[];
  readonly sections: readonly SectionState[];
  readonly ports: readonly PortState[];
  /** In the order of `BackupView.roles`. */
  readonly roles: readonly RoleState[];
  readonly ledger: LedgerView;
  readonly findings: readonly Finding[];
  /** The time that findings go by, ISO 8601; null where they go by none. */
  readonly clock: string | null;
  /** In the order of their addresses, version 4 first. */
  readonly subnets: readonly SubnetView[];
  readonly changes: readonly ChangeView[];
}

export interface SectionState {
  readonly path: string;
  readonly carried: number;
  readonly changed: number;
  readonly leftOut: number;
  /** False where the section as a whole is left out. */
  readonly ticked: boolean;
}

export interface PortState {
  readonly from: string;
  readonly to: string;
  /** Other ports of the result that would have the same name; empty where all is well. */
  readonly clashes: readonly string[];
}

/** Where a role sits in the result. */
export interface RoleState {
  /** Path of its record: what `move-role` calls it. */
  readonly path: string;
  /** In the donor's names, as decisions are. */
  readonly seat: Seat;
  /** Name of the device in the result; null for none, and where port and VLAN ID stand apart. */
  readonly device: string | null;
  readonly moved: boolean;
  /** Whether its record goes along. */
  readonly goes: boolean;
  /** Name of the tagged device that the plan adds for it; null for none. */
  readonly adds: string | null;
}

/** The account of every record of the donor: carried + changed + leftOut is records, or `balances` is false. */
export interface LedgerView {
  readonly records: number;
  readonly carried: number;
  readonly changed: number;
  readonly leftOut: number;
  /** Records that the donor does not have: the result holds carried + changed + added. */
  readonly added: number;
  readonly balances: boolean;
  readonly entries: readonly LedgerEntry[];
}

/** A record that does not go over as it was. */
export interface LedgerEntry {
  readonly path: string;
  readonly line: number;
  readonly name: string;
  readonly section: string;
  readonly state: 'changed' | 'left-out';
  /** Subjects of the decisions that did it (see plan/plan.ts). */
  readonly decisions: readonly string[];
  readonly places: number;
}

/** One place that comes out otherwise than it went in, in the order of the file. */
export interface ChangeView {
  readonly kind: 'rename' | 'move' | 'left-out' | 'added';
  readonly place: Place;
  /** The line(s) before and after, cut; secrets blacked out. */
  readonly before: string;
  readonly after: string | null;
  readonly decision: string;
  readonly section: string;
}

/** What the independent reading of the result says. */
export type Verdict =
  | { readonly agrees: true; readonly elements: number }
  | { readonly agrees: false; readonly trouble: Trouble };

export interface BuildView {
  /** The result; null where anything blocks it. */
  readonly bytes: ArrayBuffer | null;
  /** Proposed file name, never that of the input. */
  readonly name: string;
  readonly verdict: Verdict;
  readonly ledger: LedgerView;
  /** The receiver's account, for a graft. */
  readonly receiver: ReceiverLedger | null;
  readonly sha256: string | null;
}
