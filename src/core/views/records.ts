import type { Place } from './backup.ts';

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
