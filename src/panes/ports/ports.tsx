import { useMemo, useState } from 'react';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { Choice } from '../../ui/controls.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { Weight } from '../../ui/weight.tsx';
import { count, list } from '../../words/numbers.ts';
import { type SourcePlace, SourceView } from '../source/source-view.tsx';
import { Bay } from './bay.tsx';
import { cordsOf, nameTrouble, type PortRow, portRows, roleTitle } from './cords.ts';
import { PortField } from './port-field.tsx';
import { PortTable } from './port-table.tsx';
import './ports.css';
import { isAPort, keepAll, putInOrder, putOn } from './use-ports.ts';

/** Beyond these a drawing no longer helps. */
const MOST_CORDS = 24;
const MOST_PORTS = 24;

export default function Ports() {
  const { backup, view } = useOpened();
  usePlan();
  const rows = useMemo(() => portRows(backup, view), [backup, view]);
  const cords = rows.flatMap(cordsOf);
  const drawable = cords.length <= MOST_CORDS && rows.length <= MOST_PORTS && rows.length > 0;
  const [how, setHow] = useState<'drawing' | 'table'>(drawable ? 'drawing' : 'table');
  const [no, setNo] = useState<number | null>(null);
  const [place, setPlace] = useState<SourcePlace | null>(null);
  const row = rows.find((one) => cordsOf(one).some((cord) => cord.no === no)) ?? null;
  const shown = drawable ? how : 'table';
  return (
    <div className="pane">
      <SheetHead
        no={2}
        title="Ports"
        acts={
          rows.length > 0 && (
            <>
              <InOrder rows={rows} />
              {drawable && (
                <Choice
                  label="Look"
                  options={[
                    ['drawing', 'Drawing'],
                    ['table', 'Table'],
                  ]}
                  chosen={how}
                  onChoose={setHow}
                />
              )}
            </>
          )
        }
      >
        {state(rows, cords.length)}
      </SheetHead>
      {rows.length === 0 ? (
        <div className="quiet-note">
          <p>
            No value in this file looks like a network port, so there is nothing to move here. Everything else works
            without.
          </p>
          <Missing />
        </div>
      ) : (
        <div className="ports">
          {shown === 'drawing' ? (
            <Bay rows={rows} host={backup.about.host ?? ''} chosen={no} onChoose={setNo} />
          ) : (
            <div className="scroll">
              <PortTable rows={rows} onLook={setPlace} />
            </div>
          )}
          <Scroll as="aside" className="side" label="About the chosen role">
            {place && <SourceView place={place} onClose={() => setPlace(null)} />}
            {!place && row && no !== null && <Chosen row={row} rows={rows} no={no} onLook={setPlace} />}
            {!place && <Settle rows={rows} />}
            {!place && (
              <HowItWorks portless={backup.roles.filter((role) => role.port === null).map((role) => roleTitle(role))} />
            )}
          </Scroll>
        </div>
      )}
    </div>
  );
}

function state(rows: readonly PortRow[], roles: number): string {
  if (rows.length === 0) return 'No port was found.';
  const moved = rows.filter((row) => row.to !== row.name).length;
  const clashing = new Set(rows.filter((row) => row.clashes.length).map((row) => row.to)).size;
  const first = `${count(roles, 'role')} on ${count(rows.length, 'port')}.`;
  const second = moved
    ? `${moved} of them moved.`
    : 'Say which port each is on the new box; where nothing changes, leave it.';
  const third = clashing ? ` ${count(clashing, 'name')} would be given twice.` : '';
  return `${first} ${second}${third}`;
}

/** Names for every port at once, counted up from the first. */
function InOrder({ rows: all }: { rows: readonly PortRow[] }) {
  const physical = all.filter((row) => row.kind === 'physical');
  const rows = physical.length ? physical : all;
  const [first, setFirst] = useState('');
  const ready = first.trim() !== '' && nameTrouble(first.trim()) === null;
  const moved = all.some((row) => row.to !== row.name);
  return (
    <form
      className="order"
      onSubmit={(event) => {
        event.preventDefault();
        if (ready) putInOrder(rows, first);
      }}
    >
      <label className="cap" htmlFor="first-port">
        By order from
      </label>
      <input
        id="first-port"
        className="field"
        placeholder="ix0"
        spellCheck={false}
        autoComplete="off"
        value={first}
        onChange={(event) => setFirst(event.target.value)}
      />
      <button type="submit" className="btn small plan" aria-disabled={!ready}>
        Name all {rows.length}
      </button>
      {moved && (
        <button type="button" className="btn small plan" onClick={() => keepAll(all)}>
          Keep all as they were
        </button>
      )}
    </form>
  );
}

function Chosen({
  row,
  rows,
  no,
  onLook,
}: {
  row: PortRow;
  rows: readonly PortRow[];
  no: number;
  onLook: (place: SourcePlace) => void;
}) {
  const device = row.devices.find((one) => one.roles.some((cord) => cord.no === no))!;
  const { role } = device.roles.find((cord) => cord.no === no)!;
  const others = cordsOf(row).length - 1;
  return (
    <>
      <section>
        <div className="cap">Role on cord {no}</div>
        <h2>{roleTitle(role)}</h2>
        <dl className="facts">
          <dt>Named</dt>
          <dd className="mono">{role.name}</dd>
          <dt>Address</dt>
          <dd className="mono">{role.address ?? <span className="dim">none in its record</span>}</dd>
          <dt>Was on</dt>
          <dd className="mono">{device.name}</dd>
          <dt>Goes to</dt>
          <dd className={`mono ${device.to === device.name ? '' : 'mine'}`}>{device.to}</dd>
        </dl>
        <div className="cap put">
          Put {row.name} {others > 0 ? `with its ${count(others + 1, 'role')} ` : ''}on
        </div>
        <PortField key={row.name} row={row} rows={rows} onDecide={(to) => putOn(row, to)} />
        <button type="button" className="link" onClick={() => onLook(role.place)}>
          Look at its record, line {role.place.line}
        </button>
      </section>
      <section>
        <h3>What follows it</h3>
        <ul className="lines">
          <li>
            <span>Places that name {row.name}</span>
            <b>{row.mentions}</b>
          </li>
          {role.namedBy.map(({ section, count: amount }) => (
            <li key={section}>
              <span>
                Names the role, in <code>{section || 'the file'}</code>
              </span>
              <b>{amount}</b>
            </li>
          ))}
          {role.namedBy.length === 0 && <li className="dim">No record names the role.</li>}
        </ul>
      </section>
    </>
  );
}

function Settle({ rows }: { rows: readonly PortRow[] }) {
  const clashes = new Map<string, string[]>();
  for (const row of rows) if (row.clashes.length) clashes.set(row.to, [...(clashes.get(row.to) ?? []), row.name]);
  if (clashes.size === 0) return null;
  return (
    <section className="quiet">
      <h3>Still to settle on this sheet</h3>
      {[...clashes].map(([to, from]) => (
        <p key={to}>
          <Weight weight="stop" /> <code>{to}</code> would hold {list(from)}. Give one of them another port, or let them
          change places.
        </p>
      ))}
    </section>
  );
}

function HowItWorks({ portless }: { portless: readonly string[] }) {
  return (
    <section className="quiet grow">
      <h3>How a port moves</h3>
      <p>
        Give a port its new name, and every place that names it follows: its tagged devices, groups, roles, rules. All
        names change at once, so two ports can change places. Free remarks stay as they are; they are listed on sheet 4.
      </p>
      {portless.length > 0 && (
        <p>
          {portless.length === 1 ? 'One role sits' : `${portless.length} roles sit`} on no port: {list(portless, 6)}.
        </p>
      )}
      <Missing />
    </section>
  );
}

/** A port that the reading did not find, told by a person. */
function Missing() {
  const [name, setName] = useState('');
  const ready = name.trim() !== '';
  return (
    <form
      className="missing"
      onSubmit={(event) => {
        event.preventDefault();
        if (!ready) return;
        isAPort(name.trim());
        setName('');
      }}
    >
      <label className="cap" htmlFor="missing-port">
        A port is missing? Its name in the old file
      </label>
      <span className="row">
        <input
          id="missing-port"
          className="field missing-name"
          spellCheck={false}
          autoComplete="off"
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
        <button type="submit" className="btn small plan" aria-disabled={!ready}>
          It is a port
        </button>
      </span>
    </form>
  );
}
