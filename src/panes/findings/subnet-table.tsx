import type { Place, SubnetMark, SubnetView } from '../../core/index.ts';
import { number } from '../../words/numbers.ts';
import { sizeWords } from './map-layout.ts';

/** What the drawing shows, in words and with the line of each network. */
export function SubnetTable({ subnets, onPlace }: { subnets: readonly SubnetView[]; onPlace: (place: Place) => void }) {
  return (
    <table className="list subnets">
      <caption className="spoken">Networks in the order of their addresses</caption>
      <thead>
        <tr>
          <th scope="col">Role and network</th>
          <th scope="col">In it</th>
          <th scope="col" className="num">
            Where
          </th>
        </tr>
      </thead>
      <tbody>
        {subnets.map((subnet, at) => (
          <tr key={at}>
            <th scope="row">
              <b>{subnet.role}</b>
              <div>
                <code>{subnet.subnet}</code>
              </div>
              <div className="cap">
                {sizeWords(subnet)}
                {!subnet.enabled && ', switched off'}
              </div>
            </th>
            <td>
              <dl className="facts">
                <dt>own</dt>
                <dd>
                  <code>{subnet.own.address}</code>
                </dd>
                <Line name="pool" texts={subnet.pools.map(({ first, last }) => `${first} to ${last}`)} />
                <Line name="fixed" texts={subnet.fixed.map(address)} />
                <Line name="router" texts={subnet.gateways.map(address)} />
              </dl>
              {subnet.overlaps.map(({ with: other, first, last }) => (
                <p key={`${other} ${first}`} className="sev stop">
                  also in {other}:{' '}
                  <code>
                    {first} to {last}
                  </code>
                </p>
              ))}
            </td>
            <td className="num">
              <button type="button" className="link" onClick={() => onPlace(subnet.place)}>
                line {number(subnet.place.line)}
                <span className="spoken">, {subnet.role}</span>
              </button>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const address = ({ address: text }: SubnetMark) => text;

const LINES = 6;

function Line({ name, texts }: { name: string; texts: readonly string[] }) {
  if (texts.length === 0) return null;
  return (
    <>
      <dt>{name}</dt>
      <dd>
        {texts.slice(0, LINES).map((text) => (
          <div key={text}>
            <code>{text}</code>
          </div>
        ))}
        {texts.length > LINES && <span className="dim">and {number(texts.length - LINES)} more</span>}
      </dd>
    </>
  );
}
