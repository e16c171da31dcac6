import { useSyncExternalStore } from 'react';
import { requests } from '../platform/requests.ts';
import { redo, undo } from '../state/decide.ts';
import { startDescribing } from '../state/new-box.ts';
import { saidIn } from '../state/results.ts';
import { type Opened, openedOf, useDesk } from '../state/session.ts';
import { Weight } from '../ui/weight.tsx';
import { count, number, verb } from '../words/numbers.ts';
import { isOpen, weightNames, weightOf, weights } from '../words/weights.ts';
import type { DialogName } from './app.tsx';

/** Which job this is and how it stands, on every sheet: always the same seven cells. */
export function TitleBlock({ onDialog }: { onDialog: (dialog: DialogName) => void }) {
  const opened = useDesk((state) => openedOf(state.session));
  const { elsewhere } = useSyncExternalStore(requests.subscribe, requests.now);
  const { present, future } = useDesk((state) => state.history);
  const all = saidIn(present.plan).length;
  return (
    <footer className="block">
      <div>
        <span className="cap">Old box</span>
        {opened ? <OldBox opened={opened} /> : <Blank />}
      </div>
      <div>
        <span className="cap">New box</span>
        {opened ? <NewBox opened={opened} /> : <Blank />}
      </div>
      <div>
        <span className="cap">Your last decision{all > 0 && `, ${number(all)} in all`}</span>
        {present.name ? (
          <div className="v mine" title={present.name}>
            {present.name}
          </div>
        ) : (
          <Blank />
        )}
        <div className="ways">
          {present.name && (
            <button type="button" className="link" onClick={undo}>
              Undo
            </button>
          )}
          {future.length > 0 && (
            <button type="button" className="link" onClick={redo} title={future[0]!.name}>
              Do again
            </button>
          )}
        </div>
      </div>
      <div>
        <span className="cap">Ledger, records of the old file</span>
        {opened ? <Ledger opened={opened} /> : <Blank />}
      </div>
      <div>
        <span className="cap">Open findings</span>
        {opened ? <OpenFindings opened={opened} /> : <Blank />}
      </div>
      <div>
        <span className="cap">Sent from this page</span>
        <div className={`v ${elsewhere.length ? 'wrong' : ''}`}>
          <b>{number(elsewhere.length)}</b> <span className="dim">{verb(elsewhere.length, 'request', 'requests')}</span>
        </div>
        <button type="button" className="link" onClick={() => onDialog({ name: 'check' })}>
          How to check
        </button>
      </div>
      <div>
        <button
          type="button"
          className="btn next"
          aria-disabled={!opened}
          onClick={() => opened && useDesk.setState({ sheet: 'handover' })}
        >
          Download
        </button>
      </div>
    </footer>
  );
}

const Blank = () => <span className="blank" />;

function OldBox({ opened }: { opened: Opened }) {
  const { backup, file } = opened;
  const alone = backup.ports.filter((port) => port.parent === null);
  const physical = alone.filter((port) => port.kind === 'physical');
  const ports = physical.length ? physical : alone;
  return (
    <>
      <div className="v">
        {backup.about.host ?? backup.root}{' '}
        <span className="mono dim">
          {ports[0]?.name}
          {ports.length > 1 && `–${ports.at(-1)!.name}`}
        </span>
      </div>
      <div className="mono dim file" title={file.name}>
        {file.name}
      </div>
    </>
  );
}

function NewBox({ opened }: { opened: Opened }) {
  const newBox = useDesk((state) => state.newBox);
  const { ports } = opened.view;
  const moved = ports.filter((port) => port.to !== port.from).length;
  if (newBox) {
    const { receiver, from } = newBox;
    const sockets = receiver.ports.filter(({ kind }) => kind === 'physical' || kind === 'aggregate').length;
    return (
      <>
        <div className="v">
          {receiver.name || 'New box'} <span className="dim">{count(sockets, 'port')}</span>
        </div>
        <div className="mono dim file" title={from}>
          {from}
        </div>
      </>
    );
  }
  return (
    <>
      <div className="v">
        {moved > 0 ? (
          <span className="mine">
            {moved} of {count(ports.length, 'port')} moved
          </span>
        ) : (
          <span className="dim">Ports as on the old box</span>
        )}
      </div>
      <button type="button" className="link" onClick={() => startDescribing()}>
        Describe it
      </button>
    </>
  );
}

function Ledger({ opened }: { opened: Opened }) {
  const { ledger } = opened.view;
  const mine = (amount: number) => (amount ? 'mine' : undefined);
  return (
    <>
      <div className="account-sum">
        <span className={ledger.balances ? 'total' : undefined}>
          <b>{number(ledger.records)}</b>
        </span>
        <span> = </span>
        <b>{number(ledger.carried)}</b>
        <span className="dim"> as they were</span>
        <span> + </span>
        <b className={mine(ledger.changed)}>{number(ledger.changed)}</b>
        <span className="dim"> changed</span>
        <span> + </span>
        <b className={mine(ledger.leftOut)}>{number(ledger.leftOut)}</b>
        <span className="dim"> left out</span>
      </div>
      <div className={ledger.balances ? 'cap' : 'cap wrong'}>
        {ledger.balances
          ? 'It balances. Every record is in one place.'
          : 'It does not balance, so nothing can be downloaded.'}
      </div>
    </>
  );
}

function OpenFindings({ opened }: { opened: Opened }) {
  const findings = opened.view.findings.filter(isOpen);
  return (
    <>
      <div className="v weights">
        {findings.length === 0 && <span className="dim">none</span>}
        {weights.map((weight) => {
          const amount = findings.filter((finding) => weightOf(finding) === weight).length;
          return (
            amount > 0 && (
              <Weight key={weight} weight={weight}>
                {number(amount)}
                <span className="spoken"> {weightNames[weight].name}</span>
              </Weight>
            )
          );
        })}
      </div>
      {findings.length > 0 && (
        <button type="button" className="link" onClick={() => useDesk.setState({ sheet: 'findings' })}>
          See the worst first
        </button>
      )}
    </>
  );
}
