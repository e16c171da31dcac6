import { useState } from 'react';
import type { BoxBoundView } from '../../core/index.ts';
import { change } from '../../state/decide.ts';
import { Choice } from '../../ui/controls.tsx';
import { MoreButton } from '../../ui/more-button.tsx';
import { Weight } from '../../ui/weight.tsx';
import { reasonWords } from '../../words/findings.ts';
import { count, number, verb } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';

const FEW = 4;
const MOST = 200;

/** Settings that fit the old hardware only: proposals to leave behind, each with its reason. */
export function BoxBound({ list, onLook }: { list: readonly BoxBoundView[]; onLook: (place: SourcePlace) => void }) {
  const [all, setAll] = useState(false);
  if (list.length === 0) return null;
  const open = list.filter(({ answer }) => answer === 'open');
  const shown = list.slice(0, all ? MOST : FEW);
  return (
    <section aria-label="Settings bound to the old box" className="bound">
      <div className="row">
        <h3>
          {open.length > 0 ? (
            <Weight weight="check">
              {count(list.length, 'setting')} {verb(list.length, 'looks', 'look')} bound to the old box
            </Weight>
          ) : (
            `${count(list.length, 'setting')} bound to the old box, all answered`
          )}
        </h3>
        {open.length > 0 && (
          <span className="acts row">
            <button
              type="button"
              className="btn small plan"
              onClick={() =>
                change(
                  `Leave out ${count(open.length, 'setting')} bound to the old box`,
                  open.map(({ leave }) => leave),
                )
              }
            >
              Leave out all {number(open.length)}
            </button>
            <button
              type="button"
              className="btn small plan"
              onClick={() =>
                change(
                  `Keep ${count(open.length, 'setting')} bound to the old box`,
                  open.map(({ keep }) => keep),
                )
              }
            >
              Keep all
            </button>
          </span>
        )}
      </div>
      {open.length > 0 && (
        <p className="dim">
          Proposed: leave {open.length === 1 ? 'it' : 'them'} out. Until you answer,{' '}
          {open.length === 1 ? 'it goes' : 'they go'} along.
        </p>
      )}
      <ul className="lines">
        {shown.map((one) => (
          <li key={one.path}>
            <span>
              <button type="button" className="link" onClick={() => onLook(one.place)}>
                <code>{one.called}</code>
              </button>
              <span className="dim">
                {' '}
                {reasonWords(one.reason)}
                {!one.called.includes(one.sign) && ', '}
              </span>
              {!one.called.includes(one.sign) && <span className="mono dim">{one.sign}</span>}
            </span>
            <Choice
              label={`${one.called}, ${one.answer === 'open' ? 'proposed to leave out' : 'answered'}`}
              options={[
                ['left-out', one.leave.kind === 'set-value' ? 'Empty' : 'Leave out'],
                ['kept', 'Keep'],
              ]}
              chosen={one.answer}
              onChoose={(answer) =>
                answer === 'left-out'
                  ? change(`Leave out ${one.name}`, [one.leave])
                  : change(`Keep ${one.name}`, [one.keep])
              }
            />
          </li>
        ))}
      </ul>
      {list.length > FEW && <MoreButton open={all} rest={number(list.length - FEW)} onPress={() => setAll(!all)} />}
      {all && list.length > MOST && (
        <p className="dim">and {number(list.length - MOST)} more; the filter “Box-bound” shows them in the tree.</p>
      )}
    </section>
  );
}
