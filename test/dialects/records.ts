import type { Kind, Operator } from './dialect.ts';
import type { Device } from './ports.ts';

/** One item of a value: plain text, a device name, or the text by which a record is named. */
export interface Token {
  readonly pre: string;
  readonly post: string;
  readonly s?: string;
  readonly device?: Device;
  /** Written, but free to be reported or not. */
  readonly silent?: boolean;
  readonly to?: string;
  readonly gone?: Kind;
  /** A role sits on this device; said where the device, or the key of its record, is written. */
  readonly bind?: { readonly role: string; readonly device: Device };
}

export interface Field {
  readonly concept: string;
  /** More concepts, for a field whose word is made of several. */
  readonly compound?: readonly string[];
  readonly tokens: readonly Token[];
  readonly list?: boolean;
  readonly free?: boolean;
  readonly secret?: boolean;
  readonly certificate?: boolean;
  readonly hardware?: boolean;
  readonly optional?: boolean;
  /** Several lines, kept as they are. */
  readonly block?: boolean;
  readonly bool?: boolean;
}

export interface Rec {
  readonly uid: string;
  readonly concept: string;
  fields: Field[];
  singles: Rec[];
  colls: Coll[];
  hardware?: boolean;
  optional?: boolean;
}

export interface Coll {
  readonly concept: string;
  readonly section: string;
  readonly records: Rec[];
  /** The field whose value may serve as the record's own tag. */
  readonly tagField: string | null;
}

/** The model in the terms of one dialect, before any layout. */
export interface Doc {
  readonly singles: { readonly rec: Rec; readonly section: string }[];
  readonly colls: Coll[];
  readonly keyText: (uid: string) => string;
  readonly optionalValues: string[];
  /** Of networks on a VLAN its ID, by what they are called. */
  readonly vlans: readonly { readonly role: string; readonly tag: number }[];
}

/** Plain text. */
export const T = (s: string): Token => ({ pre: '', post: '', s });

/** The same item inside an operator of the dialect. */
export const wrap = (t: Token, o: Operator): Token => ({ ...t, pre: o.pre + t.pre, post: t.post + o.post });
