import type { Decision, FindingMark } from '../plan/plan.ts';
import type { Place } from './backup.ts';

/** The network of a role, for a drawing. Places in it are parts of its length: 0 its first address, 1 behind its last. */
export interface SubnetView {
  readonly role: string;
  /** `10.20.0.0/24` */
  readonly subnet: string;
  readonly version: 4 | 6;
  readonly length: number;
  /** The last octet of its first address, for version 4. */
  readonly start: number;
  /** False for a role that is switched off. */
  readonly enabled: boolean;
  /** The box's own address. */
  readonly own: SubnetMark;
  readonly place: Place;
  /** Ranges that are given out. */
  readonly pools: readonly SubnetSpan[];
  /** Addresses that single clients always get. */
  readonly fixed: readonly SubnetMark[];
  readonly gateways: readonly SubnetMark[];
  /** What it shares with the network of another role. */
  readonly overlaps: readonly (SubnetSpan & { readonly with: string })[];
}

export interface SubnetMark {
  readonly address: string;
  readonly at: number;
}

export interface SubnetSpan {
  readonly first: string;
  readonly last: string;
  readonly from: number;
  readonly to: number;
}

export type Severity = 'error' | 'warning' | 'note';

export interface Finding {
  readonly code: FindingCode;
  readonly severity: Severity;
  /** Where in the original text; null where it is about the file or the plan as a whole. */
  readonly place: Place | null;
  /** What the words need. Never a secret's value. */
  readonly params: Readonly<Record<string, string | number>>;
  /** True where the plan causes it; false where the donor had it already. */
  readonly byPlan: boolean;
  /** Name of the one role that it is about, where there is one. */
  readonly role?: string;
  /** What it has in common with others; they are told as one. */
  readonly cause?: Cause;
  /** What would mend it, the best first; none where only people can tell. */
  readonly repairs?: readonly Repair[];
  /** What `set-aside` calls it; none where it cannot be set aside. */
  readonly mark?: FindingMark;
  /** Why the technician set it aside, and the subject of the decision that says so. */
  readonly aside?: { readonly reason: string; readonly decision: string };
}

/** Why several findings of one code stand. */
export interface Cause {
  /** The same for all of them. */
  readonly key: string;
  /** Subject of the decision that left behind what they name; null where it was wrong already. */
  readonly decision: string | null;
  /** Path of the record that this one names and that is not there; null for none. */
  readonly lost: string | null;
}

/** Decisions after which a finding is gone, taken together as one step. */
export interface Repair {
  readonly code: RepairCode;
  /** What the words need. */
  readonly params: Readonly<Record<string, string | number>>;
  readonly decisions: readonly Decision[];
  /** Subjects of decisions that give way. */
  readonly withdraws?: readonly string[];
}

export type RepairCode =
  | 'trim'
  | 'join-lines'
  | 'remove-unseen'
  | 'name-nearest'
  | 'name-as-written'
  | 'rename-record'
  | 'host-name-plain'
  | 'frame-as-parent'
  | 'spell-usual'
  | 'hardware-like-others'
  | 'host-bits-off'
  | 'swap-ends'
  | 'shrink-pool'
  | 'leave-out'
  | 'leave-out-other'
  | 'empty-value'
  | 'carry'
  | 'rename-port'
  | 'shorten-name'
  | 'follow-port'
  | 'take-back';

export type FindingCode =
  | 'reference-dangling'
  | 'reference-recurring'
  | 'reference-left-out'
  | 'reference-case'
  | 'port-doubled'
  | 'port-in-remark'
  | 'port-in-document'
  | 'port-name-long'
  | 'port-in-aggregate'
  | 'member-doubled'
  | 'port-not-on-receiver'
  | 'role-shares-device'
  | 'role-without-port'
  | 'tag-doubled'
  | 'tag-name-differs'
  | 'tag-out-of-range'
  | 'box-bound-travels'
  | 'certificate-expired'
  | 'certificate-not-yet'
  | 'certificate-expiring'
  | 'certificate-key-missing'
  | 'certificate-key-strange'
  | 'certificate-key-left-out'
  | 'certificate-issuer-missing'
  | 'certificate-issuer-left-out'
  | 'certificate-signature'
  | 'certificate-name'
  | 'certificate-unread'
  | 'certificate-weak-key'
  | 'certificate-weak-digest'
  | 'encoding-contradicts'
  | 'encoding-suspect'
  | 'prefix-unbound'
  | 'character-unseen'
  | 'blank-in-value'
  | 'key-doubled'
  | 'value-outlier'
  | 'record-unused'
  | 'findings-more'
  | 'secrets-travel'
  | 'secret-shared'
  | 'secret-common'
  | 'caution-mentioned'
  | 'caution-swap'
  | 'version-differs'
  | 'saved-ahead'
  | 'way-in-left-out'
  | 'way-in-closed'
  | 'way-in-lost'
  | 'way-in-no-rule'
  | 'way-in-unknown'
  | 'port-number'
  | 'port-range-reversed'
  | 'frame-too-small'
  | 'frame-over-parent'
  | 'day-not-there'
  | 'host-name-malformed'
  | 'mac-of-a-group'
  | 'rule-covered'
  | 'rule-shadowed'
  | 'rule-contradicted'
  | 'rules-unjudged'
  | 'mask-not-contiguous'
  | 'address-malformed'
  | 'prefix-length'
  | 'address-not-a-host'
  | 'subnets-overlap'
  | 'address-doubled'
  | 'client-doubled'
  | 'pool-reversed'
  | 'pool-outside'
  | 'pool-over-reserved'
  | 'pool-over-router'
  | 'pool-over-lease'
  | 'lease-outside'
  | 'next-hop-unreachable'
  | 'next-hop-own'
  | 'address-special'
  | 'address-documentation'
  | 'address-not-canonical'
  | 'address-automatic'
  | 'network-host-bits'
  | 'mac-form'
  | 'schema-type'
  | 'schema-missing'
  | 'schema-when'
  | 'schema-must'
  | 'schema-too-many'
  | 'schema-unknown'
  | 'schema-untold'
  | 'aside-idle'
  | 'plan-entry';
