import type { Cord, Device, PortRow } from './cords.ts';
import type { Socket } from './sockets.ts';

/** Units of CSS: a row of the bay, and what lies between two plates. */
export const ROW = 37;
export const GAP = 5;
/** Things that are wrong told on one plate; the rest is counted. */
export const MOST_WRONG = 2;

/** A row of a plate. On the old box it has a device, on the new one a cord, a device without a role, or its head only. */
export interface Entry {
  readonly device: Device | null;
  readonly cord: Cord | null;
  /** Middle of its row. */
  readonly y: number;
}

interface Block {
  readonly top: number;
  readonly height: number;
  readonly entries: readonly Entry[];
  /** Middle of its socket. */
  readonly y: number;
}

export interface OldPlate extends Block {
  readonly row: PortRow;
}

export interface NewPlate extends Block {
  readonly socket: Socket;
}

export interface Flag {
  readonly cord: Cord;
  /** Its middle. */
  readonly y: number;
}

interface Column {
  readonly left: number;
  readonly width: number;
}

export interface Columns {
  readonly old: Column;
  readonly flag: Column;
  readonly fresh: Column;
}

export function columnsFor(width: number): Columns {
  // A wider bay has room for whole names.
  const spare = Math.max(0, width - 970);
  const plate = 196 + Math.min(40, spare * 0.1);
  const flag = 190 + Math.min(130, spare * 0.25);
  const fresh = 224 + Math.min(150, spare * 0.25);
  const right = width - 12 - fresh;
  const old = { left: 62, width: plate };
  const middle = old.left + plate + Math.max(84, (right - old.left - plate - flag) * 0.3);
  return { old, flag: { left: middle, width: flag }, fresh: { left: right, width: fresh } };
}

export const bottom = (plate: Block): number => plate.top + plate.height;

export const oldPlates = (rows: readonly PortRow[]): OldPlate[] =>
  stack(
    rows.map((row) => [oldEntries(row), 0]),
    ROW / 2,
  ).map((block, at) => ({ ...block, row: rows[at]! }));

/** Half a row lower than the old box, so that no two level runs share a line. */
export const newPlates = (sockets: readonly Socket[]): NewPlate[] =>
  stack(
    sockets.map((socket) => [newEntries(socket), wrongRows(socket)]),
    ROW,
  ).map((block, at) => ({ ...block, socket: sockets[at]! }));

/** Flags of all roles in the order of their numbers; those without a port stand under the ports. */
export function flagsOf(old: readonly OldPlate[], portless: readonly Cord[]): Flag[] {
  const flags = old.flatMap(({ entries }) => entries.flatMap(({ cord, y }) => (cord ? [{ cord, y }] : [])));
  const below = Math.max(ROW / 2, ...old.map(bottom)) + ROW / 2;
  return [...flags, ...portless.map((cord, at) => ({ cord, y: below + at * ROW }))];
}

type Rows = readonly Omit<Entry, 'y'>[];

const oldEntries = ({ devices }: PortRow): Rows =>
  devices.flatMap(
    (device): Rows => (device.roles.length ? device.roles.map((cord) => ({ device, cord })) : [{ device, cord: null }]),
  );

/** The head, with the untagged role where there is one; then tagged roles, and tagged devices without a role. */
function newEntries({ rows, cords }: Socket): Rows {
  const untagged = cords.filter(({ end }) => end!.tag === null);
  const tagged = cords.filter(({ end }) => end!.tag !== null);
  const held = new Set(cords.map(({ end }) => end!.device));
  const bare = rows.flatMap(({ devices }) =>
    devices.slice(1).filter(({ to, roles }) => roles.length === 0 && !held.has(to)),
  );
  const [first = null, ...others] = untagged;
  return [
    { device: null, cord: first },
    ...[...others, ...tagged].map((cord) => ({ device: null, cord })),
    ...bare.map((device) => ({ device, cord: null })),
  ];
}

const wrongRows = ({ wrong }: Socket) => (wrong.length > MOST_WRONG ? MOST_WRONG + 0.6 : wrong.length);

/** One block under the other, each with its rows and room for what is wrong with it. */
function stack(blocks: readonly [entries: Rows, extra: number][], start: number): Block[] {
  let y = start;
  return blocks.map(([rows, extra]) => {
    const first = y;
    const entries = rows.map((row) => {
      const entry = { ...row, y: y - GAP / 2 };
      y += ROW;
      return entry;
    });
    y += extra * ROW;
    return { top: first - ROW / 2, height: y - first - GAP, entries, y: first - GAP / 2 };
  });
}
