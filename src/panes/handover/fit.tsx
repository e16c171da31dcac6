import type { Fit, FitEntry } from '../../core/index.ts';
import { fit } from '../../state/carry.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { fitWords } from '../../words/carry.ts';
import { decisionName } from '../../words/decisions.ts';
import { count, number, verb } from '../../words/numbers.ts';
import { useAsked } from '../carry/use-asked.ts';

const MOST = 20;

/** How the loaded plan meets this backup: what is applied, what is in doubt, what no longer fits. */
export function PlanFit() {
  const { id } = useOpened();
  const plan = usePlan();
  const met = useAsked<Fit>(() => fit(plan), [id, plan]);
  if (!met || met.sameFile || met.fits.length + met.check.length + met.gone.length === 0) return null;
  return (
    <div role="status">
      <p>
        It was not made for this very file. {count(met.fits.length, 'decision')} {verb(met.fits.length, 'fits', 'fit')}{' '}
        this one.
      </p>
      <Entries title="Applied, but look at them" entries={met.check} />
      <Entries title="No longer fit, and do nothing" entries={met.gone} />
    </div>
  );
}

function Entries({ title, entries }: { title: string; entries: readonly FitEntry[] }) {
  if (entries.length === 0) return null;
  return (
    <>
      <h4>{title}</h4>
      <ul className="dim">
        {entries.slice(0, MOST).map(({ decision, reason }, at) => (
          <li key={at}>
            {decisionName(decision)}: {fitWords[reason]}
          </li>
        ))}
      </ul>
      {entries.length > MOST && <p className="dim">and {number(entries.length - MOST)} more</p>}
    </>
  );
}
