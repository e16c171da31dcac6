import { useState } from 'react';
import type { StandingList, StandingView, StandingViews } from '../../core/index.ts';
import { changePart, partOf } from '../../state/carry.ts';
import { usePlan } from '../../state/selectors.ts';
import { MoreButton } from '../../ui/more-button.tsx';
import { Weight } from '../../ui/weight.tsx';
import { standingWords } from '../../words/carry.ts';
import { count, number, verb } from '../../words/numbers.ts';

const FEW = 6;
const MOST = 100;

/** Where each record that is put in comes to stand in the new box's lists; a list tells another place. */
export function Standings({ standings: { standings, total, lists } }: { standings: StandingViews }) {
  const [all, setAll] = useState(false);
  if (standings.length === 0) return null;
  const ordered = standings.filter(({ matters }) => matters).length;
  const shown = standings.slice(0, all ? MOST : FEW);
  return (
    <section aria-label="Where it comes to stand">
      <h3>
        {ordered > 0 ? (
          <Weight weight="check">
            Where {count(ordered, 'rule')} {verb(ordered, 'comes', 'come')} to stand
          </Weight>
        ) : (
          'Where it comes to stand'
        )}
      </h3>
      {ordered > 0 && (
        <p className="dim">
          Most boxes take the first rule that fits. A rule behind one that fits more never applies, so look at each
          place.
        </p>
      )}
      <ul className="lines standings">
        {shown.map((standing) => (
          <Row key={standing.record.path} standing={standing} list={lists[standing.list]!} />
        ))}
      </ul>
      {standings.length > FEW && <MoreButton open={all} rest={number(total - FEW)} onPress={() => setAll(!all)} />}
      {all && total > shown.length && (
        <p className="dim">and {number(total - shown.length)} more, next to their neighbours</p>
      )}
    </section>
  );
}

/** The list of places is long, so it is there only where another one is asked for. */
function Row({ standing, list }: { standing: StandingView; list: StandingList }) {
  const [asking, setAsking] = useState(false);
  const { standings: told } = partOf(usePlan());
  const { record, behind, behindName } = standing;
  const place = (name: string, path: string) =>
    changePart(`Put ${record.name} ${name}`, { standings: { ...told, [record.path]: path } });
  const back = () => {
    const { [record.path]: _, ...rest } = told;
    changePart(`Leave the place of ${record.name} to its neighbours`, { standings: rest });
  };
  const listed = behind === list.start || list.places.some(({ path }) => path === behind);
  return (
    <li>
      <span>
        <span className="mono">{record.name}</span>
        <span className="dim">
          , in {record.section}: {standingWords(standing)}{' '}
        </span>
        {standing.reason === 'told' && (
          <button type="button" className="link" onClick={back}>
            Take back<span className="spoken"> the place of {record.name}</span>
          </button>
        )}
      </span>
      {asking ? (
        <select
          ref={focusOnce}
          className="field text"
          aria-label={`What ${record.name} comes to stand behind`}
          value={behind}
          onChange={({ target }) =>
            place(
              target.value === list.start
                ? 'at the start'
                : `behind ${list.places.find(({ path }) => path === target.value)?.name ?? behindName}`,
              target.value,
            )
          }
        >
          <option value={list.start}>At the start</option>
          {!listed && <option value={behind}>Behind {behindName}</option>}
          {list.places.map(({ path, name }) => (
            <option key={path} value={path}>
              Behind {name}
            </option>
          ))}
          {list.total > list.places.length && (
            <option disabled>
              The first {number(list.places.length)} of {number(list.total)} are listed
            </option>
          )}
        </select>
      ) : (
        <button type="button" className="btn small plan" onClick={() => setAsking(true)}>
          Another place<span className="spoken"> for {record.name}</span>
        </button>
      )}
    </li>
  );
}

const focusOnce = (element: HTMLSelectElement | null) => element?.focus();
