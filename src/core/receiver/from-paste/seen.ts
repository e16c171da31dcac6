import type { PasteLine } from './lines.ts';

/** One device as one shape of output tells of it, before it is judged. */
export interface Seen {
  readonly name: string;
  readonly line: number;
  mac: string | null;
  speedMbit: number | null;
  label: string | null;
  up: boolean | null;
  /** What stands behind the `@`: the device below, or `if5` for one in another network namespace. */
  parent: string | null;
  /** The aggregate or bridge that it is part of. */
  master: string | null;
  flags: readonly string[];
  /** `ether`, `loopback`, `none`, … as Linux names it. */
  link: string | null;
  /** What made it: `vlan`, `bond`, `bridge`, …; from its group or from what is told of it. */
  made: string | null;
  /** True where the output would show a socket's address or medium and shows neither. */
  bare: boolean;
}

export interface OtherName {
  readonly name: string;
  /** The port that has this name, too, or had it before. */
  readonly port: string;
  readonly how: 'alternative' | 'before';
}

/** What one shape makes of a paste. */
export interface Found {
  readonly devices: readonly Seen[];
  readonly otherNames: readonly OtherName[];
  /** Lines that belong to nothing here. */
  readonly unread: readonly PasteLine[];
}

export const seen = (name: string, line: number, known: Partial<Seen> = {}): Seen => ({
  name,
  line,
  mac: null,
  speedMbit: null,
  label: null,
  up: null,
  parent: null,
  master: null,
  flags: [],
  link: null,
  made: null,
  bare: false,
  ...known,
});

export const nothing: Found = { devices: [], otherNames: [], unread: [] };
