import { useOpened } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Said } from '../../ui/said.tsx';
import { Weight } from '../../ui/weight.tsx';
import { bundleWords } from '../../words/bundles.ts';
import { findingWords } from '../../words/findings.ts';
import { count, number, verb } from '../../words/numbers.ts';
import { isOpen, weightOf } from '../../words/weights.ts';
import { bundlesOf } from '../findings/bundles.ts';
import type { SourcePlace } from '../source/source-view.tsx';

const FEW = 5;

/** References of what goes along to what does not. */
export function Broken({ onLook }: { onLook: (place: SourcePlace) => void }) {
  const { view } = useOpened();
  const broken = view.findings.filter((finding) => finding.code === 'reference-left-out' && isOpen(finding));
  if (broken.length === 0) return null;
  const bundles = bundlesOf(broken, (finding) => finding);
  return (
    <section className="quiet">
      <h3>
        <Weight weight={weightOf(broken[0]!)}>
          Carried like this, {count(broken.length, 'reference')} {verb(broken.length, 'points', 'point')} at nothing
        </Weight>
      </h3>
      <ul className="lines">
        {bundles.slice(0, FEW).map(({ key, items: [finding, ...others] }) => (
          <li key={key}>
            <span>
              <Said parts={others.length > 0 ? bundleWords([finding!, ...others]) : findingWords(finding!).what} />
            </span>
            {finding!.place && (
              <button type="button" className="link nowrap" onClick={() => onLook(finding!.place!)}>
                {others.length > 0 && 'from '}line {number(finding!.place.line)}
              </button>
            )}
          </li>
        ))}
      </ul>
      {(bundles.length > FEW || bundles.length < broken.length) && (
        <button type="button" className="link" onClick={() => useDesk.setState({ sheet: 'findings' })}>
          {bundles.length > FEW ? `${number(bundles.length - FEW)} more` : 'All of them'}, on sheet 4
        </button>
      )}
    </section>
  );
}
