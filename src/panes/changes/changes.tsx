import { lazy, Suspense, useEffect, useMemo, useState } from 'react';
import type { ChangeView, SectionView } from '../../core/index.ts';
import { isAbout, takeBack } from '../../state/decide.ts';
import { compare } from '../../state/open.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { LedgerBar } from '../../ui/ledger-bar.tsx';
import { Mark } from '../../ui/marks.tsx';
import { MoreRow } from '../../ui/more-row.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { decisionName, type Known, knownNames, pathWords } from '../../words/decisions.ts';
import { count, more, number, size } from '../../words/numbers.ts';
import type { Comparison } from '../../worker/protocol.ts';
import { type SourcePlace, SourceView } from '../source/source-view.tsx';
import './changes.css';

const PAGE = 200;
/** The editor slows down past this; a longer section is cut. */
const LIMIT = 1_000_000;

const loadDiff = () => import('./diff.tsx');

export default function Changes() {
  const { backup, view } = useOpened();
  const { changes, ledger } = view;
  const [section, setSection] = useState<string | null>(null);
  const [beside, setBeside] = useState(false);
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
  const chosen = backup.sections.find((one) => one.path === section) ?? null;
  return (
    <div className="pane">
      <SheetHead no={5} title="Changes">
        {changes.length === 0
          ? 'No change yet. The file would go across byte for byte.'
          : `${count(changes.length, 'place')} ${changes.length === 1 ? 'comes' : 'come'} out otherwise, in ${number(ledger.changed + ledger.leftOut)} of ${count(ledger.records, 'record')}. ${number(ledger.carried)} go across byte for byte.`}
      </SheetHead>
      <div className="changes">
        <nav className="change-sections scroll" aria-label="Sections">
          <ul>
            {backup.sections.map((one) => (
              <SectionItem
                key={one.path}
                section={one}
                widest={Math.max(...backup.sections.map((other) => other.records), 1)}
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
          {place ? (
            <SourceView place={place} onClose={() => setPlace(null)} />
          ) : chosen && beside ? (
            <Beside section={chosen} />
          ) : (
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
        </div>
      </div>
    </div>
  );
}

function SectionItem({
  section,
  widest,
  chosen,
  onChoose,
}: {
  section: SectionView;
  widest: number;
  chosen: boolean;
  onChoose: () => void;
}) {
  const { view } = useOpened();
  const state = view.sections.find((one) => one.path === section.path);
  const touched = (state?.changed ?? 0) + (state?.leftOut ?? 0);
  return (
    <li>
      {touched > 0 && (
        <span className="mk mine">
          <Mark name={state!.leftOut ? 'out' : 'changed'} />
        </span>
      )}
      <button type="button" aria-pressed={chosen} onClick={onChoose}>
        <span className="names">
          <span className="mono">{section.name}</span>
          <span className={touched ? 'mine' : 'dim'}>{touched ? number(touched) : 'none'}</span>
        </span>
        {/* The length is the section's share of records, on a root scale so that small ones can be told apart. */}
        <span style={{ display: 'block', width: `${Math.max(4, 100 * Math.sqrt(section.records / widest))}%` }}>
          <LedgerBar
            same={state?.carried ?? section.records}
            changed={state?.changed ?? 0}
            out={state?.leftOut ?? 0}
            height={10}
          />
        </span>
      </button>
    </li>
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
            {subjectWords(subject, plan, known)}{' '}
            <button
              type="button"
              className="link"
              onClick={() => takeBack(`Take back: ${subjectWords(subject, plan, known)}`, [subject])}
            >
              Take back
            </button>
          </div>
        ))}
      </td>
    </tr>
  );
}

/** Old and new in one line, where only what differs is struck and written anew. */
function Difference({ before, after }: { before: string; after: string }) {
  let head = 0;
  while (head < Math.min(before.length, after.length) && before[head] === after[head]) head++;
  let tail = 0;
  const most = Math.min(before.length, after.length) - head;
  while (tail < most && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  // Whole names are easier to read than the letters that differ.
  while (head > 0 && /[\w.:/-]/.test(before[head - 1]!)) head--;
  while (tail > 0 && /[\w.:/-]/.test(before.at(-tail)!)) tail--;
  return (
    <>
      {before.slice(0, head)}
      <del className="struck">{before.slice(head, before.length - tail)}</del>{' '}
      <ins className="mine plain-ins">{after.slice(head, after.length - tail)}</ins>
      {before.slice(before.length - tail)}
    </>
  );
}

const cut = (text: string): string => {
  const lines = text.split(/\r\n|\r|\n/);
  return lines.length > 4 ? `${lines.slice(0, 4).join('\n')}\n… ${count(lines.length - 4, 'more line')}` : text;
};

/** A decision by its subject, with its number in the plan. */
function subjectWords(subject: string, plan: ReturnType<typeof usePlan>, known: Known): string {
  const at = plan.decisions.findIndex((decision) => isAbout(decision, subject));
  const decision = plan.decisions[at];
  if (!decision) return subject;
  return `${at + 1}. ${decisionName(decision, known)}`;
}

/** Both sides of a section in the editor, which is loaded when it is first wanted. */
function Beside({ section }: { section: SectionView }) {
  const plan = usePlan();
  const { id } = useOpened();
  const Diff = useMemo(() => lazy(loadDiff), []);
  const [comparison, setComparison] = useState<Comparison | null>(null);
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    let late = false;
    compare(plan, section.path, LIMIT).then(
      (found) => {
        if (!late) setComparison(found);
      },
      (error: Error) => {
        if (!late) setTrouble(error.message);
      },
    );
    return () => {
      late = true;
    };
  }, [plan, section.path, id]);
  if (trouble) return <p className="quiet-note wrong">{trouble}</p>;
  if (!comparison) return <p className="quiet-note dim">Making both sides.</p>;
  return (
    <div className="diff-box">
      <div className="diff-head dim">
        <span>Old file left, result right. Secrets are blacked out.</span>
        <span>
          <span className="key">Ctrl+M</span> lets Tab leave the text.
        </span>
        {comparison.after.trim() === '' && <span className="mine">The result has nothing of it.</span>}
        {comparison.cut && (
          <span className="wrong">
            Only the first {number(LIMIT)} characters of each side are shown; the list has every change.
          </span>
        )}
      </div>
      <Suspense fallback={<p className="quiet-note dim">Loading the side by side view.</p>}>
        <Diff comparison={comparison} name={section.name} />
      </Suspense>
    </div>
  );
}
