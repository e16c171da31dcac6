import { useId, useState } from 'react';
import type { Decision, LackingView } from '../../core/index.ts';
import { tickRows } from '../../state/carry.ts';
import { change } from '../../state/decide.ts';
import { useDesk } from '../../state/session.ts';
import { Weight } from '../../ui/weight.tsx';
import { count, number, verb } from '../../words/numbers.ts';
import type { CarryLists } from '../../worker/protocol.ts';
import type { SourcePlace } from '../source/source-view.tsx';

const MOST = 60;

/** A name and every place that goes along and uses it. */
interface Missing {
  readonly kind: LackingView['kind'];
  readonly to: string;
  readonly places: readonly LackingView[];
}

function byName(list: readonly LackingView[]): Missing[] {
  const groups = new Map<string, LackingView[]>();
  for (const one of list) {
    const key = `${one.kind} ${one.to}`;
    const group = groups.get(key);
    if (group) group.push(one);
    else groups.set(key, [one]);
  }
  return [...groups.values()].map((places) => ({ kind: places[0]!.kind, to: places[0]!.to, places }));
}

/** One place points to another name, or stays as it comes out. */
const repoint = ({ path, value }: LackingView, to: string): Decision => ({
  kind: 'set-value',
  path,
  was: value,
  value: to,
});

/** Names of ports and roles that go along and that the new box does not have. */
export function Lacking({ lists, onLook }: { lists: CarryLists; onLook: (place: SourcePlace) => void }) {
  const { lacking, has } = lists;
  if (lacking === null) {
    return (
      <section className="quiet">
        <h3>What the new box lacks</h3>
        <p>
          Carryover does not know the new box’s ports yet.{' '}
          <button type="button" className="link" onClick={() => useDesk.setState({ sheet: 'ports' })}>
            Tell what it has, on sheet 2
          </button>
          , and names that it lacks are listed here.
        </p>
      </section>
    );
  }
  if (lacking.length === 0) return null;
  const groups = byName(lacking);
  return (
    <section aria-label="Names that the new box lacks" className="lacking">
      <div className="row">
        <h3>
          <Weight weight="break">
            {count(groups.length, 'name')} {verb(groups.length, 'is', 'are')} not on the new box
          </Weight>
        </h3>
        <span className="acts row">
          <button
            type="button"
            className="btn small plan"
            onClick={() =>
              tickRows(
                `Leave out ${count(lacking.length, 'place')} that the new box lacks`,
                lacking.map(({ record }) => record.path),
                false,
              )
            }
          >
            Leave out all {number(lacking.length)}
          </button>
          <button
            type="button"
            className="btn small plan"
            onClick={() =>
              change(
                `Keep ${count(groups.length, 'name')} that the new box lacks`,
                lacking.map((one) => repoint(one, one.to)),
              )
            }
          >
            Keep all
          </button>
        </span>
      </div>
      {groups.slice(0, MOST).map((group) => (
        <Group
          key={`${group.kind} ${group.to}`}
          group={group}
          names={group.kind === 'port' ? has.ports : has.roles}
          onLook={onLook}
        />
      ))}
      {groups.length > MOST && <p className="dim">and {number(groups.length - MOST)} more names</p>}
    </section>
  );
}

function Group({
  group: { kind, to, places },
  names,
  onLook,
}: {
  group: Missing;
  names: readonly string[];
  onLook: (place: SourcePlace) => void;
}) {
  const [open, setOpen] = useState(false);
  const word = kind === 'port' ? 'port' : 'role';
  return (
    <div className="lack">
      <div className="row">
        <button type="button" className="link" aria-expanded={open} onClick={() => setOpen(!open)}>
          <span className="mono">{to}</span>
        </button>
        <span className="dim">
          {word}, {count(places.length, 'place')}
        </span>
        <Answers places={places} to={to} names={names} />
      </div>
      {open && (
        <ul className="lines">
          {places.slice(0, MOST).map((one) => (
            <li key={`${one.path} ${one.value}`}>
              <button type="button" className="link" onClick={() => onLook(one.place)}>
                <span className="mono">{one.record.name}</span>
                <span className="dim"> line {number(one.place.line)}</span>
              </button>
              <Answers places={[one]} to={to} names={names} />
            </li>
          ))}
          {places.length > MOST && <li className="dim">and {number(places.length - MOST)} more</li>}
        </ul>
      )}
    </div>
  );
}

function Answers({ places, to, names }: { places: readonly LackingView[]; to: string; names: readonly string[] }) {
  const id = useId();
  const what = places.length === 1 ? `${to} in ${places[0]!.record.name}` : `${to} everywhere`;
  return (
    <span className="acts row">
      <button
        type="button"
        className="btn small plan"
        aria-label={`Leave out ${what}`}
        onClick={() =>
          tickRows(
            `Leave out ${count(places.length, 'place')} of ${to}`,
            places.map(({ record }) => record.path),
            false,
          )
        }
      >
        Leave out
      </button>
      {names.length > 0 && (
        <select
          id={id}
          className="field"
          aria-label={`Point ${what} to`}
          value=""
          onChange={(event) =>
            change(
              `Point ${to} to ${event.target.value}`,
              places.map((one) => repoint(one, event.target.value)),
            )
          }
        >
          <option value="">Point to…</option>
          {names.map((name) => (
            <option key={name}>{name}</option>
          ))}
        </select>
      )}
      <button
        type="button"
        className="btn small plan"
        aria-label={`Keep ${what}`}
        onClick={() =>
          change(
            `Keep ${to}`,
            places.map((one) => repoint(one, one.to)),
          )
        }
      >
        Keep
      </button>
    </span>
  );
}
