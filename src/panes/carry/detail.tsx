import { useState } from 'react';
import type { CarryDetail, ResultKind } from '../../core/index.ts';
import { tickRows } from '../../state/carry.ts';
import { change } from '../../state/decide.ts';
import { Weight } from '../../ui/weight.tsx';
import { count, list, number, verb } from '../../words/numbers.ts';
import { SourceView } from '../source/source-view.tsx';
import './detail.css';
import { Needs } from './needs.tsx';
import { Values } from './values.tsx';

/** One row: what hangs on it, what to do about it, its values. */
export function Detail({
  detail,
  result,
  words,
  onChoose,
  onClose,
}: {
  detail: CarryDetail;
  result: ResultKind;
  words: string;
  onChoose: (id: string) => void;
  onClose: () => void;
}) {
  const [source, setSource] = useState(false);
  const { row, place } = detail;
  if (source) return <SourceView place={place} onClose={() => setSource(false)} />;
  return (
    <>
      <section className="about">
        <p className="cap">
          {row.section}
          {row.section && ', '}
          {row.kind === 'collection' ? `${number(row.children)} records` : `line ${number(row.line)}`}
        </p>
        <div className="row">
          <h2 className="mono">{row.name}</h2>
          <span className="dim">{row.key || (row.name !== row.tag && row.tag)}</span>
          <span className="acts row">
            <button type="button" className="btn small" onClick={() => setSource(true)}>
              Source
            </button>
            <SwitchButton detail={detail} />
            <button type="button" className="btn small" onClick={onClose}>
              Close
            </button>
          </span>
        </div>
      </section>
      <Needs detail={detail} onChoose={onChoose} />
      <Advice detail={detail} result={result} />
      <Values detail={detail} words={words} />
    </>
  );
}

function SwitchButton({ detail: { row, switch: found } }: { detail: CarryDetail }) {
  if (!found || found.on === null) return null;
  const { flip } = found;
  const name = `Switch ${found.on ? 'off' : 'on'} ${row.name}`;
  return (
    <button type="button" className="btn small plan" aria-label={name} onClick={() => change(name, [flip])}>
      Switch {found.on ? 'off' : 'on'}
    </button>
  );
}

/** What the row needs and does not get, or who would lose it. */
function Advice({ detail, result }: { detail: CarryDetail; result: ResultKind }) {
  const { row, missing, dependents } = detail;
  const goes = row.fate !== 'left-out';
  const [verbOut, verbIn] = result === 'whole' ? ['Leave out', 'Carry'] : ['Clear', 'Tick'];
  const names = (marks: CarryDetail['missing']) => list(marks.map(({ name }) => name));
  const take = (also: boolean) =>
    tickRows(
      also ? `Carry ${row.name} with what it needs` : `Carry ${row.name}`,
      also ? [row.id, ...missing.map(({ path }) => path)] : [row.id],
      true,
    );
  const leave = (also: boolean) =>
    tickRows(
      also ? `Leave out ${row.name}, with ${count(dependents.length, 'record')} that need it` : `Leave out ${row.name}`,
      also ? [row.id, ...dependents.map(({ path }) => path)] : [row.id],
      false,
    );
  if (goes && missing.length > 0 && result !== 'graft') {
    return (
      <section className="quiet">
        <h3>
          <Weight weight="break">Carried like this, it names what stays behind</Weight>
        </h3>
        <p>
          It needs <span className="mono">{names(missing)}</span>, which {verb(missing.length, 'is', 'are')} not taken.
        </p>
        <div className="row">
          <button
            type="button"
            className="btn plan"
            onClick={() =>
              tickRows(
                `Carry what ${row.name} needs`,
                missing.map(({ path }) => path),
                true,
              )
            }
          >
            Take what it needs: {count(missing.length, 'record')}
          </button>
          <button type="button" className="btn plan" onClick={() => leave(dependents.length > 0)}>
            {verbOut} it too{dependents.length > 0 && `, with ${number(dependents.length)} that need it`}
          </button>
        </div>
      </section>
    );
  }
  if (goes) {
    return (
      <section className="quiet">
        <p>
          {dependents.length > 0
            ? `Without it, ${count(dependents.length, 'record')} ${verb(dependents.length, 'loses', 'lose')} what ${verb(dependents.length, 'it needs', 'they need')}: ${names(dependents)}.`
            : 'Nothing that goes along would miss it.'}
        </p>
        <div className="row">
          <button type="button" className="btn small plan" onClick={() => leave(false)}>
            {verbOut} only this
          </button>
          {dependents.length > 0 && (
            <button type="button" className="btn small plan" onClick={() => leave(true)}>
              {verbOut} it with {number(dependents.length)} that {verb(dependents.length, 'needs', 'need')} it
            </button>
          )}
        </div>
      </section>
    );
  }
  return (
    <section className="quiet">
      <p>
        {missing.filter(({ path }) => path !== row.id).length > 0 ? (
          <>
            It stays behind. To go along it needs <span className="mono">{names(missing)}</span>, too.
          </>
        ) : (
          'It stays behind. What it needs goes along already.'
        )}
      </p>
      <div className="row">
        <button type="button" className="btn small plan" onClick={() => take(false)}>
          {verbIn} only this
        </button>
        {missing.length > 0 && (
          <button type="button" className="btn small plan" onClick={() => take(true)}>
            {verbIn} it with {number(missing.length)} it needs
          </button>
        )}
      </div>
    </section>
  );
}
