import { useMemo } from 'react';
import type { ReceiverLedger } from '../../core/index.ts';
import { resultOf, saidIn } from '../../state/results.ts';
import { useNewBox, useOpened, usePlan } from '../../state/selectors.ts';
import { Said } from '../../ui/said.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { Weight } from '../../ui/weight.tsx';
import { bundleWords } from '../../words/bundles.ts';
import { decisionName, knownNames } from '../../words/decisions.ts';
import { findingWords } from '../../words/findings.ts';
import { count, number } from '../../words/numbers.ts';
import { isOpen, weightNames, weightOf } from '../../words/weights.ts';
import { bundlesOf } from '../findings/bundles.ts';
import { cablesOf, cablingOf } from '../ports/cords.ts';
import { Cabling } from './cabling.tsx';

const MOST = 60;

/**
 * What goes with the file on the night: cabling, account, what was open, what you decided, cautions.
 * @param receiver the books of the new box's own file, for a graft.
 */
export function Paper({ receiver }: { receiver: ReceiverLedger | null }) {
  const { backup, view } = useOpened();
  const plan = usePlan();
  const newBox = useNewBox();
  const cables = useMemo(() => cablesOf(cablingOf(backup, view)), [backup, view]);
  const labels = new Map(newBox?.receiver.ports.map(({ name, label }) => [name, label]));
  const known = useMemo(() => knownNames(backup, view), [backup, view]);
  const { ledger } = view;
  const said = saidIn(plan);
  const open = bundlesOf(
    view.findings.filter((finding) => isOpen(finding) && weightOf(finding) !== 'note'),
    (finding) => finding,
  );
  const aside = view.findings.filter((finding) => !isOpen(finding));
  return (
    <Scroll className="paper" label="The sheet for the night">
      {cables.length > 0 && (
        <section>
          <h2>
            Cabling <span className="cap">one block for each cord you can hold</span>
          </h2>
          <Cabling cables={cables} labels={labels} />
        </section>
      )}
      <section>
        <h2>Account</h2>
        <Sums
          rows={[
            ['Carried as they were', ledger.carried],
            ['Carried with changes', ledger.changed],
            ['Left out', ledger.leftOut],
          ]}
          total={['Records of the old file, single settings counted as one each', ledger.records]}
          balances={ledger.balances}
        />
        {receiver && (
          <Sums
            rows={[
              ['Kept as they were', receiver.kept],
              ['Replaced, in whole or in part', receiver.replaced],
              ['Removed', receiver.removed],
            ]}
            total={[`Records of the new box’s own file, to which ${number(receiver.added)} come`, receiver.records]}
            balances={receiver.balances}
          />
        )}
      </section>
      <section className="care">
        <b>Take care</b>
        <ul>
          <li>
            Phones, lifts, alarms, gate and door locks, medical devices and payment terminals may sit behind this box.
            Ask who depends on it before you cut the line, and keep another way to call for help.
          </li>
          <li>Mains, racks and earthing: follow your local codes; licensed work stays with licensed people.</li>
          <li>
            The file holds passwords and keys. Carry it on a stick that you can lock, and delete it when the night is
            over.
          </li>
          <li>Never connect both boxes to one network at once: they have the same addresses.</li>
          <li>Keep the old box and its file until the new one has been used for a while. Nothing on it was changed.</li>
        </ul>
      </section>
      <section>
        <h2>Open when this was made</h2>
        {open.length === 0 ? (
          <p className="dim">Nothing.</p>
        ) : (
          <table>
            <tbody>
              {open.slice(0, MOST).map(({ key, items }) => (
                <tr key={key}>
                  <td className="nowrap">
                    <Weight weight={weightOf(items[0]!)}>{weightNames[weightOf(items[0]!)].name}</Weight>
                  </td>
                  <td>
                    <Said parts={items.length > 1 ? bundleWords(items) : findingWords(items[0]!).what} />
                  </td>
                  <td className="nowrap dim">
                    {items[0]!.place && `${items.length > 1 ? 'from ' : ''}line ${number(items[0]!.place.line)}`}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {open.length > MOST && <p className="dim">and {number(open.length - MOST)} more, on sheet 4</p>}
      </section>
      {aside.length > 0 && (
        <section>
          <h2>
            Set aside, with your reason <span className="cap">{count(aside.length, 'finding')}</span>
          </h2>
          <table>
            <tbody>
              {aside.slice(0, MOST).map((finding, at) => (
                <tr key={at}>
                  <td>
                    <Said parts={findingWords(finding).what} />
                    <div className="mine">{finding.aside?.reason}</div>
                  </td>
                  <td className="nowrap dim">{finding.place && `line ${number(finding.place.line)}`}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {aside.length > MOST && <p className="dim">and {number(aside.length - MOST)} more, on sheet 4</p>}
        </section>
      )}
      <section>
        <h2>
          What you decided <span className="cap">{count(said.length, 'decision')}</span>
        </h2>
        {said.length === 0 && (
          <p className="dim">
            {resultOf(plan) === 'whole' ? 'Nothing yet: the file goes across byte for byte.' : 'Nothing is ticked yet.'}
          </p>
        )}
        <ol className="decided">
          {said.slice(0, 4 * MOST).map((decision, at) => (
            <li key={at} className="mine">
              {at + 1}. {decisionName(decision, known)}
            </li>
          ))}
        </ol>
        {said.length > 4 * MOST && <p className="dim">and {number(said.length - 4 * MOST)} more, in the saved plan</p>}
      </section>
    </Scroll>
  );
}

/** A column of sums with its total. */
function Sums({
  rows,
  total,
  balances,
}: {
  rows: readonly (readonly [what: string, amount: number])[];
  total: readonly [what: string, amount: number];
  balances: boolean;
}) {
  return (
    <table className="sums">
      <tbody>
        {rows.map(([what, amount]) => (
          <tr key={what}>
            <td>{what}</td>
            <td>{number(amount)}</td>
          </tr>
        ))}
        <tr className={balances ? 'total-row' : 'wrong'}>
          <td>{total[0]}</td>
          <td>{number(total[1])}</td>
        </tr>
      </tbody>
    </table>
  );
}
