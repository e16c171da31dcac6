import { useOpened } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Said } from '../../ui/said.tsx';
import { Weight } from '../../ui/weight.tsx';
import { findingWords } from '../../words/findings.ts';
import { count, number, verb } from '../../words/numbers.ts';
import { isOpen, weightOf } from '../../words/weights.ts';
import type { SourcePlace } from '../source/source-view.tsx';

const FEW = 5;

/** References of what goes along to what does not. */
export function Broken({ onLook }: { onLook: (place: SourcePlace) => void }) {
  const { view } = useOpened();
  const broken = view.findings.filter((finding) => finding.code === 'reference-left-out' && isOpen(finding));
  if (broken.length === 0) return null;
  return (
    <section className="quiet">
      <h3>
        <Weight weight={weightOf(broken[0]!)}>
          Carried like this, {count(broken.length, 'reference')} {verb(broken.length, 'points', 'point')} at nothing
        </Weight>
      </h3>
      <ul className="lines">
        {broken.slice(0, FEW).map((finding) => (
          <li key={finding.place?.path}>
            <span>
              <Said parts={findingWords(finding).what} />
            </span>
            {finding.place && (
              <button type="button" className="link nowrap" onClick={() => onLook(finding.place!)}>
                line {number(finding.place.line)}
              </button>
            )}
          </li>
        ))}
      </ul>
      {broken.length > FEW && (
        <button type="button" className="link" onClick={() => useDesk.setState({ sheet: 'findings' })}>
          {number(broken.length - FEW)} more, on sheet 4
        </button>
      )}
    </section>
  );
}
