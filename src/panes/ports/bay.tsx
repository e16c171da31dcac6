import { type KeyboardEvent, useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { Finding } from '../../core/index.ts';
import { Weight } from '../../ui/weight.tsx';
import { count, number } from '../../words/numbers.ts';
import './bay.css';
import { layBay } from './bay-layout.ts';
import { type Cabling, type Cord, cordsOf } from './cords.ts';
import { Cords, Sockets } from './cords-drawn.tsx';
import { useDrag } from './drag.ts';
import { type Hold, heldKey } from './hold.ts';
import type { Held } from './moves.ts';
import { shownSockets } from './places.ts';
import { FlagView, NewPlateView, OldPlateView } from './plates-drawn.tsx';
import { isFree, type Socket } from './sockets.ts';

const NARROWEST = 860;
/** Ports of the new box that are drawn; free ones beyond are in the lists only. */
const MOST_SOCKETS = 24;

/** The patch bay: old box, roles, new box, and a cord for each role. The table shows the same. */
export function Bay({
  cabling,
  sockets: all,
  ofRole,
  host,
  newHost,
  described,
  hold,
  goes,
}: {
  cabling: Cabling;
  sockets: readonly Socket[];
  ofRole: ReadonlyMap<string, readonly Finding[]>;
  host: string;
  newHost: string;
  /** Whether the new box is known. */
  described: boolean;
  hold: Hold;
  /** Whether a role is carried. */
  goes: (cord: Cord) => boolean;
}) {
  const box = useRef<HTMLDivElement>(null);
  const floor = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(NARROWEST);
  useLayoutEffect(() => {
    const watch = new ResizeObserver(([entry]) => setWidth(Math.max(NARROWEST, Math.floor(entry!.contentRect.width))));
    watch.observe(box.current!);
    return () => watch.disconnect();
  }, []);
  const { rows } = cabling;
  const sockets = shownSockets(all, MOST_SOCKETS);
  const bay = layBay(cabling, sockets, width, (cord) => cord.end !== null && goes(cord));
  const { columns } = bay;
  const { held } = hold;
  const chosen = held && heldKey(held);
  const put = (what: Held, socket: Socket) => {
    if (hold.putOn(what, socket)) focusOn(heldKey(what));
  };
  const { drag, start } = useDrag(floor, bay.fresh, columns.fresh.left, (what, plate) => {
    hold.choose(what);
    put(what, plate.socket);
  });
  const holders = useMemo(
    () => rows.flatMap((row) => [`port ${row.name}`, ...cordsOf(row).map(({ state }) => `role ${state.path}`)]),
    [rows],
  );
  const [reached, setReached] = useState<string | null>(null);
  const tabStop = [reached, chosen].find((key) => key !== null && holders.includes(key)) ?? holders[0];
  const free = all.filter(isFree).length;
  const hidden = all.length - sockets.length;
  const moved = rows.filter((row) => row.to !== row.name).length;

  const focusOn = (key: string) => box.current?.querySelector<HTMLElement>(`[data-hold="${CSS.escape(key)}"]`)?.focus();
  const onKeyDown = (event: KeyboardEvent) => {
    const at = (event.target as HTMLElement).closest<HTMLElement>('[data-column]');
    if (!at || event.altKey || event.ctrlKey || event.metaKey) return;
    const next = arrowTarget(box.current!, at, event.key);
    if (next) {
      event.preventDefault();
      next.focus();
    } else if (event.key === 'Escape' && held) {
      event.preventDefault();
      if (at.dataset.column === 'new') focusOn(heldKey(held));
      else hold.choose(null);
    }
  };
  /** Enter picks up and goes over to the new box. */
  const pickUp = (what: Held, event: KeyboardEvent) => {
    if (event.key !== 'Enter') return;
    event.preventDefault();
    hold.choose(what);
    const socket = what.kind === 'port' ? what.row.to : what.cord.end?.socket;
    requestAnimationFrame(() => {
      const plates = [...box.current!.querySelectorAll<HTMLElement>('[data-column="new"]')];
      (plates.find(({ dataset }) => dataset.socket === socket) ?? plates[0])?.focus();
    });
  };

  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would be read as a form
    <div
      className={`bay scroll ${drag ? 'dragging' : ''}`}
      ref={box}
      role="group"
      aria-label="Patch bay. The table shows the same."
      onKeyDown={onKeyDown}
    >
      <div className="bay-in" style={{ width, height: bay.height + 40 + (hidden ? 26 : 0) }}>
        <div className="colhead" style={{ width }}>
          <Head {...columns.old} name="Old box" of={host} amount={count(rows.length, 'port')} />
          <Head {...columns.flag} name="Roles" of="by cord" amount={count(bay.flags.length, 'role')} />
          <Head
            {...columns.fresh}
            name="New box"
            of={newHost}
            amount={
              described
                ? `${count(all.filter(({ port }) => port !== null).length, 'port')}, ${number(free)} free`
                : moved
                  ? `${moved} moved`
                  : 'as before'
            }
          />
        </div>
        <div className="bay-floor" ref={floor}>
          <Cords bay={bay} width={width} chosen={held} />
          {bay.old.map((plate) => {
            const what: Held = { kind: 'port', row: plate.row };
            const key = heldKey(what);
            return (
              <OldPlateView
                key={key}
                plate={plate}
                {...columns.old}
                wrong={wrongWith(plate.row, all, ofRole)}
                chosen={key === chosen}
                holdKey={key}
                tabIndex={key === tabStop ? 0 : -1}
                onFocus={() => setReached(key)}
                onChoose={() => hold.choose(what)}
                onKeyDown={(event) => pickUp(what, event)}
                onPress={(event) => start(event, what, { x: columns.old.left + columns.old.width + 8, y: plate.y })}
              />
            );
          })}
          {bay.flags.map(({ cord, y }) => {
            const what: Held = { kind: 'role', cord };
            const key = heldKey(what);
            return (
              <FlagView
                key={key}
                cord={cord}
                goes={goes(cord)}
                bad={(ofRole.get(cord.state.path) ?? []).length > 0}
                chosen={key === chosen}
                holdKey={key}
                tabIndex={key === tabStop ? 0 : -1}
                onFocus={() => setReached(key)}
                onChoose={() => hold.choose(what)}
                onKeyDown={(event) => pickUp(what, event)}
                onPress={(event) => start(event, what, { x: columns.flag.left + columns.flag.width, y })}
                style={{ left: columns.flag.left, width: columns.flag.width, top: y - 16 }}
              />
            );
          })}
          {bay.fresh.map((plate) => (
            <NewPlateView
              key={plate.socket.name}
              plate={plate}
              {...columns.fresh}
              held={held}
              over={drag?.over?.socket.name === plate.socket.name}
              onPut={() => held && put(held, plate.socket)}
              onPull={(event) => {
                const what = pulledFrom(plate.socket);
                if (what) start(event, what, { x: columns.fresh.left - 8, y: plate.y });
              }}
            />
          ))}
          {bay.harnesses.map(({ y, size, whole }) => (
            <span key={y} className="cap harness" style={{ left: columns.flag.left + 40, top: y - 7 }}>
              harness of {size}
              {whole ? ', moves as one' : ', not all to one port'}
            </span>
          ))}
          {bay.bundles.flatMap(({ loose }) =>
            loose.map(
              ({ cord, x, y }) =>
                goes(cord) && (
                  <span key={cord.no} className="loose wrong" style={{ left: x + 10, top: y - 12 }}>
                    <Weight weight={cord.state.moved ? 'break' : 'note'}>loose end</Weight>
                  </span>
                ),
            ),
          )}
          <Sockets bay={bay} width={width} drag={drag} />
          {hidden > 0 && (
            <p className="cap hidden-ports" style={{ left: columns.fresh.left, top: bay.height }}>
              and {count(hidden, 'free port')} more, in the lists of the side column
            </p>
          )}
        </div>
      </div>
    </div>
  );
}

/** What hangs on a socket as one: the old port that takes its name, or its one role. */
function pulledFrom({ rows, cords }: Socket): Held | null {
  if (rows.length === 1) return { kind: 'port', row: rows[0]! };
  return rows.length === 0 && cords.length === 1 ? { kind: 'role', cord: cords[0]! } : null;
}

/** What is wrong where the cords of an old port end. */
function wrongWith(
  row: Cabling['rows'][number],
  sockets: readonly Socket[],
  ofRole: ReadonlyMap<string, readonly Finding[]>,
): readonly Finding[] {
  const cords = cordsOf(row);
  const ends = new Set([...(cords.length === 0 ? [row.to] : []), ...cords.map(({ end }) => end?.socket)]);
  return [
    ...sockets.filter(({ name }) => ends.has(name)).flatMap(({ wrong }) => wrong),
    ...cords.flatMap(({ state }) => ofRole.get(state.path) ?? []),
  ];
}

const order = ['old', 'role', 'new'];

/** Up and down within a column, left and right to what is nearest beside it; null for any other key. */
function arrowTarget(bay: HTMLElement, at: HTMLElement, key: string): HTMLElement | null {
  const column = (name: string | undefined) => [...bay.querySelectorAll<HTMLElement>(`[data-column="${name}"]`)];
  if (key === 'ArrowDown' || key === 'ArrowUp') {
    const list = column(at.dataset.column);
    return list[list.indexOf(at) + (key === 'ArrowDown' ? 1 : -1)] ?? at;
  }
  if (key !== 'ArrowLeft' && key !== 'ArrowRight') return null;
  const list = column(order[order.indexOf(at.dataset.column!) + (key === 'ArrowRight' ? 1 : -1)]);
  const middle = (element: HTMLElement) => {
    const { top, height } = element.getBoundingClientRect();
    return top + Math.min(height, 32) / 2;
  };
  const y = middle(at);
  let best = at;
  let least = Number.POSITIVE_INFINITY;
  for (const other of list) {
    const away = Math.abs(middle(other) - y);
    if (away < least) [best, least] = [other, away];
  }
  return best;
}

function Head({
  left,
  width,
  name,
  of,
  amount,
}: {
  left: number;
  width: number;
  name: string;
  of: string;
  amount: string;
}) {
  return (
    <span className="head-cell" style={{ left, width }}>
      <span>
        <b>{name}</b> {of}
      </span>
      <span>{amount}</span>
    </span>
  );
}
