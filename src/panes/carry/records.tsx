import { useEffect, useState } from 'react';
import type { RecordQuery, RecordsView, RecordView } from '../../core/index.ts';
import { records } from '../../state/open.ts';
import { useOpened } from '../../state/selectors.ts';
import { Tick } from '../../ui/controls.tsx';
import { Mark } from '../../ui/marks.tsx';
import { number } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';
import { type Ticks, tick } from './ticks.ts';

const PAGE = 200;

export interface RecordRowsProps {
  readonly section: string | null;
  readonly words: string;
  readonly left: Ticks;
  /** Records that change, by path. */
  readonly changed: ReadonlySet<string>;
  readonly chosen: string | null;
  readonly onLook: (place: SourcePlace) => void;
}

/** The records of a section, or those that a search finds, a page at a time. */
export function RecordRows({ section, words, left, changed, chosen, onLook }: RecordRowsProps) {
  const { id } = useOpened();
  const [pages, setPages] = useState(1);
  const view = useRecords(id, { section, words, from: 0, limit: pages * PAGE });
  if (!view) {
    return (
      <tr>
        <td className="m" />
        <td colSpan={6} className="dim">
          Listing records.
        </td>
      </tr>
    );
  }
  const rest = view.total - view.records.length;
  return (
    <>
      {view.records.map((record) => (
        <Row key={record.path} {...{ record, left, changed, chosen, onLook }} all={section === null} />
      ))}
      {view.total === 0 && (
        <tr>
          <td className="m" />
          <td colSpan={6}>
            {words ? (
              <>
                <b>No record says “{words}”.</b> <span className="dim">Names, keys and tags were searched.</span>
              </>
            ) : (
              <span className="dim">No record in here, only structure.</span>
            )}
          </td>
        </tr>
      )}
      {rest > 0 && (
        <tr>
          <td className="m" />
          <td colSpan={6}>
            <button type="button" className="link" onClick={() => setPages(pages + 1)}>
              Show {number(Math.min(PAGE, rest))} more of {number(rest)}
            </button>
          </td>
        </tr>
      )}
    </>
  );
}

function Row({
  record,
  left,
  changed,
  chosen,
  onLook,
  all,
}: Omit<RecordRowsProps, 'section' | 'words'> & { record: RecordView; all: boolean }) {
  const { path, name, key, kind } = record;
  const state = left.state(path);
  const byOther = left.followsOther(path);
  return (
    <tr className={`${state === 'off' ? 'out' : ''} ${chosen === path ? 'sel' : ''}`}>
      <td className="m">
        {state === 'off' ? (
          <span className="mine">
            <Mark name="out" />
          </span>
        ) : (
          changed.has(path) && (
            <span className="mine">
              <Mark name="changed" />
            </span>
          )
        )}
      </td>
      <td className="nm">
        <div className="nmr" style={{ paddingLeft: 24 + Math.min(record.depth, 6) * 18 }}>
          <Tick state={state} label={`Carry ${name}`} onChange={(on) => tick(left, path, name, on)} />
          <span className="who">
            <button type="button" className="link" onClick={() => onLook(record)}>
              <span className={`mono ${state === 'off' ? 'struck' : ''}`}>{name}</span>
            </button>{' '}
            <span className="dim">
              {key && `${key} `}
              {name !== kind && kind}
              {all && `, in ${record.section}`}
            </span>
          </span>
        </div>
      </td>
      <td className="num dim spare">line {number(record.line)}</td>
      <td className="num spare" />
      <td className="num spare">{record.secrets || ''}</td>
      <td className="num spare">{record.boxBound ? 'yes' : ''}</td>
      <td className={state === 'off' || changed.has(path) ? 'mine' : 'dim'}>
        {state === 'off'
          ? byOther
            ? 'left out with it'
            : 'left out by you'
          : state === 'some'
            ? 'in part'
            : changed.has(path)
              ? 'changed'
              : 'as it was'}
      </td>
    </tr>
  );
}

/** The answer to the latest query; an earlier one shows until it comes. */
function useRecords(id: number, { section, words, from, limit }: RecordQuery): RecordsView | null {
  const [view, setView] = useState<RecordsView | null>(null);
  useEffect(() => {
    let late = false;
    const ask = () =>
      records({ section, words, from, limit }).then(
        (found) => {
          if (!late) setView(found);
        },
        () => {},
      );
    const wait = setTimeout(ask, words ? 150 : 0);
    return () => {
      late = true;
      clearTimeout(wait);
    };
  }, [id, section, words, from, limit]);
  return view;
}
