import type { FieldKind } from '../reading/fields/value-types.ts';
import type { BoxBoundReason, Key, Secret, Tier } from '../reading/reading.ts';
import type { Look } from '../text/sniff.ts';
import type { Place } from './backup.ts';

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
  readonly publicKeys: readonly PublicKeyView[];
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

export interface PublicKeyView {
  readonly keyType: string;
  /** What stands behind it in the file; empty for none. */
  readonly comment: string;
  /** The private key that belongs to it. */
  readonly keyPlace: Place | null;
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
