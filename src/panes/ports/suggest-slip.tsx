import { useEffect, useState } from 'react';
import type { Receiver, SuggestBy } from '../../core/index.ts';
import { suggest } from '../../state/open.ts';
import { usePlan } from '../../state/selectors.ts';
import { Tick } from '../../ui/controls.tsx';
import { Dialog } from '../../ui/dialog.tsx';
import { Said } from '../../ui/said.tsx';
import { count, number } from '../../words/numbers.ts';
import { nothingBy, reasonOf, suggestNames } from '../../words/receiver.ts';
import type { Suggestions } from '../../worker/protocol.ts';
import type { PortRow } from './cords.ts';
import { renameStep } from './moves.ts';
import { take } from './use-ports.ts';

const ways = Object.keys(suggestNames) as SuggestBy[];

/** Pairs of old ports and new ones to look at; nothing is decided before the press. */
export function SuggestSlip({
  receiver,
  rows,
  onClose,
}: {
  receiver: Receiver;
  rows: readonly PortRow[];
  onClose: () => void;
}) {
  const plan = usePlan();
  const [found, setFound] = useState<Suggestions | 'failed' | null>(null);
  const [chosen, setChosen] = useState<SuggestBy | null>(null);
  const [without, setWithout] = useState<ReadonlySet<string>>(new Set());
  useEffect(() => {
    let late = false;
    suggest(plan, receiver).then(
      (suggestions) => !late && setFound(suggestions),
      () => !late && setFound('failed'),
    );
    return () => {
      late = true;
    };
  }, [plan, receiver]);
  const known = found === null || found === 'failed' ? null : found;
  const by = chosen ?? ways.find((way) => known && known.by[way].length > 0) ?? null;
  const pairs = (known && by && known.by[by]) || [];
  const now = new Map(rows.map(({ name, to }) => [name, to]));
  const taken = pairs.filter(({ from, to }) => !without.has(from) && now.get(from) !== to && now.has(from));
  const moved = taken.length;
  return (
    <Dialog
      title="Which port goes where? Suggestions to look at"
      onClose={onClose}
      footer={
        <>
          <button
            type="button"
            className="btn next plan"
            aria-disabled={moved === 0}
            onClick={() => {
              if (moved === 0 || by === null) return;
              take(renameStep(`Put ${count(moved, 'port')} on the new box’s, ${suggestNames[by]}`, taken));
              onClose();
            }}
          >
            {moved > 0 ? `Take ${moved === 1 ? 'this one' : `these ${number(moved)}`}` : 'Nothing to take'}
          </button>
          <button type="button" className="btn" onClick={onClose}>
            Close
          </button>
        </>
      }
    >
      {found === 'failed' && (
        <p role="alert">No suggestion could be made. That is our fault; name the ports by hand.</p>
      )}
      {found === null && <p className="dim">Comparing both boxes.</p>}
      {known && (
        <>
          {/* biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be laid out as a row in every browser */}
          <div className="seg wide" role="group" aria-label="Suggest">
            {ways.map((way) => {
              const amount = known.by[way].length;
              return (
                <button
                  key={way}
                  type="button"
                  aria-pressed={way === by}
                  aria-disabled={amount === 0}
                  aria-describedby={amount === 0 ? `nothing-${way}` : undefined}
                  onClick={() => {
                    if (amount === 0) return;
                    setChosen(way);
                    setWithout(new Set());
                  }}
                >
                  {suggestNames[way]} <span className="cap">{amount > 0 ? number(amount) : 'none'}</span>
                </button>
              );
            })}
          </div>
          <ul className="nothing dim small">
            {ways
              .filter((way) => known.by[way].length === 0)
              .map((way) => (
                <li key={way} id={`nothing-${way}`}>
                  Nothing {suggestNames[way]}: {nothingBy(way, known.old, receiver.ports)}.
                </li>
              ))}
          </ul>
          {by && (
            <div className="slip-list">
              <table className="list">
                <caption className="spoken">Pairs {suggestNames[by]}</caption>
                <thead>
                  <tr>
                    <th scope="col">
                      <span className="spoken">Take</span>
                    </th>
                    <th scope="col">Old port</th>
                    <th scope="col">New port</th>
                    <th scope="col">Because</th>
                  </tr>
                </thead>
                <tbody>
                  {pairs.map((pair) => {
                    const same = now.get(pair.from) === pair.to;
                    return (
                      <tr key={pair.from}>
                        <td>
                          {!same && (
                            <Tick
                              state={without.has(pair.from) ? 'off' : 'on'}
                              label={`Put ${pair.from} on ${pair.to}`}
                              onChange={(on) => {
                                const next = new Set(without);
                                if (on) next.delete(pair.from);
                                else next.add(pair.from);
                                setWithout(next);
                              }}
                            />
                          )}
                        </td>
                        <th scope="row" className="mono">
                          {pair.from}
                        </th>
                        <td className={`mono ${same ? 'dim' : 'mine'}`}>{pair.to}</td>
                        <td className="dim">
                          <Said parts={reasonOf(pair)} />
                          {same && ', as it is now'}
                        </td>
                      </tr>
                    );
                  })}
                </tbody>
              </table>
            </div>
          )}
          {by && pairs.length < rows.length && (
            <p className="dim small">
              {count(rows.length - pairs.length, 'port')} of the old box{' '}
              {rows.length - pairs.length === 1 ? 'stays as it is' : 'stay as they are'}.
            </p>
          )}
        </>
      )}
    </Dialog>
  );
}
