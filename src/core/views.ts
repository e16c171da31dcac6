import type { Decision, FindingMark, Seat } from './plan/plan.ts';
import type { About, BoxBoundReason, Key, Port, Secret, Tier } from './reading/reading.ts';
import type { FieldKind } from './reading/value-types.ts';
import type { Encoding } from './text/encodings.ts';
import type { Look } from './text/sniff.ts';
import type { Trouble } from './trouble.ts';

/**
 * What the page shows. Views are plain data made from tree, reading and plan; they hold no secret's value and no more
 * text than a row needs, so that they travel cheaply between threads.
 */
export interface BackupView {
  readonly name: string;
  /** Size in bytes, lines from 1. */
  readonly bytes: number;
  readonly lines: number;
  readonly encoding: Encoding;
  readonly bom: boolean;
  readonly root: string;
  readonly hash: string;
  readonly about: About;
  /** The open standard whose schema gave the references, null where they were inferred. */
  readonly standard: string | null;
  readonly roles: readonly RoleView[];
  readonly ports: readonly PortView[];
  readonly sections: readonly SectionView[];
  readonly collections: readonly CollectionView[];
  readonly fields: readonly FieldView[];
  readonly records: number;
  readonly references: number;
}

export interface Place {
  readonly path: string;
  /** From 1. */
  readonly line: number;
  /** Span of UTF-16 units in the original text, to select it. */
  readonly start: number;
  readonly end: number;
}

export interface RoleView {
  readonly name: string;
  readonly label: string | null;
  /** The device it sits on; null for a role without one. */
  readonly port: string | null;
  /** First address found in its record, as written; null for none. */
  readonly address: string | null;
  /** How many references name it, by section. */
  readonly namedBy: readonly { readonly section: string; readonly count: number }[];
  /** What names it, by the kind of record, the most first. */
  readonly follows: readonly FollowView[];
  readonly place: Place;
}

/** Records of one collection, or single settings (collection is empty), that name something. */
export interface FollowView {
  /** Path of the collection and its item, as `FieldView.targets` has it. */
  readonly collection: string;
  readonly count: number;
  /** The first of them, in the order of the file. */
  readonly places: readonly Place[];
}

/** What would miss a record that is left out. */
export interface DependentsView {
  readonly path: string;
  /** What names it, or sits on the device that it defines. */
  readonly direct: readonly FollowView[];
  /** Everything that needs it in the end, none inside another, nearest first: what to leave out with it. */
  readonly all: readonly DependentView[];
}

export interface DependentView {
  readonly path: string;
  readonly name: string;
  /** As `FollowView.collection`. */
  readonly collection: string;
  readonly place: Place;
  /** Path of what it needs that goes. */
  readonly because: string;
  /** 1 for what needs the record itself. */
  readonly steps: number;
}

export interface PortView extends Pick<Port, 'name' | 'kind' | 'parent' | 'tag'> {
  /** Roles that sit on exactly this device. */
  readonly roles: readonly string[];
  /** Places that name it or a device derived from it. */
  readonly mentions: number;
  /** The aggregate that it is a part of; null for none. */
  readonly partOf: string | null;
}

export interface SectionView {
  readonly path: string;
  readonly name: string;
  readonly records: number;
  /** Size in UTF-16 units of source text. */
  readonly size: number;
  readonly secrets: number;
  readonly boxBound: number;
  readonly place: Place;
}

export interface CollectionView {
  readonly path: string;
  readonly item: string | null;
  readonly key: Key;
  readonly count: number;
  readonly sample: readonly string[];
  readonly section: string;
}

export interface FieldView {
  readonly template: string;
  readonly name: string;
  readonly tier: Tier;
  readonly hits: number;
  readonly total: number;
  readonly evidence: readonly string[];
  /** Paths of the collections it names. */
  readonly targets: readonly string[];
}

/** Which fields to list: those whose path holds the words. */
export interface FieldQuery {
  readonly words: string;
  readonly from: number;
  readonly limit: number;
}

export interface FieldsView {
  /** How many the query fits in all. */
  readonly total: number;
  readonly fields: readonly FieldPlaceView[];
}

/** All places of one shape that have a value. */
export interface FieldPlaceView {
  readonly template: string;
  readonly name: string;
  readonly count: number;
  readonly distinct: number;
  /** The first of its values, cut short; none for a field that holds a secret. */
  readonly sample: readonly string[];
  /** What its values are by consensus, and how many are not. */
  readonly kind: FieldKind;
  readonly odd: number;
  readonly secret: boolean;
  readonly boxBound: boolean;
  /** Of the first value. */
  readonly place: Place;
}

/** One way to tell the records of a list apart. */
export interface KeyOption {
  readonly key: Key;
  /** Records that have it, how many values there are, and all records. */
  readonly filled: number;
  readonly distinct: number;
  readonly records: number;
  /** As `FieldPlaceView.sample`. */
  readonly sample: readonly string[];
}

/** What is handled with care. */
export interface CareView {
  readonly certificates: readonly CertificateView[];
  /** Documents inside values, those of the first hundred places. */
  readonly documents: readonly DocumentView[];
  readonly documentCount: number;
  readonly secrets: readonly SecretFieldView[];
  readonly boxBound: readonly BoundFieldView[];
}

/** A document of another kind that a value holds. Nothing in it is ever rewritten. */
export interface DocumentView {
  /** What `documentAt` calls it: the path of its place. */
  readonly path: string;
  readonly what: 'xml' | 'json' | 'text' | Look;
  readonly wrapped: boolean;
  /** Bytes where it is wrapped in base64, else units of text. */
  readonly size: number;
  /** Ports of the file that it names. */
  readonly ports: readonly string[];
  readonly legible: boolean;
  readonly place: Place;
}

/** What such a document says, secrets blacked out. */
export interface DocumentText {
  readonly text: string;
  /** True where the end was cut off. */
  readonly cut: boolean;
}

export interface CertificateView {
  /** Common name where there is one, else the whole name. */
  readonly name: string;
  readonly issuer: string;
  /** ISO 8601, UTC. */
  readonly notAfter: string;
  readonly keyHeld: boolean;
  readonly self: boolean;
  /** `named`: an authority of the file has the issuer's name, and its signature was not tried. */
  readonly signature: 'checked' | 'fails' | 'named' | 'not-held';
  readonly place: Place;
}

export interface SecretFieldView {
  readonly template: string;
  /** Names from the root to the first of them. */
  readonly path: string;
  readonly kinds: readonly Secret['kind'][];
  /** Places that hold a secret, out of all that have a value. */
  readonly count: number;
  readonly total: number;
  readonly place: Place;
}

export interface BoundFieldView {
  readonly template: string;
  readonly reason: BoxBoundReason;
  /** The words in the file that gave it away; empty where you said so. */
  readonly sign: string;
  readonly count: number;
  readonly place: Place;
}

/** Which records to list: of one section, or of all for null; those whose name, key or tag holds the words. */
export interface RecordQuery {
  readonly section: string | null;
  readonly words: string;
  readonly from: number;
  readonly limit: number;
}

export interface RecordsView {
  /** How many the query fits in all. */
  readonly total: number;
  readonly records: readonly RecordView[];
}

/** One entry of the ledger: a record, or a single setting outside of all records. */
export interface RecordView {
  readonly path: string;
  /** As people call it. */
  readonly name: string;
  /** Its key where that is another than the name; else empty. */
  readonly key: string;
  /** Its tag. */
  readonly kind: string;
  readonly section: string;
  readonly line: number;
  /** Span of UTF-16 units in the original text. */
  readonly start: number;
  readonly end: number;
  /** How many records it lies in. */
  readonly depth: number;
  /** Secrets of its own, without those of records inside it. */
  readonly secrets: number;
  readonly boxBound: boolean;
}

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
  /** In the order of their addresses, version 4 first. */
  readonly subnets: readonly SubnetView[];
  readonly changes: readonly ChangeView[];
}

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
  /** What would mend it, the best first; none where only people can tell. */
  readonly repairs?: readonly Repair[];
  /** What `set-aside` calls it; none where it cannot be set aside. */
  readonly mark?: FindingMark;
  /** Why the technician set it aside, and the subject of the decision that says so. */
  readonly aside?: { readonly reason: string; readonly decision: string };
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
  | 'follow-port'
  | 'take-back';

export type FindingCode =
  | 'reference-dangling'
  | 'reference-left-out'
  | 'reference-case'
  | 'port-doubled'
  | 'port-in-remark'
  | 'port-in-document'
  | 'port-name-long'
  | 'port-in-aggregate'
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
  | 'way-in-left-out'
  | 'way-in-closed'
  | 'way-in-unknown'
  | 'port-number'
  | 'port-range-reversed'
  | 'frame-too-small'
  | 'host-name-malformed'
  | 'mac-of-a-group'
  | 'rule-covered'
  | 'rule-shadowed'
  | 'rule-contradicted'
  | 'rules-unjudged'
  | 'mask-not-contiguous'
  | 'address-not-a-host'
  | 'subnets-overlap'
  | 'address-doubled'
  | 'pool-reversed'
  | 'pool-outside'
  | 'pool-over-reserved'
  | 'pool-over-router'
  | 'pool-over-lease'
  | 'lease-outside'
  | 'next-hop-unreachable'
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

/** What a row of the tree on the carry sheet stands for: a section, the records of one collection, a record, a setting. */
export type CarryKind = 'section' | 'collection' | 'record' | 'setting';

/** `mixed`: some of what is inside goes over, and some stays behind. */
export type CarryFate = 'carried' | 'changed' | 'left-out' | 'mixed';

/** One row of the tree on the carry sheet; its children are asked for by range. */
export interface CarryRow {
  /** What decisions call it: a path, or the path of a collection, which ends in `[*]`. */
  readonly id: string;
  readonly kind: CarryKind;
  readonly name: string;
  /** Its key where that is another than the name; else empty. */
  readonly key: string;
  readonly tag: string;
  readonly section: string;
  readonly line: number;
  readonly fate: CarryFate;
  /** Entries of the ledger in it, itself included. */
  readonly entries: number;
  readonly carried: number;
  readonly changed: number;
  readonly leftOut: number;
  readonly children: number;
  readonly secrets: number;
  readonly boxBound: number;
  /** Entries in it that go over and need something that stays behind. */
  readonly wanting: number;
  /** Names in it that go over and that no record of the file has. */
  readonly dangling: number;
}

/** Rows that the carry sheet can show alone, with what is around them. */
export type CarryFilter = 'all' | 'changed' | 'left-out' | 'attention' | 'secret' | 'box-bound';

/** What the carry sheet shows of its tree: the rows in [from, from + limit) of those that are in sight. */
export interface CarryWindowQuery {
  /** Ids of the rows that are open. */
  readonly open: readonly string[];
  /** Words to search for; then rows are shown flat. Empty for the tree. */
  readonly words: string;
  readonly filter: CarryFilter;
  readonly from: number;
  readonly limit: number;
}

export interface CarryWindow {
  readonly total: number;
  readonly from: number;
  readonly rows: readonly CarryTreeRow[];
}

export interface CarryTreeRow extends CarryRow {
  /** From 1. */
  readonly level: number;
  /** Place among the rows beside it, from 1, and how many these are. */
  readonly at: number;
  readonly of: number;
  /** Index of the row it lies in, among those in sight; -1 for the top. */
  readonly above: number;
}

export interface CarryRows {
  /** How many there are in all. */
  readonly total: number;
  readonly rows: readonly CarryRow[];
}

export interface CarrySummary {
  readonly entries: number;
  readonly carried: number;
  readonly changed: number;
  readonly leftOut: number;
  /** References that go over without their target: those the donor had already, and those that the plan makes. */
  readonly dangling: { readonly before: number; readonly byPlan: number };
  /** How many entries, settings or secrets each filter is about. */
  readonly filters: Readonly<Record<CarryFilter, number>>;
}

/** One row of the carry sheet with what it holds, needs and is needed by. */
export interface CarryDetail {
  readonly row: CarryRow;
  readonly place: Place;
  readonly values: readonly CarryValue[];
  /** How many there are in all. */
  readonly valuesTotal: number;
  /** How it is switched off or on; null where the file shows no way. */
  readonly switch: { readonly on: boolean | null; readonly flip: Decision } | null;
  /** What it names and what names it, each record once, nearest first. */
  readonly needs: CarryLinks;
  readonly neededBy: CarryLinks;
  /** What is needed in the end and stays behind: to take along. */
  readonly missing: readonly RecordMark[];
  /** What needs it in the end, to leave out with it; none inside another. */
  readonly dependents: readonly RecordMark[];
}

/** One value of a record. A secret's is not told. */
export interface CarryValue {
  readonly path: string;
  /** Names from the record to it. */
  readonly name: string;
  readonly value: string;
  readonly secret: boolean;
  /** Whether there is one; a secret's is not told. */
  readonly held: boolean;
  /** Too long to be typed. */
  readonly long: boolean;
  /** What the plan makes of it; null where it says nothing of it, empty for a secret. */
  readonly set: string | null;
}

export interface CarryLinks {
  readonly total: number;
  readonly links: readonly CarryLink[];
}

export interface CarryLink {
  readonly mark: RecordMark;
  /** Whether it stays behind. */
  readonly gone: boolean;
  /** 1 for what is named by the record itself. */
  readonly steps: number;
  /** The needs that lead to it, each from one record to the next. */
  readonly why: readonly {
    readonly from: string;
    readonly to: string;
    /** Path of the latter. */
    readonly path: string;
    readonly kind: NeedView['kind'];
    readonly field: string;
    readonly value: string;
  }[];
}

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
  /** What comes along since what is ticked needs it. */
  readonly along: readonly RecordMark[];
  readonly ledger: ReceiverLedger;
  /** Settings bound to the receiver's hardware, which stay as they are there. */
  readonly stays: number;
}

/** One thing that is ticked for a graft, and how it meets what is there. */
export interface PickView {
  readonly path: string;
  readonly name: string;
  /** Empty for a section itself. */
  readonly section: string;
  readonly mode: 'replace' | 'merge' | 'add';
}

/** A record that holds a certificate. */
export interface CertificateRow {
  readonly record: RecordMark;
  /** By its key, which tells more than a remark does. */
  readonly name: string;
  readonly hasKey: boolean;
  /** The record of the authority that signed it; null where the file does not hold it, or it signed itself. */
  readonly authority: string | null;
  readonly goes: boolean;
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

/** A record that needs another, for people. */
export interface NeedView {
  readonly from: RecordMark;
  readonly to: RecordMark;
  readonly kind: 'names' | 'inside' | 'device' | 'private-key' | 'authority';
  readonly field: string;
  readonly value: string;
  readonly tier: Tier;
  /** Where it is written; null where the record as a whole lies in the other. */
  readonly place: Place | null;
}

export interface RecordMark {
  readonly path: string;
  readonly name: string;
  readonly section: string;
  readonly line: number;
}

export interface NeedViews {
  readonly total: number;
  readonly needs: readonly NeedView[];
}

/** A setting that fits the old box only, to leave behind or to keep. */
export interface BoxBoundView {
  readonly path: string;
  readonly name: string;
  /** What a line of a flat list is called; null for other elements. */
  readonly lineName: string | null;
  readonly section: string;
  readonly place: Place;
  readonly reason: BoxBoundReason;
  readonly sign: string;
  readonly answer: 'open' | 'left-out' | 'kept';
  readonly leave: Decision;
  readonly keep: Decision;
}

/** One entry of the account of a result. */
export interface AccountRow {
  /** Name of the backup that it is in. */
  readonly file: string;
  readonly path: string;
  readonly name: string;
  readonly section: string;
  /** From 1. */
  readonly line: number;
  readonly state:
    | 'carried'
    | 'changed'
    | 'left-out'
    | 'not-chosen'
    | 'receiver-keeps'
    | 'kept'
    | 'replaced'
    | 'removed';
  /** Subjects of the decisions that did it. */
  readonly by: readonly string[];
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

/** A name that goes over and that the new box does not know. */
export interface LackingView {
  readonly kind: 'port' | 'role';
  /** As written, and as it comes out. */
  readonly value: string;
  readonly to: string;
  /** The site, for `set-value` with `was: value`. */
  readonly path: string;
  readonly place: Place;
  readonly record: RecordMark;
}
