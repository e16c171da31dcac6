import { useState } from 'react';
import type { GraftChange, GraftSection, ReceiverMark } from '../../core/index.ts';
import { compareGraft, graftChanges } from '../../state/carry.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { LedgerBar } from '../../ui/ledger-bar.tsx';
import { Mark } from '../../ui/marks.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { pathWords } from '../../words/decisions.ts';
import { count, number, size, verb } from '../../words/numbers.ts';
import { useAsked } from '../carry/use-asked.ts';
import { Beside } from './beside.tsx';
import { cut, Difference } from './difference.tsx';

const PAGE = 200;

/** What a graft makes of the new box's own backup, before and after. */
export function GraftedChanges({ into }: { into: ReceiverMark }) {
  const { id } = useOpened();
  const plan = usePlan();
  const found = useAsked(async () => ({ view: await graftChanges(plan) }), [id, plan, into]);
  const [section, setSection] = useState<string | null>(null);
  const [beside, setBeside] = useState(false);
  const [pages, setPages] = useState(1);
  const view = found?.view ?? null;
  const chosen = view?.sections.find(({ path }) => path === section) ?? null;
  const shown = view?.changes.filter((one) => !chosen || one.section === chosen.name) ?? [];
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
        <div className="changes">
          <nav className="change-sections scroll" aria-label="Sections of the new box’s backup">
            <ul>
              {view.sections.map((one) => (
                <Item
                  key={one.path}
                  section={one}
                  widest={Math.max(...view.sections.map(records), 1)}
                  chosen={one.path === section}
                  onChoose={() => {
                    setSection(one.path === section ? null : one.path);
                    setBeside(false);
                  }}
                />
              ))}
            </ul>
          </nav>
          <div className="change-rows scroll">
            {chosen && (
              <div className="diff-head">
                <h2 className="mono">{chosen.name}</h2>
                <span className="dim">{size(chosen.size)}</span>
                <button type="button" className="btn small" aria-pressed={beside} onClick={() => setBeside(!beside)}>
                  {beside ? 'Back to the list' : 'Open the source, both sides'}
                </button>
                <button type="button" className="link" onClick={() => setSection(null)}>
                  Show all sections
                </button>
              </div>
            )}
            {chosen && beside ? (
              <Beside
                name={chosen.name}
                sides="New box’s backup left, result right."
                load={(limit) => compareGraft(plan, chosen.path, limit)}
                about={[id, plan, chosen.path, into]}
              />
            ) : (
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
                        <td colSpan={2}>
                          {chosen ? `All of ${chosen.name} stays` : 'All of it stays'}, byte for byte.
                        </td>
                      </tr>
                    )}
                  </tbody>
                </table>
                {shown.length > pages * PAGE && (
                  <button type="button" className="link quiet-note" onClick={() => setPages(pages + 1)}>
                    Show {number(Math.min(PAGE, shown.length - pages * PAGE))} more of{' '}
                    {number(shown.length - pages * PAGE)}
                  </button>
                )}
                {view.total > view.changes.length && (
                  <p className="quiet-note dim">
                    The first {number(view.changes.length)} places are listed; both sides of a section show all of it.
                  </p>
                )}
              </>
            )}
          </div>
        </div>
      )}
    </div>
  );
}

const records = ({ kept, replaced, removed }: GraftSection) => kept + replaced + removed;

function Item({
  section,
  widest,
  chosen,
  onChoose,
}: {
  section: GraftSection;
  widest: number;
  chosen: boolean;
  onChoose: () => void;
}) {
  const touched = section.replaced + section.removed + section.added;
  return (
    <li>
      {touched > 0 && (
        <span className="mk mine">
          <Mark name={section.removed ? 'out' : 'changed'} />
        </span>
      )}
      <button type="button" aria-pressed={chosen} onClick={onChoose}>
        <span className="names">
          <span className="mono">{section.name}</span>
          <span className={touched ? 'mine' : 'dim'}>{touched ? number(touched) : 'none'}</span>
        </span>
        <span style={{ display: 'block', width: `${Math.max(4, 100 * Math.sqrt(records(section) / widest))}%` }}>
          <LedgerBar same={section.kept} changed={section.replaced} out={section.removed} height={10} />
        </span>
      </button>
    </li>
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
