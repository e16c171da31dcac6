import { useMemo, useState } from 'react';
import { allCords, type Cabling } from './cords.ts';
import { type Drop, dropOn, type Held, type Step } from './moves.ts';
import type { Socket } from './sockets.ts';
import { take } from './use-ports.ts';

/** What was dropped where something else is, or where it cannot go. */
export interface Asked {
  readonly held: Held;
  readonly socket: Socket;
  readonly drop: Extract<Drop, { do: 'ask' | 'cannot' }>;
}

export interface Hold {
  /** What is chosen: it can be looked at, and put on another port. */
  readonly held: Held | null;
  readonly asked: Asked | null;
  choose(held: Held | null): void;
  /** Puts something on a port of the new box, or asks first. True where nothing is asked. */
  putOn(held: Held, socket: Socket): boolean;
  /** Answers what was asked; null leaves all as it is. */
  answer(step: Step | null): void;
  ask(asked: Asked): void;
}

/** What a held thing is called in the page: it stays the same while the plan changes. */
export const heldKey = (held: Held): string =>
  held.kind === 'port' ? `port ${held.row.name}` : `role ${held.cord.state.path}`;

export function useHold(cabling: Cabling): Hold {
  const [key, setKey] = useState<string | null>(null);
  const [asked, setAsked] = useState<Asked | null>(null);
  const held = useMemo(() => (key === null ? null : found(cabling, key)), [cabling, key]);
  return {
    held,
    asked,
    choose: (next) => setKey(next && heldKey(next)),
    putOn(what, socket) {
      const drop = dropOn(cabling, what, socket);
      if (drop.do === 'step') take(drop.step);
      if (drop.do !== 'ask' && drop.do !== 'cannot') return true;
      setAsked({ held: what, socket, drop });
      return false;
    },
    answer(step) {
      if (step) take(step);
      setAsked(null);
    },
    ask: setAsked,
  };
}

function found(cabling: Cabling, key: string): Held | null {
  const row = cabling.rows.find(({ name }) => key === `port ${name}`);
  if (row) return { kind: 'port', row };
  const cord = allCords(cabling).find(({ state }) => key === `role ${state.path}`);
  return cord ? { kind: 'role', cord } : null;
}
