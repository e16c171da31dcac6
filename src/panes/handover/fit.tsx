import type { FitEntry, FitPartView } from '../../core/index.ts';
import { useMet } from '../../state/selectors.ts';
import { fitWords } from '../../words/carry.ts';
import { decisionName } from '../../words/decisions.ts';
import { count, list, number, verb } from '../../words/numbers.ts';

const MOST = 20;

/** How a plan that was made for another backup met this one: what is applied, what is in doubt, what is gone, what is new. */
export function PlanFit() {
  const fit = useMet();
  if (!fit) return null;
  const { fits, moved, check, gone, sections, collections } = fit;
  if (fit.sameFile && gone.length === 0) return null;
  const parts = [...sections.filter(isWhole), ...collections];
  return (
    <div role="status" className="plan-fit">
      <p>
        {fit.sameFile ? 'Made for this very file.' : 'Made for another backup.'} {count(fits.length, 'decision')}{' '}
        {verb(fits.length, 'fits', 'fit')} and {verb(fits.length, 'is', 'are')} applied
        {moved.length > 0 &&
          `, ${number(moved.length)} of them where ${verb(moved.length, 'its', 'their')} record now stands`}
        .
      </p>
      <Entries title="Applied, but look at them" entries={check} />
      <Entries title="No longer fit, and do nothing" entries={gone} />
      {!fit.sameFile && parts.length > 0 && (
        <>
          <h4>New since then, and gone</h4>
          <ul className="dim">
            {parts.slice(0, MOST).map((part) => (
              <li key={part.name}>
                <b>{part.name}</b>: {changeWords(part)}
              </li>
            ))}
          </ul>
          {parts.length > MOST && <p className="dim">and {number(parts.length - MOST)} more lists</p>}
        </>
      )}
      {!fit.sameFile && parts.length === 0 && <p className="dim">No record is new or gone since then.</p>}
    </div>
  );
}

/** Sections that are only larger or smaller show in their lists. */
const isWhole = ({ before, now }: FitPartView) => before === null || now === null;

function changeWords({ before, now, added, addedTotal, removed, keyed }: FitPartView): string {
  if (now === null) return `gone, with ${count(before ?? 0, 'record')}`;
  const told =
    added.length > 0
      ? `: ${list(added.map(({ name }) => name))}${addedTotal! > added.length ? ` and ${number(addedTotal! - added.length)} more` : ''}`
      : '';
  if (before === null) return `new, with ${count(now, 'record')}${told}`;
  if (addedTotal === null) return `${number(now)} now, ${number(before)} then`;
  const parts = [
    addedTotal > 0 && `${number(addedTotal)} ${keyed ? 'new' : 'new or changed'}${told}`,
    removed !== null && removed > 0 && `${number(removed)} ${keyed ? 'gone' : 'gone or changed'}`,
  ].filter(Boolean);
  return parts.join('; ');
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
