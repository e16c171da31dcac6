import { list } from '../../words/numbers.ts';
import { speedWords } from '../../words/receiver.ts';
import { bareWords, roleTitle } from './cords.ts';
import { isFree, type Socket } from './sockets.ts';

/** What people call a socket, and how fast it is: `label B, 2.5 G`. */
export function portWords({ port }: Socket): string {
  return [port?.label ? `label ${port.label}` : '', speedWords(port?.speedMbit ?? null)].filter(Boolean).join(', ');
}

/** What is on a socket, in a few words. */
export function holdsWords(socket: Socket): string {
  const { cords, rows } = socket;
  if (cords.length > 0)
    return list(
      cords.map(({ role }) => roleTitle(role)),
      3,
    );
  return rows.length > 0 ? list(rows.map(bareWords)) : 'free';
}

export const socketRemark = (socket: Socket): string => {
  const missed = socket.wrong.some(({ code }) => code === 'port-not-on-receiver');
  return [missed ? 'not on the new box' : portWords(socket), holdsWords(socket)].filter(Boolean).join(', ');
};

/**
 * What a drawing shows of the new box: every port that something is on, and free ones in their order as far as there is
 * room.
 */
export function shownSockets(sockets: readonly Socket[], most: number): readonly Socket[] {
  let room = most - sockets.filter((socket) => !isBare(socket)).length;
  return sockets.filter((socket) => !isBare(socket) || room-- > 0);
}

const isBare = (socket: Socket) => isFree(socket) && socket.wrong.length === 0;
