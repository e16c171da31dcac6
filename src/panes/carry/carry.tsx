import { Fragment, useDeferredValue, useMemo, useState } from 'react';
import type { SectionState, SectionView } from '../../core/index.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Tick } from '../../ui/controls.tsx';
import { LedgerBar } from '../../ui/ledger-bar.tsx';
import { Mark } from '../../ui/marks.tsx';
import { Said } from '../../ui/said.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { Weight } from '../../ui/weight.tsx';
import { pathWords } from '../../words/decisions.ts';
import { findingWords } from '../../words/findings.ts';
import { count, number, size } from '../../words/numbers.ts';
import { weightOf } from '../../words/weights.ts';
import { type SourcePlace, SourceView } from '../source/source-view.tsx';
import './carry.css';
import { RecordRows } from './records.tsx';
import { leaveOutAll, Ticks, tick } from './ticks.ts';

type Show = 'all' | 'changed' | 'out' | 'secret' | 'bound';

export default function Carry() {
  const { backup, view } = useOpened();
  const plan = usePlan();
  const left = useMemo(() => new Ticks(plan), [plan]);
  const changed = useMemo(
    () => new Set(view.ledger.entries.filter((entry) => entry.state === 'changed').map((entry) => entry.path)),
    [view],
  );
  const [words, setWords] = useState('');
  const asked = useDeferredValue(words.trim());
  const [show, setShow] = useState<Show>('all');
  const [open, setOpen] = useState<ReadonlySet<string>>(new Set());
  const [place, setPlace] = useState<SourcePlace | null>(null);
  const states = new Map(view.sections.map((state) => [state.path, state]));
  const stateOf = (section: SectionView): SectionState =>
    states.get(section.path) ?? { path: section.path, carried: section.records, changed: 0, leftOut: 0, ticked: true };
  const tests: Record<Show, (section: SectionView) => boolean> = {
    all: () => true,
    changed: (section) => stateOf(section).changed > 0,
    out: (section) => left.state(section.path) !== 'on',
    secret: (section) => section.secrets > 0,
    bound: (section) => section.boxBound > 0,
  };
  const names: Record<Show, string> = {
    all: 'All',
    changed: 'Changed',
    out: 'Left out',
    secret: 'With secrets',
    bound: 'Bound to the old box',
  };
  const shown = backup.sections.filter(tests[show]);
  const toggle = (path: string) => {
    const next = new Set(open);
    if (!next.delete(path)) next.add(path);
    setOpen(next);
  };
  const { ledger } = view;
  return (
    <div className="pane">
      <SheetHead no={3} title="Carry">
        {sentence(ledger.leftOut, view.findings.filter((finding) => finding.code === 'reference-left-out').length)}
      </SheetHead>
      <div className="carry">
        <div className="carry-list">
          <div className="filters">
            <input
              type="search"
              className="field text"
              placeholder="Search records"
              aria-label="Search records by name, key or tag"
              value={words}
              onChange={(event) => setWords(event.target.value)}
            />
            {!asked && (
              <>
                <span className="cap">Show</span>
                {(Object.keys(names) as Show[]).map((one) => (
                  <button
                    key={one}
                    type="button"
                    className="chip"
                    aria-pressed={show === one}
                    onClick={() => setShow(one)}
                  >
                    {names[one]} {number(backup.sections.filter(tests[one]).length)}
                  </button>
                ))}
              </>
            )}
          </div>
          <div className="scroll">
            <table className="list tree">
              <caption className="spoken">Sections and records; what is ticked goes along</caption>
              <thead>
                <tr>
                  <th className="m" scope="col">
                    <span className="spoken">Mark</span>
                  </th>
                  <th scope="col">{asked ? 'Record' : 'Section, record'}</th>
                  <th scope="col" className="num spare wide">
                    Records
                  </th>
                  <th scope="col" className="num spare wide">
                    Size
                  </th>
                  <th scope="col" className="num spare wide">
                    Secrets
                  </th>
                  <th scope="col" className="num spare wide">
                    Box-bound
                  </th>
                  <th scope="col">In the result</th>
                </tr>
              </thead>
              <tbody>
                {asked ? (
                  <RecordRows
                    key={asked}
                    section={null}
                    words={asked}
                    {...{ left, changed }}
                    chosen={place?.path ?? null}
                    onLook={setPlace}
                  />
                ) : (
                  shown.map((section) => (
                    <Fragment key={section.path}>
                      <SectionRow
                        section={section}
                        state={stateOf(section)}
                        left={left}
                        open={open.has(section.path)}
                        onToggle={() => toggle(section.path)}
                        onLook={() => setPlace(section.place)}
                        chosen={place?.path === section.path}
                      />
                      {open.has(section.path) && (
                        <RecordRows
                          section={section.path}
                          words=""
                          {...{ left, changed }}
                          chosen={place?.path ?? null}
                          onLook={setPlace}
                        />
                      )}
                    </Fragment>
                  ))
                )}
                {!asked && shown.length === 0 && (
                  <tr>
                    <td className="m" />
                    <td colSpan={6} className="dim">
                      No section is like that.
                    </td>
                  </tr>
                )}
              </tbody>
            </table>
          </div>
        </div>
        <Scroll as="aside" className="side" label="What your ticks lead to">
          {place ? (
            <SourceView place={place} onClose={() => setPlace(null)} />
          ) : (
            <>
              <Broken onLook={setPlace} />
              <BoxBound left={left} onLook={setPlace} />
              <section className="quiet grow">
                <h3>What a tick does</h3>
                <p>
                  What is ticked goes along, byte for byte but for the ports that you moved. What you clear stays
                  behind, with its line and the comment right above it. Press a name to see it in the file.
                </p>
              </section>
            </>
          )}
        </Scroll>
        <div className="ledger">
          <LedgerBar same={ledger.carried} changed={ledger.changed} out={ledger.leftOut} />
          <div className="barkey">
            <span className="bar-same">
              <Key name="same" />
              {number(ledger.carried)} as they were
            </span>
            <span>
              <Key name="chg" />
              {number(ledger.changed)} changed
            </span>
            <span>
              <Key name="out" />
              {number(ledger.leftOut)} left out
            </span>
            <span className="dim">of {count(ledger.records, 'record')}, single settings counted as one each</span>
          </div>
        </div>
      </div>
    </div>
  );
}

function Key({ name }: { name: 'same' | 'chg' | 'out' }) {
  return (
    <span className="bar key-bar" aria-hidden="true">
      <i className={name} />
    </span>
  );
}

function sentence(out: number, broken: number): string {
  if (broken)
    return `Tick what goes along. ${count(broken, 'reference')} ${broken === 1 ? 'names' : 'name'} something that you left out.`;
  return out
    ? `Tick what goes along. ${count(out, 'record')} ${out === 1 ? 'stays' : 'stay'} behind, and nothing that goes needs them.`
    : 'Tick what goes along. So far everything does.';
}

function SectionRow({
  section,
  state,
  left,
  open,
  chosen,
  onToggle,
  onLook,
}: {
  section: SectionView;
  state: SectionState;
  left: Ticks;
  open: boolean;
  chosen: boolean;
  onToggle: () => void;
  onLook: () => void;
}) {
  const { path, name } = section;
  const ticked = left.state(path);
  const mark = ticked !== 'on' ? 'out' : state.changed > 0 ? 'changed' : null;
  const result = [
    state.changed > 0 && `${number(state.changed)} changed`,
    state.leftOut > 0 && `${number(state.leftOut)} left out`,
  ].filter(Boolean);
  return (
    <tr className={`${ticked === 'off' ? 'out' : ''} ${chosen ? 'sel' : ''}`}>
      <td className="m">
        {mark && (
          <span className="mine">
            <Mark name={mark} />
          </span>
        )}
      </td>
      <td className="nm">
        <div className="nmr">
          <button
            type="button"
            className="twist"
            aria-expanded={open}
            aria-label={`Records of ${name}`}
            onClick={onToggle}
          >
            <Mark name={open ? 'down' : 'right'} />
          </button>
          <Tick state={ticked} label={`Carry ${name}`} onChange={(on) => tick(left, path, name, on)} />
          <span className="who">
            <button type="button" className="link" onClick={onLook}>
              <b className={`mono ${ticked === 'off' ? 'struck' : ''}`}>{name}</b>
            </button>
          </span>
        </div>
      </td>
      <td className="num spare">{number(section.records)}</td>
      <td className="num spare nowrap dim">{size(section.size)}</td>
      <td className="num spare">{section.secrets || ''}</td>
      <td className="num spare">{section.boxBound || ''}</td>
      <td className={result.length || ticked !== 'on' ? 'mine' : 'dim'}>
        {ticked === 'off'
          ? 'left out by you'
          : result.length
            ? result.join(', ')
            : ticked === 'some'
              ? 'in part'
              : 'as it was'}
      </td>
    </tr>
  );
}

/** References of what goes along to what does not. */
function Broken({ onLook }: { onLook: (place: SourcePlace) => void }) {
  const { view } = useOpened();
  const broken = view.findings.filter((finding) => finding.code === 'reference-left-out');
  if (broken.length === 0) return null;
  return (
    <section className="quiet">
      <h3>
        <Weight weight={weightOf(broken[0]!)}>
          Carried like this, {count(broken.length, 'reference')} {broken.length === 1 ? 'points' : 'point'} at nothing
        </Weight>
      </h3>
      <ul className="lines">
        {broken.slice(0, 5).map((finding) => (
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
      {broken.length > 5 && (
        <button type="button" className="link" onClick={() => useDesk.setState({ sheet: 'findings' })}>
          {number(broken.length - 5)} more, on sheet 4
        </button>
      )}
    </section>
  );
}

/** Settings that fit the old hardware only. */
function BoxBound({ left, onLook }: { left: Ticks; onLook: (place: SourcePlace) => void }) {
  const { view } = useOpened();
  const bound = view.findings.flatMap((finding) =>
    finding.code === 'box-bound-travels' && finding.place ? [{ ...finding, place: finding.place }] : [],
  );
  // An attribute cannot stay behind without its element.
  const whole = bound.filter(({ place }) => !place.path.includes('/@') && left.goes(place.path));
  if (bound.length === 0) return null;
  return (
    <section>
      <h3>
        <Weight weight="check">
          {count(bound.length, 'setting')} {bound.length === 1 ? 'looks' : 'look'} bound to the old box
        </Weight>
      </h3>
      <ul className="lines">
        {bound.slice(0, 6).map(({ place, params }) => (
          <li key={place.path}>
            <span>
              <code>{pathWords(place.path)}</code>
              {params.sign && <span className="mono dim"> {String(params.sign)}</span>}
            </span>
            <button type="button" className="link nowrap" onClick={() => onLook(place)}>
              line {number(place.line)}
            </button>
          </li>
        ))}
      </ul>
      {bound.length > 6 && <p className="dim">and {number(bound.length - 6)} more, on sheet 4</p>}
      {whole.length > 0 && (
        <button
          type="button"
          className="btn small plan"
          onClick={() =>
            leaveOutAll(
              whole.map(({ place }) => place.path),
              `Leave out ${count(whole.length, 'setting')} bound to the old box`,
            )
          }
        >
          Leave out {whole.length === 1 ? 'this one' : `these ${number(whole.length)}`}
        </button>
      )}
    </section>
  );
}
