import { useState } from 'react';
import type { GraftChange, GraftChanges, GraftSection, ReceiverMark } from '../../core/index.ts';
import { compareGraft, graftChanges } from '../../state/carry.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Mark } from '../../ui/marks.tsx';
import { MoreRow } from '../../ui/more-row.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { useAsked } from '../../ui/use-asked.ts';
import { pathWords } from '../../words/decisions.ts';
import { count, more, number, verb } from '../../words/numbers.ts';
import { cut, Difference } from './difference.tsx';
import { Frame, type FrameSection } from './frame.tsx';

const PAGE = 200;

/** What a graft makes of the new box's own backup, before and after. */
export function GraftedChanges({ into }: { into: ReceiverMark }) {
  const { id } = useOpened();
  const plan = usePlan();
  const found = useAsked(async () => ({ view: await graftChanges(plan) }), [id, plan, into]);
  const view = found?.view ?? null;
  return (
    <div className="pane">
      <SheetHead no={5} title="Changes">
        {found === null
          ? 'The graft is being worked out.'
          : view === null
            ? 'The graft cannot be made yet.'
            : view.total === 0
              ? `Nothing in ${into.name} comes out otherwise.`
              : `${count(view.total, 'place')} of ${into.name} ${verb(view.total, 'comes', 'come')} out otherwise; everything else in it stays, byte for byte.`}
      </SheetHead>
      {found !== null && view === null && (
        <p className="quiet-note">
          <button type="button" className="link" onClick={() => useDesk.setState({ sheet: 'carry' })}>
            Sheet 3 says what is missing
          </button>
        </p>
      )}
      {view && (
        <Frame
          label="Sections of the new box’s backup"
          sections={view.sections.map(frameSection)}
          sides="New box’s backup left, result right."
          load={(path, limit) => compareGraft(plan, path, limit)}
          about={[id, plan, into]}
        >
          {(chosen) => <Places view={view} chosen={chosen} />}
        </Frame>
      )}
    </div>
  );
}

const frameSection = ({ kept, replaced, removed, ...section }: GraftSection): FrameSection => ({
  ...section,
  same: kept,
  changed: replaced,
  out: removed,
});

function Places({ view, chosen }: { view: GraftChanges; chosen: FrameSection | null }) {
  const [pages, setPages] = useState(1);
  const shown = view.changes.filter((one) => !chosen || one.section === chosen.name);
  const rest = shown.length - pages * PAGE;
  return (
    <>
      <table className="list">
        <caption className="spoken">Changes of the new box’s backup, in the order of the file</caption>
        <thead>
          <tr>
            <th className="m" scope="col">
              <span className="spoken">Mark</span>
            </th>
            <th scope="col" className="what">
              What
            </th>
            <th scope="col">New box’s backup, and result</th>
            <th scope="col" className="num">
              Line
            </th>
          </tr>
        </thead>
        <tbody>
          {shown.slice(0, pages * PAGE).map((change, at) => (
            <Row key={at} change={change} />
          ))}
          {shown.length === 0 && (
            <tr>
              <td className="m">
                <Mark name="same" />
              </td>
              <td className="what dim">as it was</td>
              <td colSpan={2}>{chosen ? `All of ${chosen.name} stays` : 'All of it stays'}, byte for byte.</td>
            </tr>
          )}
          {rest > 0 && <MoreRow span={3} label={more(PAGE, rest)} onMore={() => setPages(pages + 1)} />}
        </tbody>
      </table>
      {view.total > view.changes.length && (
        <p className="quiet-note dim">
          The first {number(view.changes.length)} places are listed; both sides of a section show all of it.
        </p>
      )}
    </>
  );
}

const kinds: Record<GraftChange['kind'], string> = { added: 'put in', changed: 'replaced', 'left-out': 'removed' };

function Row({ change: { kind, path, line, before, after } }: { change: GraftChange }) {
  return (
    <tr>
      <td className="m mine">
        <Mark name={kind === 'left-out' ? 'out' : 'changed'} />
      </td>
      <td className="mine what">{kinds[kind]}</td>
      <td>
        <div className="dim">{pathWords(path)}</div>
        <div className="mono text">
          {kind === 'added' ? (
            <ins className="mine plain-ins">{cut(after.replace(/^[\r\n]+/, ''))}</ins>
          ) : kind === 'left-out' ? (
            <del className="struck">{cut(before)}</del>
          ) : (
            <Difference before={before} after={after} />
          )}
        </div>
      </td>
      <td className="num">{number(line)}</td>
    </tr>
  );
}
