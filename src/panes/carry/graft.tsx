import { type ReactNode, useEffect } from 'react';
import type { GraftState, GraftView, Part, PickView, Trouble } from '../../core/index.ts';
import { changePart, partOf, putAway, receive } from '../../state/carry.ts';
import { usePlan } from '../../state/selectors.ts';
import { type Arriving, useDesk } from '../../state/session.ts';
import { Tick } from '../../ui/controls.tsx';
import { Said } from '../../ui/said.tsx';
import { Weight } from '../../ui/weight.tsx';
import { count, number, verb } from '../../words/numbers.ts';
import { placeWords, troubleWords } from '../../words/trouble.ts';
import type { SourcePlace } from '../source/source-view.tsx';
import { Clashes } from './clashes.tsx';
import './graft.css';
import { openReceiver } from './results.tsx';
import { Standings } from './standing.tsx';

const MOST = 30;

/** Where what is ticked goes, and what both boxes have. */
export function Graft({
  state,
  onLook,
  children,
}: {
  state: GraftState | null;
  onLook: (place: SourcePlace) => void;
  /** Stands above the books, where things to take are offered. */
  children?: ReactNode;
}) {
  const into = useDesk((desk) => desk.into);
  const arriving = useDesk((desk) => desk.arriving);
  const backup = useDesk((desk) => desk.newBox?.backup);
  useEffect(() => {
    if (!into && !arriving && backup) receive(backup);
  }, [into, arriving, backup]);
  if (!into || !state || state.state === 'no-receiver') return <Receive arriving={arriving} />;
  return (
    <>
      <section className="into">
        <p className="cap">Goes into</p>
        <div className="row">
          <h2 className="mono">{into.name}</h2>
          <span className="dim">
            {into.host && `${into.host}, `}
            {count(into.entries, 'record')}
          </span>
          <span className="acts row">
            <button type="button" className="btn small" onClick={openReceiver}>
              Open another…
            </button>
            <button type="button" className="btn small" onClick={putAway}>
              Put it away
            </button>
          </span>
        </div>
        {into.same && (
          <p role="status">
            <Weight weight="note">This is the old box’s own backup</Weight> Both files say the same, so a graft changes
            nothing but the ports and values that you set.
          </p>
        )}
        {!into.same && into.sectionsOnly && (
          <p role="status">
            <Weight weight="check">It is written in another form</Weight> It shares {Math.floor(into.kin * 100)} percent
            of the old backup’s form. Only whole sections can go over, and nothing comes along by itself: tick the
            sections that hold what they need. Check them on the new box before it is in use.
          </p>
        )}
        {arriving && <Arrives arriving={arriving} />}
      </section>
      {state.state === 'refused' ? (
        <>
          <section>
            <Refused trouble={state.trouble} quiet={state.trouble.code === 'graft-nothing-picked'} />
          </section>
          {children}
        </>
      ) : (
        <Planned view={state} onLook={onLook}>
          {children}
        </Planned>
      )}
    </>
  );
}

function Receive({ arriving }: { arriving: Arriving | null }) {
  const busy = arriving !== null && arriving.trouble === null;
  return (
    <section className="into">
      <h2>A graft needs the new box’s own backup</h2>
      <p>
        What you tick is put into that file; everything else in it stays as it is. Save a backup on the new box, then
        open it here. It stays on this computer, too.
      </p>
      <div className="row">
        <button type="button" className="btn next" aria-disabled={busy} onClick={busy ? undefined : openReceiver}>
          Open the new box’s backup…
        </button>
      </div>
      {arriving && <Arrives arriving={arriving} />}
    </section>
  );
}

function Arrives({ arriving: { name, trouble } }: { arriving: Arriving }) {
  if (trouble) return <Refused trouble={trouble} />;
  return (
    <p role="status">
      Reading <span className="mono">{name}</span>.
    </p>
  );
}

function Refused({ trouble, quiet = false }: { trouble: Trouble; quiet?: boolean }) {
  const { title, sentence, advice } = troubleWords(trouble);
  const place = placeWords(trouble);
  return (
    <div className={quiet ? undefined : 'refusal'} role={quiet ? 'status' : 'alert'}>
      <b>{quiet ? title : <Weight weight="stop">{title}</Weight>}</b>
      <p>
        <Said parts={sentence} /> {place && `It is at ${place}.`}
      </p>
      <p className="dim">{advice}</p>
    </div>
  );
}

function Planned({
  view,
  onLook,
  children,
}: {
  view: GraftView;
  onLook: (place: SourcePlace) => void;
  children: ReactNode;
}) {
  const part = partOf(usePlan());
  const { ledger, along, loose, stays } = view;
  return (
    <>
      <Clashes clashes={view.clashes} into={view.receiver.name} />
      {loose.length > 0 && (
        <section>
          <h3>
            <Weight weight="break">{count(loose.length, 'name')} would lead nowhere on the new box</Weight>
          </h3>
          <ul className="lines">
            {loose.slice(0, MOST).map((one) => (
              <li key={`${one.place.path} ${one.value}`}>
                <span>
                  <span className="mono">{one.record.name}</span> names <span className="mono">{one.value}</span>
                </span>
                <button type="button" className="link nowrap" onClick={() => onLook(one.place)}>
                  line {number(one.place.line)}
                </button>
              </li>
            ))}
          </ul>
          {loose.length > MOST && <p className="dim">and {number(loose.length - MOST)} more</p>}
        </section>
      )}
      {!view.receiver.sectionsOnly && (
        <section>
          <div className="told">
            <Tick
              state={part.withNeeds ? 'on' : 'off'}
              label="Take along what it needs and the new box lacks"
              onChange={(on) =>
                changePart(on ? 'Take along what the new box lacks' : 'Take along only what is ticked', {
                  withNeeds: on,
                })
              }
            />
            <span>Take along what it needs and the new box lacks</span>
          </div>
          {along.length > 0 && (
            <p className="dim">
              {count(along.length, 'record')} {verb(along.length, 'comes', 'come')} along:{' '}
              <span className="mono">
                {along
                  .slice(0, 8)
                  .map(({ name }) => name)
                  .join(', ')}
              </span>
              {along.length > 8 && ` and ${number(along.length - 8)} more`}
            </p>
          )}
        </section>
      )}
      <Picks view={view} part={part} />
      <Standings standings={view.standings} />
      {children}
      <section>
        <h3>The new box’s records afterwards</h3>
        <table className="books">
          <tbody>
            <tr>
              <td>Kept as they are</td>
              <td>{number(ledger.kept)}</td>
            </tr>
            <tr>
              <td>Replaced, whole or in part</td>
              <td>{number(ledger.replaced)}</td>
            </tr>
            <tr>
              <td>Removed</td>
              <td>{number(ledger.removed)}</td>
            </tr>
            <tr className={ledger.balances ? 'sum' : 'wrong'}>
              <td>{ledger.balances ? 'Records of its backup' : 'Records of its backup; the sum does not balance'}</td>
              <td>{number(ledger.records)}</td>
            </tr>
            <tr>
              <td>Come to them</td>
              <td className="mine">{number(ledger.added)}</td>
            </tr>
          </tbody>
        </table>
        {stays > 0 && (
          <p className="dim">
            {count(stays, 'setting')} bound to its own hardware {verb(stays, 'stays', 'stay')} as on the new box.
          </p>
        )}
      </section>
    </>
  );
}

const ways: Record<PickView['mode'], readonly [short: string, long: string]> = {
  merge: ['Merge', 'what both boxes have by key is replaced, the rest is added'],
  add: ['Add', 'what the new box has stays, the rest is added'],
  replace: ['Replace', 'nothing of the new box’s own stays in it'],
};

/** How each thing that is ticked meets what is there. */
function Picks({ view: { picks, picksTotal }, part }: { view: GraftView; part: Part }) {
  const used = new Set(picks.map(({ mode }) => mode));
  return (
    <section aria-label="What goes in">
      <h3>What goes in, and how it meets what is there</h3>
      <ul className="lines picks">
        {picks.slice(0, MOST).map(({ path, name, section, mode, spread }) => (
          <li key={path}>
            <span>
              <span className="mono">{name}</span>
              {section && <span className="dim">, in {section}</span>}
            </span>
            <select
              className="field text"
              aria-label={`How ${name} meets what is there`}
              value={mode}
              onChange={(event) =>
                changePart(`${ways[event.target.value as PickView['mode']][0]} ${name}`, {
                  modes: { ...part.modes, [path]: event.target.value as PickView['mode'] },
                })
              }
            >
              {Object.entries(ways)
                .filter(([one]) => one !== 'replace' || !spread)
                .map(([one, [short]]) => (
                  <option key={one} value={one}>
                    {short}
                  </option>
                ))}
            </select>
          </li>
        ))}
      </ul>
      {picksTotal > MOST && <p className="dim">and {number(picksTotal - MOST)} more</p>}
      <p className="dim">
        {Object.entries(ways)
          .filter(([mode]) => used.has(mode as PickView['mode']))
          .map(([, [short, long]]) => `${short}: ${long}.`)
          .join(' ')}
      </p>
    </section>
  );
}
