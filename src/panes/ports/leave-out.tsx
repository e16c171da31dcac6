import { useEffect, useState } from 'react';
import type { DependentsView, DependentView } from '../../core/index.ts';
import { tickRows } from '../../state/carry.ts';
import { dependents } from '../../state/open.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { count, number } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';
import { type Cord, roleTitle } from './cords.ts';
import { KindOfRecord, Places } from './follows.tsx';

/** Dependents of one kind that are told one by one. */
const MOST = 40;

/** Leaves a role out after showing what would miss it, or carries it again. */
export function LeaveOut({ cord, onLook }: { cord: Cord; onLook: (place: SourcePlace) => void }) {
  const plan = usePlan();
  const { view } = useOpened();
  const { path } = cord.state;
  const [missing, setMissing] = useState<DependentsView | null | 'failed'>(null);
  const [asking, setAsking] = useState(false);
  // What needs what hangs on the reading alone, which the worker makes by the plan's corrections.
  const corrections = JSON.stringify(plan.decisions.filter(({ kind }) => kind === 'correct'));
  useEffect(() => {
    let late = false;
    dependents({ file: null, decisions: JSON.parse(corrections) }, path).then(
      (view) => !late && setMissing(view ?? 'failed'),
      () => !late && setMissing('failed'),
    );
    return () => {
      late = true;
    };
  }, [corrections, path]);
  if (!cord.state.goes) {
    return (
      <button
        type="button"
        className="btn small plan"
        onClick={() => tickRows(`Carry ${roleTitle(cord.role)}`, [path], true)}
      >
        Carry it again
      </button>
    );
  }
  const stay = new Set(view.ledger.entries.flatMap((entry) => (entry.state === 'left-out' ? entry.path : [])));
  const all = missing !== null && missing !== 'failed' ? missing.all.filter((one) => !stay.has(one.path)) : [];
  return (
    <>
      <button type="button" className="btn small plan" onClick={() => setAsking(true)}>
        Leave out{all.length > 0 ? `, with ${number(all.length)}…` : '…'}
      </button>
      {asking && (
        <Slip
          cord={cord}
          all={all}
          known={missing !== null && missing !== 'failed'}
          onClose={() => setAsking(false)}
          onLook={(place) => {
            setAsking(false);
            onLook(place);
          }}
        />
      )}
    </>
  );
}

function Slip({
  cord,
  all,
  known,
  onClose,
  onLook,
}: {
  cord: Cord;
  all: readonly DependentView[];
  known: boolean;
  onClose: () => void;
  onLook: (place: SourcePlace) => void;
}) {
  const title = roleTitle(cord.role);
  const kinds = new Map<string, DependentView[]>();
  for (const one of all) {
    const kind = kinds.get(one.collection);
    if (kind) kind.push(one);
    else kinds.set(one.collection, [one]);
  }
  const leave = (name: string, paths: readonly string[]) => {
    tickRows(name, paths, false);
    onClose();
  };
  return (
    <Dialog
      title={`Leave out ${title}?`}
      onClose={onClose}
      footer={
        <button type="button" className="btn" onClick={onClose}>
          Carry it
        </button>
      }
    >
      {!known && (
        <p>What needs it could not be worked out. The role itself can be left out; look at the findings then.</p>
      )}
      {known && all.length === 0 && <p>Nothing in this file needs it.</p>}
      {all.length > 0 && (
        <>
          <p>{count(all.length, 'entry', 'entries')} would point at nothing without it, or without one another:</p>
          <ul className="lines follows">
            {[...kinds].map(([collection, members]) => (
              <li key={collection}>
                <details>
                  <summary>
                    <KindOfRecord collection={collection} />
                    <span className="dim names">
                      {members
                        .slice(0, 3)
                        .map(({ name }) => name)
                        .join(', ')}
                    </span>
                    <b className="amount">{number(members.length)}</b>
                  </summary>
                  <Places
                    places={members.slice(0, MOST).map(({ place }) => place)}
                    more={members.length - MOST}
                    onLook={onLook}
                  />
                </details>
              </li>
            ))}
          </ul>
        </>
      )}
      <div>
        {all.length > 0 && (
          <button
            type="button"
            className="opt"
            onClick={() =>
              leave(`Leave out ${title}, with ${count(all.length, 'other')}`, [
                cord.state.path,
                ...all.map(({ path }) => path),
              ])
            }
          >
            <b>Leave all {number(all.length + 1)} out</b>
            <span className="dim">No reference is cut by it. One step, and one step back.</span>
          </button>
        )}
        <button type="button" className="opt" onClick={() => leave(`Leave out ${title}`, [cord.state.path])}>
          <b>Leave out {title} alone</b>
          <span className="dim">
            {all.length > 0
              ? 'What names it goes across and points at nothing. Each place stands on sheet 4 as a finding.'
              : 'Its record stays behind.'}
          </span>
        </button>
      </div>
    </Dialog>
  );
}
