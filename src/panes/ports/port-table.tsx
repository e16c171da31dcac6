import { Fragment } from 'react';
import { Mark } from '../../ui/marks.tsx';
import { Weight } from '../../ui/weight.tsx';
import { count } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';
import { type Device, type PortRow, roleTitle } from './cords.ts';
import { PortField } from './port-field.tsx';
import { notAPort, putOn, swap } from './use-ports.ts';

const kinds: Record<PortRow['kind'], string> = {
  physical: '',
  tagged: 'tagged device',
  aggregate: 'aggregate',
  other: 'other device',
};

/** Every port by row; all that the drawing can do, by keyboard. */
export function PortTable({ rows, onLook }: { rows: readonly PortRow[]; onLook: (place: SourcePlace) => void }) {
  return (
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
            <tr>
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
                <b className="mono">{row.name}</b> <span className="dim">{kinds[row.kind]}</span>
              </th>
              <Roles device={row.devices[0]} trunk={row.devices.length > 1} onLook={onLook} />
              <td>
                <PortField row={row} rows={rows} onDecide={(to) => putOn(row, to)} />
              </td>
              <td>
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
              </td>
              <td className="num nowrap">
                {count(row.mentions, 'place')}{' '}
                <button type="button" className="link dim" onClick={() => notAPort(row.name)}>
                  Not a port
                </button>
              </td>
            </tr>
            {row.devices.slice(1).map((device) => (
              <tr key={device.name} className="derived">
                <td className="m" />
                <th scope="row" className="nowrap">
                  <span className="branch" aria-hidden="true" />
                  <span className="mono">{device.name}</span>{' '}
                  <span className="dim">
                    {device.tag !== null && !device.name.includes(String(device.tag)) && `tag ${device.tag}`}
                  </span>
                </th>
                <Roles device={device} trunk={false} onLook={onLook} />
                <td className={`mono ${device.to === device.name ? 'dim' : 'mine'}`}>{device.to}</td>
                <td />
                <td className="num dim">follows {row.name}</td>
              </tr>
            ))}
          </Fragment>
        ))}
      </tbody>
    </table>
  );
}

function Roles({ device, trunk, onLook }: { device: Device; trunk: boolean; onLook: (place: SourcePlace) => void }) {
  if (device.roles.length === 0) {
    return (
      <>
        <td className="dim">{trunk ? 'trunk' : 'no role'}</td>
        <td />
      </>
    );
  }
  return (
    <>
      <td>
        {device.roles.map(({ no, role }) => (
          <div key={no} className="role-name">
            <span className="cord-no">{no}</span>
            <button type="button" className="link" title={role.name} onClick={() => onLook(role.place)}>
              <b>{roleTitle(role)}</b>
            </button>
          </div>
        ))}
      </td>
      <td className="mono nowrap">
        {device.roles.map(({ no, role }) => (
          <div key={no}>{role.address ?? ' '}</div>
        ))}
      </td>
    </>
  );
}
