import { useDeferredValue, useState } from 'react';
import type { CarryFilter, CarrySummary, LedgerView, Plan, ResultKind } from '../../core/index.ts';
import { carryDetail, carryLists, graft, tickRows } from '../../state/carry.ts';
import { resultOf } from '../../state/results.ts';
import { useNewBox, useOpened, usePlan } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Choice, Tick } from '../../ui/controls.tsx';
import { LedgerBar } from '../../ui/ledger-bar.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { filterNames, resultNames } from '../../words/carry.ts';
import { count, number, verb } from '../../words/numbers.ts';
import { type SourcePlace, SourceView } from '../source/source-view.tsx';
import { BoxBound } from './box-bound.tsx';
import './carry.css';
import { useAsked } from '../../ui/use-asked.ts';
import { Broken } from './broken.tsx';
import { Certificates } from './certificates.tsx';
import { Detail } from './detail.tsx';
import { Graft } from './graft.tsx';
import { Lacking } from './lacking.tsx';
import { Results } from './results.tsx';
import { Tree } from './tree.tsx';

const filters = Object.keys(filterNames) as CarryFilter[];

export default function Carry() {
  const { id, view } = useOpened();
  const plan = usePlan();
  const newBox = useNewBox();
  const into = useDesk((state) => state.into);
  const result = resultOf(plan);
  const [words, setWords] = useState('');
  const asked = useDeferredValue(words);
  const [filter, setFilter] = useState<CarryFilter>('all');
  const [chosen, setChosen] = useState<string | null>(null);
  const [place, setPlace] = useState<SourcePlace | null>(null);
  const [along, setAlong] = useState(true);
  const lists = useAsked(() => carryLists(plan), [id, plan, newBox, into]);
  const detail = useAsked(async () => (chosen === null ? null : carryDetail(plan, chosen)), [id, plan, chosen]);
  const grafted = useAsked(async () => (result === 'graft' ? graft(plan) : null), [id, plan, into, result]);
  /** Which of the two the side shows, where a record is open beside a graft. */
  const [side, setSide] = useState<'record' | 'graft'>('record');
  const choose = (row: string | null) => {
    setPlace(null);
    setChosen(row);
    setSide('record');
  };
  const opened = chosen !== null && detail;
  const both = opened && result === 'graft';
  return (
    <div className="pane">
      <SheetHead no={3} title="Carry">
        {sentence(lists?.summary ?? null, view.ledger, plan)}
      </SheetHead>
      <div className="carry">
        <div className="carry-list">
          <div className="filters">
            <input
              type="search"
              className="field text"
              placeholder="Search names, values"
              aria-label="Search names, keys, values and remarks"
              value={words}
              onChange={(event) => setWords(event.target.value)}
            />
            {filters.map((one) => (
              <button
                key={one}
                type="button"
                className="chip"
                aria-pressed={filter === one}
                onClick={() => setFilter(one)}
              >
                {filterNames[one]} {lists ? number(lists.summary.filters[one]) : ''}
              </button>
            ))}
            {result === 'ticked' && (
              <span className="told">
                <Tick state={along ? 'on' : 'off'} label="A tick takes along what it needs" onChange={setAlong} />
                <span>A tick takes along what it needs</span>
              </span>
            )}
          </div>
          <Tree
            key={id}
            id={id}
            plan={plan}
            result={result}
            words={asked}
            filter={filter}
            chosen={chosen}
            onChoose={choose}
            onTick={(row, on) =>
              tickRows(`${on ? 'Carry' : 'Leave out'} ${row.name}`, [row.id], on, result === 'ticked' && along)
            }
          />
        </div>
        <Scroll as="aside" className="side" label="What your ticks lead to">
          {place ? (
            <SourceView place={place} onClose={() => setPlace(null)} />
          ) : (
            <>
              {both && (
                <div className="which">
                  <Choice
                    label="Show at the side"
                    options={[
                      ['record', detail.row.name],
                      ['graft', 'The graft'],
                    ]}
                    chosen={side}
                    onChoose={setSide}
                  />
                </div>
              )}
              {opened && (!both || side === 'record') && (
                <Detail
                  key={chosen}
                  detail={detail}
                  result={result}
                  words={asked}
                  onChoose={choose}
                  onClose={() => choose(null)}
                />
              )}
              {result === 'graft' && (!both || side === 'graft') && (
                <Graft state={grafted} onLook={setPlace}>
                  {lists && !into?.sectionsOnly && <Certificates list={lists.certificates} result={result} />}
                </Graft>
              )}
              {result === 'ticked' && lists && chosen === null && (
                <Certificates list={lists.certificates} result={result} />
              )}
              {result !== 'graft' && chosen === null && <Broken onLook={setPlace} />}
              {lists && <BoxBound list={bound(lists, result)} onLook={setPlace} />}
              {lists && <Lacking lists={lists} onLook={setPlace} />}
              <section className="quiet grow">
                <h3>What a tick does</h3>
                <p>{help[result]}</p>
              </section>
            </>
          )}
        </Scroll>
        <Books ledger={view.ledger} result={result} />
      </div>
    </div>
  );
}

const help: Record<ResultKind, string> = {
  whole:
    'What is ticked goes along, byte for byte but for what you changed. What you clear stays behind, with its line and the comment right above it. Press a name to see what hangs on it.',
  ticked:
    'Nothing goes along but what you tick, in a file with the same outermost element and its attributes. Your ticks for the whole file wait until you come back to it.',
  graft:
    'What you tick goes into the new box’s backup; everything else in it stays. Your ticks for the whole file wait until you come back to it.',
};

/** Of a part only what is taken is worth a question. */
const bound = ({ boxBound }: { boxBound: Parameters<typeof BoxBound>[0]['list'] }, result: ResultKind) =>
  result === 'whole' ? boxBound : boxBound.filter(({ answer }) => answer !== 'left-out');

function sentence(summary: CarrySummary | null, ledger: LedgerView, plan: Plan): string {
  const result = resultOf(plan);
  const broken = result === 'graft' ? 0 : (summary?.dangling.byPlan ?? 0);
  const loose = broken > 0 && `${count(broken, 'reference')} ${verb(broken, 'names', 'name')} what you left out.`;
  const before = summary?.dangling.before ?? 0;
  const old = before > 0 && ` ${count(before, 'name')} led nowhere on the old box already.`;
  if (result !== 'whole') {
    const taken = ledger.carried + ledger.changed;
    const start =
      plan.part!.ticks.length > 0
        ? `${count(taken, 'record')} ${verb(taken, 'goes', 'go')} over.`
        : 'Tick what goes over; so far nothing does.';
    return [start, loose].filter(Boolean).join(' ');
  }
  if (loose) return `Tick what goes along. ${loose}${old || ''}`;
  const out = ledger.leftOut;
  return out > 0
    ? `Tick what goes along. ${count(out, 'record')} ${verb(out, 'stays', 'stay')} behind, and nothing that goes needs them.${old || ''}`
    : `Tick what goes along. So far everything does.${old || ''}`;
}

/** The account of every record, and what is made of them. */
function Books({ ledger, result }: { ledger: LedgerView; result: ResultKind }) {
  return (
    <div className="ledger">
      <div>
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
            {number(ledger.leftOut)} {result === 'whole' ? 'left out' : 'not taken'}
          </span>
          <span className={ledger.balances ? 'dim' : 'wrong'}>
            of {count(ledger.records, 'record')}, single settings counted as one each
            {!ledger.balances && '; this does not balance, so nothing can be downloaded'}
          </span>
        </div>
      </div>
      <div className="result">
        <div>
          <span className="cap">Result</span>
          <div>{resultNames[result][1]}</div>
        </div>
        <Results result={result} />
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
