import type { Decision } from '../plan/plan.ts';
import type { BoxBoundReason, Tier } from '../reading/reading.ts';
import type { Place } from './backup.ts';

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
  /** What its ticks say. */
  readonly fate: CarryFate;
  /** Entries of the ledger in it, itself included. */
  readonly entries: number;
  readonly carried: number;
  readonly changed: number;
  readonly leftOut: number;
  /** Of a graft: entries that go over, or are there already, since something ticked needs them. */
  readonly along: number;
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
  /** Too long to be typed, or of several lines: it is replaced, and the old text is not told whole. */
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
  /** Its section, its record and itself, as people call them: `roles / office / mac`; a line of a flat list by its key. */
  readonly called: string;
  readonly section: string;
  readonly place: Place;
  readonly reason: BoxBoundReason;
  readonly sign: string;
  readonly answer: 'open' | 'left-out' | 'kept';
  readonly leave: Decision;
  readonly keep: Decision;
}

/** Why something that is put in stands where it comes to stand, and the receiver's record that this speaks of. */
export interface Standing {
  readonly reason: StandingReason;
  /** Its name; empty for none. */
  readonly beside: string;
}

/**
 * The technician said so; next to what it stands next to on the donor; before the rules that end the list, which fit all
 * that is left; behind the last of its kind.
 */
export type StandingReason = 'told' | 'behind-neighbour' | 'before-neighbour' | 'before-closing' | 'last';

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
  /** Where it comes to stand in a graft, among others of its kind; null for all else. */
  readonly standing: Standing | null;
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
