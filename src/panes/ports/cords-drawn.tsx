import type { Bay } from './bay-layout.ts';
import { cordsOf, strand } from './cords.ts';
import type { Drag } from './drag.ts';
import type { Held } from './moves.ts';

/** Every cord's way, with the harnesses that they run in. */
export function Cords({ bay, width, chosen }: { bay: Bay; width: number; chosen: Held | null }) {
  const thick = new Set(chosen === null ? [] : heldNumbers(chosen));
  return (
    <svg className="cords" width={width} height={bay.height} aria-hidden="true">
      {bay.bundles.map(({ key, strands, loose, hair, sheath, collars }) => (
        <g key={key} fill="none">
          {hair && <path d={hair} stroke="var(--edge)" strokeWidth="1.25" />}
          {sheath && (
            <>
              <path d={sheath.d} stroke="var(--paper)" strokeWidth={sheath.width + 6} />
              <path d={sheath.d} stroke="var(--edge)" strokeWidth={sheath.width} />
              <path d={sheath.d} stroke="var(--paper)" strokeWidth={sheath.width - 2} />
            </>
          )}
          {(sheath || collars.length > 0 ? [] : [...strands, ...loose]).map(({ d }) => (
            <path key={d} d={d} stroke="var(--paper)" strokeWidth="6" />
          ))}
          {[...strands, ...loose].map(({ d, no }) => (
            <path key={d} d={d} style={strand(no)} strokeWidth={thick.has(no) ? 3.5 : 2.25} />
          ))}
          {loose.map(({ no, x, y }) => (
            <circle
              key={no}
              cx={x}
              cy={y}
              r="5"
              fill="var(--paper)"
              style={{ stroke: strand(no).stroke }}
              strokeWidth="2"
            />
          ))}
          {collars.map(({ x, y, height }) => (
            <rect
              key={x}
              x={x}
              y={y}
              width="11"
              height={height}
              fill="var(--paper)"
              stroke="var(--edge)"
              strokeWidth="1.2"
            />
          ))}
        </g>
      ))}
    </svg>
  );
}

const heldNumbers = (held: Held): number[] =>
  held.kind === 'role' ? [held.cord.no] : cordsOf(held.row).map(({ no }) => no);

/** The sockets of both boxes, and a cord's end while it is pulled. They lie over the plates and take no press. */
export function Sockets({ bay, width, drag }: { bay: Bay; width: number; drag: Drag | null }) {
  const { old, fresh } = bay.columns;
  return (
    <svg className="cords" width={width} height={bay.height} aria-hidden="true">
      {bay.old.map(({ row, y }) => (
        <path
          key={row.name}
          d={`M${old.left + old.width - 8} ${y - 9}h16v6h-4v6h4v6h-16z`}
          {...plug(
            cordsOf(row).map(({ no }) => no),
            row.clashes.length > 0,
          )}
        />
      ))}
      {bay.fresh.map(({ socket, y }) => (
        <path
          key={socket.name}
          d={`M${fresh.left - 8} ${y - 9}h16v18h-16v-6h4v-6h-4z`}
          {...plug(
            socket.cords.map(({ no }) => no),
            socket.wrong.length > 0,
          )}
        />
      ))}
      {drag && (
        <g fill="none" stroke="var(--blue)">
          <path d={`M${drag.from.x} ${drag.from.y}L${drag.x} ${drag.y}`} strokeWidth="2.25" strokeDasharray="7 3" />
          <circle cx={drag.x} cy={drag.y} r="6" fill="var(--paper)" strokeWidth="2" />
        </g>
      )}
    </svg>
  );
}

/** A socket has the colour of its one cord; a trunk and an empty one have none, and one in trouble is red. */
function plug(numbers: readonly number[], bad: boolean) {
  const [no] = numbers;
  const fill = bad
    ? 'var(--red-tint)'
    : no === undefined
      ? 'var(--paper)'
      : numbers.length === 1
        ? strand(no).stroke
        : 'var(--band)';
  return { style: { fill, stroke: bad ? 'var(--red)' : 'var(--edge)' }, strokeWidth: 1.4 };
}
