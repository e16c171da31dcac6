import type { PartSite, Site } from '../xml/site.ts';
import type { ValueTable } from './fields/fields.ts';

/**
 * What a backup means, as far as the document tells. Everything here points into one span tree by node number or site;
 * nothing is copied out of it but the words that people read.
 */
export interface Reading {
  readonly sections: readonly Section[];
  readonly collections: readonly Collection[];
  readonly roles: readonly Role[];
  readonly ports: readonly Port[];
  /** Every place that names a port or a device derived from one; never free remarks. */
  readonly mentions: readonly PortMention[];
  /** Free remarks in which a port's name occurs: for the technician to judge, never renamed. */
  readonly remarks: readonly RemarkMention[];
  readonly bindings: readonly Binding[];
  /** How tagged devices are written, list by list; empty where no record of the file defines one. */
  readonly tagging: readonly Tagging[];
  /** What records of devices are named by where that is another value than the device's name. */
  readonly deviceKeys: readonly DeviceKey[];
  /** Devices made of ports. */
  readonly aggregates: readonly Aggregate[];
  readonly fields: readonly ReferenceField[];
  readonly references: readonly Reference[];
  readonly dangling: readonly Dangling[];
  readonly certificates: readonly Certificate[];
  readonly publicKeys: readonly PublicKey[];
  readonly secrets: readonly Secret[];
  readonly boxBound: readonly BoxBound[];
  readonly embedded: readonly Embedded[];
  readonly outliers: readonly Outlier[];
  readonly about: About;
  /** Elements that only name the one behind them, by that one: they go where it goes. */
  readonly captions: ReadonlyMap<number, number>;
  /** Every value of the document by field and record: what checks are made on. */
  readonly values: ValueTable;
  /** Name of the standard whose schema gave the references, null where they were inferred. */
  readonly standard: string | null;
}

/**
 * One block of the section list: a child of the root, or of a wrapper that holds nothing but sections; or all records of
 * a collection that stands there without an element of its own around it.
 */
export interface Section {
  /** The first of its elements. */
  readonly node: number;
  /** Its elements, in the order of the file; other sections may stand between them. */
  readonly nodes: readonly number[];
  /** True where they are lines of a flat list whose keys begin alike. */
  readonly lines: boolean;
  /** Of several records what `stepOf` says of their list, else the tag. */
  readonly step: string;
  readonly name: string;
  readonly records: number;
  /** Size in UTF-16 units of the source text. */
  readonly size: number;
}

/** How a record is told from its siblings. */
export type Key =
  | { readonly by: 'tag' }
  | { readonly by: 'attribute'; readonly name: string }
  /**
   * `path` is a chain of element names below the record, mostly one. A cell that its column tells has the column's name
   * behind its own: `cell[name]`; see `cell-site.ts`.
   */
  | { readonly by: 'leaf'; readonly path: readonly string[] }
  | { readonly by: 'position' };

/** Records of one shape that stand together. */
export interface Collection {
  /** The element that holds them; the same parent may hold several collections. */
  readonly parent: number;
  /** The repeated tag, null where each record's own tag is its key. */
  readonly item: string | null;
  readonly key: Key;
  /** The field that people read, where it is another than the key. */
  readonly label: Key | null;
  /** The fields that tell records apart together, where a standard says that one alone does not. */
  readonly together?: readonly Key[];
  /** What corrections call it where the elements alone do not tell it from other lists; see `listOf`. */
  readonly list?: string;
  /** Of lines of a flat list: how many parts of their keys name the record. */
  readonly parts?: number;
  readonly records: readonly number[];
}

export type Tier = 'certain' | 'likely' | 'possible';

/** A logical network that rules and services name. */
export interface Role {
  /** As other records name it. */
  readonly name: string;
  /** What people read beside it; null where the file has nothing. */
  readonly label: string | null;
  readonly node: number;
}

export interface Port {
  /** As the operating system writes it: `igb2`, `igb2.30`, `lagg0`. */
  readonly name: string;
  readonly kind: 'physical' | 'tagged' | 'aggregate' | 'other';
  /** The port that this one is derived from; null for one that stands alone. */
  readonly parent: string | null;
  /** VLAN ID of a tagged device. */
  readonly tag: number | null;
  /** The record that defines it (a tagged device, an aggregate), -1 for none. */
  readonly node: number;
}

/** A span [from, to) of the decoded value at a site. */
export interface Span {
  readonly site: Site;
  readonly from: number;
  readonly to: number;
}

/** `value` is the whole device name, of which the first part may be `port` itself: `igb2` of `igb2.30`. */
export interface PortMention extends Span {
  readonly value: string;
  /** The port without parent that a rename would be asked for. */
  readonly port: string;
  /** Where `port` begins in `value`, counted from `from`. */
  readonly portAt: number;
}

export interface RemarkMention extends Span {
  readonly port: string;
}

export interface Binding {
  readonly role: string;
  readonly port: string;
  readonly site: PartSite;
  /** The role's record. */
  readonly node: number;
  /** Where the VLAN ID stands that tells the role's frames on the port; null for none, and where the device itself says it. */
  readonly tag: PartSite | null;
  /** The record of the VLAN that the role meets its port by, and that has this ID; -1 for none. */
  readonly vlan: number;
  /** True where the port's record says it: the role is the port, lies in its record, or is named there. */
  readonly ofPort: boolean;
}

/** One list of records that define tagged devices, as a pattern for one more. */
export interface Tagging {
  /** The element that holds them. */
  readonly holder: number;
  /** How a device is called: the parent's name, `marks`, the VLAN ID; without `onParent` only the latter two. */
  readonly marks: string;
  readonly onParent: boolean;
  /** `Spot.field` of the value that roles name the records by; -1 where they name the device. */
  readonly key: number;
  readonly records: readonly TaggedRecord[];
}

export interface TaggedRecord {
  readonly node: number;
  /** Its elements in document order, mostly one; none where they do not stand together, so that it cannot be copied. */
  readonly parts: readonly number[];
  readonly device: string;
  /** Name of the device below; null where the record does not say it. */
  readonly parent: string | null;
  /** As written; null for none. */
  readonly tag: number | null;
  /** What is its own in it. All else is as in other records of the list. */
  readonly spots: readonly Spot[];
}

/** `field` tells spots of one record apart and is the same for all records of a list. */
export interface Spot extends Span {
  readonly field: number;
  readonly holds: 'parent' | 'tag' | 'device' | 'key' | 'label';
}

export interface DeviceKey {
  readonly device: string;
  readonly key: string;
  readonly node: number;
  /** True where roles name it so; false where only records of tagged devices do. */
  readonly ofRoles: boolean;
}

export interface Aggregate {
  readonly device: string;
  readonly node: number;
  readonly members: readonly { readonly port: string; readonly site: Site }[];
}

/** A field (all places of one shape) that names records, with the evidence that it does. */
export interface ReferenceField {
  /** For people: names from a collection's item down, `rule/source`. */
  readonly name: string;
  /** Template path that is the same for all its places: names without indices. */
  readonly template: string;
  /** Indices into `collections`. */
  readonly targets: readonly number[];
  readonly tier: Tier;
  readonly hits: number;
  readonly total: number;
  readonly evidence: readonly string[];
}

/** A value that names a record; operators around it (`!`, `role:`) are left out. It ends at `from + value.length`. */
export interface Reference extends Pick<Span, 'site' | 'from'> {
  readonly value: string;
  /** The record named, as a node. */
  readonly to: number;
  /** Index into `fields`. */
  readonly field: number;
  readonly tier: Tier;
}

/** A value that stands where a reference belongs and names no record. */
export interface Dangling extends Span {
  readonly value: string;
  readonly field: number;
  readonly tier: Tier;
  /** The existing name that comes nearest, null where none is near. */
  readonly nearest: string | null;
}

export interface Certificate {
  readonly site: Site;
  readonly subject: string;
  readonly issuer: string;
  readonly serial: string;
  /** ISO 8601, UTC. */
  readonly notBefore: string;
  readonly notAfter: string;
  readonly keyType: string;
  /** Digest that the signature is made over, as `SHA-256`; null where the algorithm does not tell. */
  readonly digest: string | null;
  /** Names that it stands for: DNS names and addresses of its extension, else the common name. */
  readonly names: readonly string[];
  /** True for an authority (RFC 5280, 4.2.1.9). */
  readonly isAuthority: boolean;
  /** Where the matching private key is held, null for nowhere. */
  readonly keyAt: Site | null;
  /** Index into `certificates` of the authority that signed it; -1 where it is not held. */
  readonly issuerAt: number;
  /** All that may have signed it, the likeliest first: others of that name, and the same authority in other places. */
  readonly issuers: readonly number[];
}

/** A public key that no certificate vouches for, as SSH writes it or in PEM. */
export interface PublicKey {
  readonly site: Site;
  /** For people: `Ed25519`, `RSA 3072`. */
  readonly keyType: string;
  /** What stands behind it, mostly whose it is; empty for none. */
  readonly comment: string;
  /** Where the private key that belongs to it is; null where the file does not hold it. */
  readonly keyAt: Site | null;
}

export interface Secret {
  /** Of a text of several settings the one that is a secret; what is hidden is all of the text. */
  readonly site: PartSite;
  readonly kind: 'private-key' | 'hash' | 'shared-secret' | 'password' | 'token';
}

/** A record or leaf that fits this one box only. */
export interface BoxBound {
  readonly node: number;
  /** Set where only an attribute is bound. */
  readonly attr: number;
  readonly reason: BoxBoundReason;
  /** The words in the file that gave it away. */
  readonly sign: string;
}

export type BoxBoundReason =
  | 'driver-setting'
  | 'console'
  | 'boot'
  | 'hardware-address'
  | 'licence'
  | 'serial-number'
  /** The technician said so. */
  | 'told';

export interface Embedded {
  readonly site: Site;
  readonly format: 'xml' | 'json' | 'base64-text' | 'base64-data';
}

export interface Outlier {
  readonly site: Site;
  readonly expected: string;
}

export interface About {
  readonly host: string | null;
  readonly version: string | null;
  readonly savedAt: string | null;
  readonly savedBy: string | null;
}

/** What the technician said about the reading; it outweighs anything inferred. */
export type Correction =
  | { readonly correct: 'field-names'; readonly template: string; readonly collection: string; readonly yes: boolean }
  | { readonly correct: 'key'; readonly collection: string; readonly key: Key }
  | { readonly correct: 'not-a-port'; readonly value: string }
  | { readonly correct: 'port'; readonly value: string }
  | { readonly correct: 'secret'; readonly template: string; readonly yes: boolean }
  /** With `sign` only what those words of the file gave away: one setting of a list. */
  | { readonly correct: 'box-bound'; readonly template: string; readonly yes: boolean; readonly sign?: string };
