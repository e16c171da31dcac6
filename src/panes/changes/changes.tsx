import { useMemo, useState } from 'react';
import type { ChangeView } from '../../core/index.ts';
import { isAbout, takeBack } from '../../state/decide.ts';
import { compare } from '../../state/open.ts';
import { resultOf } from '../../state/results.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Mark } from '../../ui/marks.tsx';
import { MoreRow } from '../../ui/more-row.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { knownNames, pathWords, subjectWords } from '../../words/decisions.ts';
import { count, more, number } from '../../words/numbers.ts';
import { type SourcePlace, SourceView } from '../source/source-view.tsx';
import { cut, Difference } from './difference.tsx';
import './changes.css';
import { Frame, type FrameSection } from './frame.tsx';
import { GraftedChanges } from './grafted.tsx';

const PAGE = 200;

/** What comes out otherwise: of the old file or, for a graft, of the new box's own. */
export default function Changes() {
  const into = useDesk((state) => state.into);
  return resultOf(usePlan()) === 'graft' && into ? <GraftedChanges into={into} /> : <OwnChanges />;
}

function OwnChanges() {
  const { id, backup, view } = useOpened();
  const plan = usePlan();
  const { changes, ledger } = view;
  const [place, setPlace] = useState<SourcePlace | null>(null);
  const bySection = useMemo(() => {
    const groups = new Map<string, ChangeView[]>();
    for (const change of changes) {
      const group = groups.get(change.section);
      if (group) group.push(change);
      else groups.set(change.section, [change]);
    }
    return groups;
  }, [changes]);
  const sections = useMemo(() => {
    const states = new Map(view.sections.map((state) => [state.path, state]));
    return backup.sections.map(({ path, name, size, records }): FrameSection => {
      const { carried = records, changed = 0, leftOut = 0 } = states.get(path) ?? {};
      return { path, name, size, same: carried, changed, out: leftOut, added: 0 };
    });
  }, [backup.sections, view.sections]);
  return (
    <div className="pane">
      <SheetHead no={5} title="Changes">
        {changes.length === 0
          ? 'No change yet. The file would go across byte for byte.'
          : `${count(changes.length, 'place')} ${changes.length === 1 ? 'comes' : 'come'} out otherwise, in ${number(ledger.changed + ledger.leftOut)} of ${count(ledger.records, 'record')}. ${number(ledger.carried)} go across byte for byte.`}
      </SheetHead>
      <Frame
        label="Sections"
        sections={sections}
        sides="Old file left, result right."
        load={(path, limit) => compare(plan, path, limit)}
        about={[plan, id]}
        instead={place && <SourceView place={place} onClose={() => setPlace(null)} />}
      >
        {(chosen) => (
          <table className="list">
            <caption className="spoken">Changes, in the order of the file</caption>
            <thead>
              <tr>
                <th className="m" scope="col">
                  <span className="spoken">Mark</span>
                </th>
                <th scope="col" className="what">
                  What
                </th>
                <th scope="col">Old file, and result</th>
                <th scope="col" className="num">
                  Line
                </th>
                <th scope="col" className="by">
                  Decision that did it
                </th>
              </tr>
            </thead>
            {[...bySection]
              .filter(([name]) => !chosen || name === chosen.name)
              .map(([name, group]) => (
                <Group key={name} name={name} group={group} onLook={setPlace} />
              ))}
            <tbody>
              <tr>
                <td className="m">
                  <Mark name="same" />
                </td>
                <td className="what dim">as it was</td>
                <td colSpan={3}>
                  {chosen && !bySection.has(chosen.name)
                    ? `All of ${chosen.name} goes across byte for byte.`
                    : `${count(ledger.carried, 'record')}, byte for byte.`}
                </td>
              </tr>
            </tbody>
          </table>
        )}
      </Frame>
    </div>
  );
}

function Group({
  name,
  group,
  onLook,
}: {
  name: string;
  group: readonly ChangeView[];
  onLook: (place: SourcePlace) => void;
}) {
  const [pages, setPages] = useState(1);
  const rest = group.length - pages * PAGE;
  return (
    <tbody>
      <tr className="group">
        <td className="m" />
        <th colSpan={4} scope="rowgroup">
          <span className="mono">{name || 'outside of all sections'}</span>{' '}
          <span className="dim">{count(group.length, 'place')}</span>
        </th>
      </tr>
      {group.slice(0, pages * PAGE).map((change) => (
        <Row key={`${change.place.path} ${change.place.start}`} change={change} onLook={onLook} />
      ))}
      {rest > 0 && <MoreRow span={4} label={more(PAGE, rest)} onMore={() => setPages(pages + 1)} />}
    </tbody>
  );
}

function Row({ change, onLook }: { change: ChangeView; onLook: (place: SourcePlace) => void }) {
  const plan = usePlan();
  const { backup, view } = useOpened();
  const known = useMemo(() => knownNames(backup, view), [backup, view]);
  const { kind, place, before, after, decision } = change;
  const out = kind === 'left-out';
  const subjects = decision.split(' + ');
  return (
    <tr>
      <td className="m mine">
        <Mark name={out ? 'out' : 'changed'} />
      </td>
      <td className="mine what">{out ? 'left out' : 'changed'}</td>
      <td>
        <div className="dim">{pathWords(place.path)}</div>
        <div className="mono text">
          {after === null ? <span className="dim">{cut(before)}</span> : <Difference before={before} after={after} />}
        </div>
      </td>
      <td className="num">
        <button type="button" className="link" onClick={() => onLook(place)}>
          {number(place.line)}
          <span className="spoken">, look at the old file</span>
        </button>
      </td>
      <td className="by">
        {subjects.map((subject) => (
          <div key={subject} className="mine">
            {subjectWords(subject, plan.decisions, isAbout, known)}{' '}
            <button
              type="button"
              className="link"
              onClick={() => takeBack(`Take back: ${subjectWords(subject, plan.decisions, isAbout, known)}`, [subject])}
            >
              Take back
            </button>
          </div>
        ))}
      </td>
    </tr>
  );
}
