import { number, ranges } from '../../words/numbers.ts';
import { type Cable, type Cord, roleTitle } from '../ports/cords.ts';

/** Roles on one cord that are written out; on paper more hide the cords themselves. */
const MOST = 12;

/** What goes where on the night, one group of rows for each cord, a row for each role on it. */
export function Cabling({
  cables,
  labels,
}: {
  cables: readonly Cable[];
  /** What is written beside a port of the new box. */
  labels: ReadonlyMap<string, string | null>;
}) {
  return (
    <table className="cabling">
      <thead>
        <tr>
          <th scope="col">Cord</th>
          <th scope="col">Role</th>
          <th scope="col">Old port</th>
          <th scope="col">New port</th>
          <th scope="col" className="spare">
            Tag
          </th>
          <th scope="col" className="spare">
            Address
          </th>
        </tr>
      </thead>
      {cables.map((cable) => (
        <CableRows key={`${cable.from} ${cable.to}`} cable={cable} label={labels.get(cable.to ?? '') ?? null} />
      ))}
    </table>
  );
}

function CableRows({ cable: { from, to, cords, bare }, label }: { cable: Cable; label: string | null }) {
  const shown = cords.length > MOST + 1 ? cords.slice(0, MOST) : cords;
  const rest = cords.slice(shown.length);
  const left = rest.filter(({ state }) => !state.goes).length;
  const height = Math.max(1, shown.length + (rest.length > 0 ? 1 : 0));
  const ports = (
    <>
      <td className="mono nowrap" rowSpan={height}>
        {from ?? 'none'}
      </td>
      <td className={`mono nowrap ${from === to ? '' : 'mine'}`} rowSpan={height}>
        {to ?? 'none'}
        {label && <div className="cap">label: {label}</div>}
      </td>
    </>
  );
  return (
    <tbody>
      {cords.length === 0 && (
        <tr>
          <td />
          <td className="dim">{bare}</td>
          {ports}
          <td className="spare" />
          <td className="spare" />
        </tr>
      )}
      {shown.map(({ no, role, end, state: { goes } }, at) => (
        <tr key={no}>
          <td>{no}</td>
          <td>
            <b className={goes ? undefined : 'struck'}>{roleTitle(role)}</b>
          </td>
          {at === 0 && ports}
          <td className="mono spare">{goes && end?.tag}</td>
          <td className="mono nowrap spare">{goes ? role.address : <span className="mine">left out</span>}</td>
        </tr>
      ))}
      {rest.length > 0 && (
        <tr>
          <td className="nowrap">{ranges(rest.map(({ no }) => no))}</td>
          <td className="dim">
            and {number(rest.length)} more, on sheet 2{left > 0 && `; ${number(left)} of them left out`}
          </td>
          <td className="mono spare" colSpan={2}>
            {ranges(tagsOf(rest))}
          </td>
        </tr>
      )}
    </tbody>
  );
}

const tagsOf = (cords: readonly Cord[]): number[] =>
  cords.flatMap(({ end, state }) => (state.goes ? (end?.tag ?? []) : []));
