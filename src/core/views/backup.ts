import type { About, Key, Port } from '../reading/reading.ts';
import type { Encoding } from '../text/encodings.ts';
import type { FieldView } from './reading.ts';
import type { FollowView } from './records.ts';

/** A backup as it was read. */
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
  /** VLAN ID that stands beside the device; null where it has none, or the device is a tagged one of its own. */
  readonly tag: number | null;
  /** First address found in its record, as written; null for none. */
  readonly address: string | null;
  /** How many references name it, by section. */
  readonly namedBy: readonly { readonly section: string; readonly count: number }[];
  /** What names it, by the kind of record, the most first. */
  readonly follows: readonly FollowView[];
  readonly place: Place;
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
  /** What it is called, wherever it stands; see `listOf`. Several may have one name. */
  readonly list: string;
  /** Whether its records are lines of a flat list. */
  readonly inLines: boolean;
  readonly key: Key;
  readonly count: number;
  readonly sample: readonly string[];
  readonly section: string;
}
