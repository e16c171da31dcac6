import { count } from '../../words/numbers.ts';
import { type Cabling, cordsOf, endWords, type PortRow, roleTitle } from './cords.ts';
import type { Hold } from './hold.ts';
import { dropPort } from './moves.ts';
import { PortField } from './port-field.tsx';
import { bareSocket, type Socket } from './sockets.ts';
import { notAPort, swap, take } from './use-ports.ts';

/** One port of the old box, with all that hangs on it. */
export function PortSide({
  row,
  cabling,
  sockets,
  described,
  hold,
}: {
  row: PortRow;
  cabling: Cabling;
  sockets: readonly Socket[];
  described: boolean;
  hold: Hold;
}) {
  const cords = cordsOf(row);
  const put = (name: string) => {
    const socket = sockets.find((one) => one.name === name) ?? bareSocket(name);
    const drop = dropPort(row, socket);
    if (drop.do === 'step') take(drop.step);
    else if (drop.do !== 'nothing') hold.ask({ held: { kind: 'port', row }, socket, drop });
  };
  return (
    <>
      <section>
        <div className="cap">Port of the old box</div>
        <h2 className="mono">{row.name}</h2>
        <div className="cap put">
          Put {row.name} {cords.length > 1 ? `with its ${count(cords.length, 'role')} ` : ''}on
        </div>
        <PortField key={row.name} row={row} rows={cabling.rows} sockets={described ? sockets : null} onDecide={put} />
        <div className="cap put">Change places with</div>
        <SwapWith row={row} rows={cabling.rows} />
      </section>
      <section>
        <h3>What goes with it</h3>
        <ul className="lines">
          {cords.map((cord) => (
            <li key={cord.no}>
              <button type="button" className="link" onClick={() => hold.choose({ kind: 'role', cord })}>
                {cord.no} {roleTitle(cord.role)}
              </button>
              <span className={`mono ${cord.state.moved ? 'mine' : 'dim'}`}>{endWords(cord.end)}</span>
            </li>
          ))}
          {cords.length === 0 && (
            <li className="dim">{row.partOf ? `It is a part of ${row.partOf}.` : 'No role sits on it.'}</li>
          )}
          <li>
            <span>Places that name it</span>
            <b>{row.mentions}</b>
          </li>
        </ul>
        <button type="button" className="link dim" onClick={() => notAPort(row.name)}>
          It is not a port
        </button>
      </section>
    </>
  );
}

/** Two ports change places, by a list alone. */
export function SwapWith({ row, rows }: { row: PortRow; rows: readonly PortRow[] }) {
  return (
    <select
      className="field"
      aria-label={`Change places: ${row.name} with`}
      value=""
      onChange={(event) => {
        const other = rows.find((one) => one.name === event.target.value);
        if (other) swap(row, other);
      }}
    >
      <option value="">with…</option>
      {rows
        .filter((other) => other.name !== row.name)
        .map((other) => (
          <option key={other.name} value={other.name}>
            {other.name}
            {other.to !== other.name && `, now on ${other.to}`}
          </option>
        ))}
    </select>
  );
}
