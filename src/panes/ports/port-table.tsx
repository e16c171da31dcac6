import { Fragment } from 'react';
import { Mark } from '../../ui/marks.tsx';
import { Weight } from '../../ui/weight.tsx';
import { count } from '../../words/numbers.ts';
import { kindWords } from '../../words/receiver.ts';
import {
  bareWords,
  type Cabling,
  type Cord,
  type Device,
  deviceTitle,
  endWords,
  type PortRow,
  roleTitle,
} from './cords.ts';
import type { Hold } from './hold.ts';
import { portWords } from './places.ts';
import { PortField } from './port-field.tsx';
import { SwapWith } from './port-side.tsx';
import { isFree, type Socket } from './sockets.ts';
import { notAPort, putOn } from './use-ports.ts';

/** Every port and role by row; all that the drawing can do, by keyboard. */
export function PortTable({
  cabling: { rows, portless },
  sockets,
  described,
  hold,
  goes,
}: {
  cabling: Cabling;
  sockets: readonly Socket[];
  described: boolean;
  hold: Hold;
  goes: (cord: Cord) => boolean;
}) {
  const free = sockets.filter(isFree);
  const roles = (cords: readonly Cord[]) => <Roles cords={cords} hold={hold} goes={goes} />;
  return (
    <>
      <table className="list ports-table">
        <caption className="spoken">Ports of the old box and where each goes on the new one</caption>
        <thead>
          <tr>
            <th className="m" scope="col">
              <span className="spoken">Mark</span>
            </th>
            <th scope="col">Old port</th>
            <th scope="col">Role</th>
            <th scope="col">Address</th>
            <th scope="col">New port</th>
            <th scope="col">Change places with</th>
            <th scope="col" className="num">
              What follows
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Fragment key={row.name}>
              <tr className={isHeld(hold, row) ? 'sel' : undefined}>
                <td className="m">
                  {row.clashes.length > 0 ? (
                    <Weight weight="stop" />
                  ) : (
                    row.to !== row.name && (
                      <span className="mine">
                        <Mark name="changed" />
                      </span>
                    )
                  )}
                </td>
                <th scope="row" className="nowrap">
                  <button type="button" className="link" onClick={() => hold.choose({ kind: 'port', row })}>
                    <b className="mono">{row.name}</b>
                  </button>{' '}
                  <span className="dim">{kindWords[row.kind]}</span>
                </th>
                {row.devices[0]!.roles.length > 0 ? (
                  roles(row.devices[0]!.roles)
                ) : (
                  <>
                    <td className="dim">{bareWords(row)}</td>
                    <td />
                  </>
                )}
                <td>
                  <PortField
                    row={row}
                    rows={rows}
                    sockets={described ? sockets : null}
                    onDecide={(to) => putOn(row, to)}
                  />
                </td>
                <td>
                  <SwapWith row={row} rows={rows} />
                </td>
                <td className="num nowrap">
                  {count(row.mentions, 'place')}{' '}
                  <button type="button" className="link dim" onClick={() => notAPort(row.name)}>
                    Not a port
                  </button>
                </td>
              </tr>
              {row.devices.slice(1).map((device) => (
                <Derived key={`${device.name} ${device.tag}`} device={device} row={row}>
                  {device.roles.length > 0 ? (
                    roles(device.roles)
                  ) : (
                    <>
                      <td className="dim">no role</td>
                      <td />
                    </>
                  )}
                </Derived>
              ))}
            </Fragment>
          ))}
          {portless.map((cord) => (
            <tr key={cord.no} className="derived">
              <td className="m" />
              <th scope="row" className="dim nowrap">
                no port
              </th>
              {roles([cord])}
              <td className={`mono ${cord.end ? 'mine' : 'dim'}`}>{endWords(cord.end)}</td>
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
      {described && (
        <p className="more dim">
          {free.length === 0
            ? 'No port of the new box is free.'
            : `Free on the new box: ${free
                .slice(0, 40)
                .map((socket) => [socket.name, portWords(socket)].filter(Boolean).join(', '))
                .join('; ')}${free.length > 40 ? `; and ${free.length - 40} more` : ''}.`}
        </p>
      )}
    </>
  );
}

const isHeld = ({ held }: Hold, row: PortRow) => held?.kind === 'port' && held.row.name === row.name;

function Derived({ device, row, children }: { device: Device; row: PortRow; children: React.ReactNode }) {
  const title = deviceTitle(device, row.name);
  return (
    <tr className="derived">
      <td className="m" />
      <th scope="row" className="nowrap">
        <span className="branch" aria-hidden="true" />
        <span className="mono">{title}</span>{' '}
        <span className="dim">{device.tag !== null && !title.includes(String(device.tag)) && `tag ${device.tag}`}</span>
      </th>
      {children}
      <td className={`mono ${device.to === device.name ? 'dim' : 'mine'}`}>{device.to}</td>
      <td />
      <td className="num dim">follows {row.name}</td>
    </tr>
  );
}

/** Roles by number and name, each to be chosen; those that moved alone say where to. */
function Roles({ cords, hold, goes }: { cords: readonly Cord[]; hold: Hold; goes: (cord: Cord) => boolean }) {
  return (
    <>
      <td>
        {cords.map((cord) => {
          const { no, role, state, end } = cord;
          const chosen = hold.held?.kind === 'role' && hold.held.cord.state.path === state.path;
          return (
            <div key={no} className="role-name">
              <span className="cord-no">{no}</span>
              <button
                type="button"
                className="link"
                title={role.name}
                aria-pressed={chosen}
                onClick={() => hold.choose({ kind: 'role', cord })}
              >
                <b className={goes(cord) ? undefined : 'struck'}>{roleTitle(role)}</b>
              </button>
              {state.moved && (
                <span className={`mono ${end ? 'mine' : 'wrong'}`}>
                  <Mark name="arrow" />
                  {endWords(end)}
                </span>
              )}
              {!goes(cord) && <span className="dim">left out</span>}
            </div>
          );
        })}
      </td>
      <td className="mono nowrap">
        {cords.map(({ no, role }) => (
          <div key={no}>{role.address ?? ' '}</div>
        ))}
      </td>
    </>
  );
}
