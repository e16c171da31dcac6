import type { Decision, Seat } from '../../core/index.ts';
import { list } from '../../words/numbers.ts';
import { type Cabling, type Cord, cordsOf, type End, endWords, isItsPort, type PortRow, roleTitle } from './cords.ts';
import type { Socket } from './sockets.ts';

/** A step for the plan: what it adds and what it takes back, under the name that undoing shows. */
export interface Step {
  readonly name: string;
  readonly decisions: readonly Decision[];
  /** Subjects of decisions that give way. */
  readonly withdrawn: readonly string[];
}

/** What was picked up: a port with all that hangs on it, or one role. */
export type Held = { readonly kind: 'port'; readonly row: PortRow } | { readonly kind: 'role'; readonly cord: Cord };

/** What letting go over a port of the new box means. */
export type Drop =
  | { readonly do: 'nothing' }
  | { readonly do: 'cannot'; readonly why: string }
  | { readonly do: 'step'; readonly step: Step }
  /** Something is there already, so the technician says which is meant. */
  | { readonly do: 'ask'; readonly holds: string; readonly choices: readonly Choice[] };

export interface Choice {
  readonly title: string;
  readonly remark: string;
  readonly step: Step;
}

const renameSubject = (name: string) => `rename-port ${name}`;
const moveSubject = ({ state }: Cord) => `move-role ${state.path}`;

export function renameStep(name: string, moves: readonly { readonly from: string; readonly to: string }[]): Step {
  return {
    name,
    decisions: moves.filter(({ from, to }) => from !== to).map(({ from, to }) => ({ kind: 'rename-port', from, to })),
    withdrawn: moves.filter(({ from, to }) => from === to).map(({ from }) => renameSubject(from)),
  };
}

export const putStep = (from: string, to: string): Step =>
  renameStep(from === to ? `Keep ${from} where it is` : `Put ${from} on ${to}`, [{ from, to }]);

const moveStep = (name: string, moves: readonly (readonly [cord: Cord, seat: Seat])[]): Step => ({
  name,
  decisions: moves.map(([{ state }, to]) => ({ kind: 'move-role', role: state.path, to })),
  withdrawn: [],
});

/** What people call what they hold. */
export const heldName = (held: Held): string => (held.kind === 'role' ? roleTitle(held.cord.role) : portName(held.row));

/** `igb3 with its 4 roles`. */
export function portName(row: PortRow): string {
  const many = cordsOf(row).length;
  return many > 1 ? `${row.name} with its ${many} roles` : row.name;
}

export const backStep = (cord: Cord): Step => ({
  name: `Give ${roleTitle(cord.role)} back to ${cord.role.port ?? 'no port'}`,
  decisions: [],
  withdrawn: [moveSubject(cord)],
});

export const offStep = (cord: Cord): Step =>
  moveStep(`Take ${roleTitle(cord.role)} off its port`, [[cord, { on: 'none' }]]);

/**
 * The seat for a place on the new box. Seats go by the old box's names and renames apply to them, too, so a name that
 * the file gives to another port cannot be told apart: null.
 */
export function seatFor({ rows }: Cabling, socket: string, tag: number | null): Seat | null {
  const row = rows.find(({ to }) => to === socket);
  if (!row && rows.some(({ name, devices }) => name === socket || devices.some((device) => device.name === socket)))
    return null;
  const port = row?.name ?? socket;
  return tag === null ? { on: 'port', port } : { on: 'tag', port, tag };
}

/** Whether a step is possible, and if not why. */
export function moveRole(cabling: Cabling, cord: Cord, socket: string, tag: number | null): Step | string {
  if (isItsPort(cord) && tag === null)
    return `${roleTitle(cord.role)} is written in the record of its own port, so it cannot leave it. Move the port, or give it a VLAN ID.`;
  const seat = seatFor(cabling, socket, tag);
  if (!seat)
    return `In the file the name ${socket} belongs to a port that you put elsewhere, so one role alone cannot have it. Move its whole port there, or let two ports change places.`;
  return moveStep(`Move ${roleTitle(cord.role)} to ${endWords({ socket, tag })}`, [[cord, seat]]);
}

/** What letting go of something over a port of the new box does. */
export function dropOn(cabling: Cabling, held: Held, socket: Socket): Drop {
  if (held.kind === 'port') return dropPort(held.row, socket);
  const tag = held.cord.end ? held.cord.end.tag : (tagBefore(cabling, held.cord) ?? null);
  return dropRole(cabling, held.cord, socket, tag);
}

/** The VLAN ID that a role had on the old box: its own beside the port, or that of its device. */
export const tagBefore = ({ rows }: Cabling, { role }: Cord): number | null =>
  role.tag ?? rows.flatMap(({ devices }) => devices).find(({ name }) => name === role.port)?.tag ?? null;

export function dropRole(cabling: Cabling, cord: Cord, socket: Socket, tag: number | null): Drop {
  if (cord.end?.socket === socket.name && cord.end.tag === tag) return { do: 'nothing' };
  const own = cabling.rows.find((row) => cordsOf(row).includes(cord));
  // What cannot leave its port takes it along.
  if (own && isItsPort(cord) && tag === null) return dropPort(own, socket);
  const step = moveRole(cabling, cord, socket.name, tag);
  if (typeof step === 'string') return { do: 'cannot', why: step };
  const there = socket.cords.filter((other) => other !== cord && other.end!.tag === tag);
  if (there.length === 0) return { do: 'step', step };
  const [other] = there;
  const place = endWords({ socket: socket.name, tag });
  const choices: Choice[] = [];
  const seat = seatFor(cabling, socket.name, tag)!;
  const stuck = there.some((one) => isItsPort(one) && cord.state.seat.on === 'port');
  if (there.length === 1 && cord.end && !stuck) {
    const name = `Swap ${roleTitle(cord.role)} and ${roleTitle(other!.role)}`;
    choices.push({
      title: name,
      remark: `${roleTitle(other!.role)} goes to ${endWords(cord.end)}. Their ports stay where they are.`,
      step: moveStep(name, [
        [cord, seat],
        [other!, cord.state.seat],
      ]),
    });
  }
  choices.push({
    title: `Put both on ${place}`,
    remark: 'One port cannot hold both like this. It stands as a finding until you move one, or tag it.',
    step,
  });
  return { do: 'ask', holds: there.map(({ role }) => roleTitle(role)).join(' and '), choices };
}

export function dropPort(row: PortRow, socket: Socket): Drop {
  if (row.to === socket.name) return { do: 'nothing' };
  const step = putStep(row.name, socket.name);
  const others = socket.rows.filter((other) => other !== row);
  const own = new Set(socket.rows.flatMap(cordsOf));
  const foreign = socket.cords.filter((cord) => !own.has(cord));
  if (others.length === 0 && foreign.length === 0) return { do: 'step', step };
  const choices: Choice[] = [];
  const [other] = others;
  if (others.length === 1) {
    choices.push({
      title: `Swap ${row.name} and ${other!.name}`,
      remark: `${portName(other!)} goes to ${row.to}.`,
      step: renameStep(`Swap ${row.name} and ${other!.name}`, [
        { from: row.name, to: socket.name },
        { from: other!.name, to: row.to },
      ]),
    });
  }
  choices.push({
    title: `Put both on ${socket.name}`,
    remark:
      others.length > 0
        ? 'Two ports cannot have one name, so nothing can be downloaded until you move one of them.'
        : 'Tagged roles may share a port. Two untagged ones cannot.',
    step,
  });
  const on = [...others.flatMap(cordsOf).filter((cord) => cord.end?.socket === socket.name), ...foreign];
  const holds = on.length > 0 ? list(on.map(({ role }) => roleTitle(role))) : 'a port without a role';
  return { do: 'ask', holds, choices };
}

/** The place of a role in a list of places to choose from. */
export const placeKey = (end: Pick<End, 'socket' | 'tag'> | null): string =>
  end === null ? '' : JSON.stringify([end.socket, end.tag]);
