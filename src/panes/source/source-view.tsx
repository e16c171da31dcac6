import { useCallback, useEffect, useRef, useState } from 'react';
import type { Place, Around as Text } from '../../core/index.ts';
import { around, lines } from '../../state/open.ts';
import { useOpened } from '../../state/selectors.ts';
import { pathWords } from '../../words/decisions.ts';
import { number } from '../../words/numbers.ts';
import './source.css';

/** Height of a line, units of CSS; lines fetched in one request; lines that one scroll box can hold. */
const ROW = 18;
const CHUNK = 100;
const MOST = 200_000;
/** A line longer than this is shown around the place instead: some files are one line. */
const WIDEST = 2000;
const AROUND = 600;

export type SourcePlace = Pick<Place, 'path' | 'line' | 'start' | 'end'>;

/** The old file around a place, as it is written, secrets blacked out. Only the lines in view are fetched and drawn. */
export function SourceView({
  place,
  bad = false,
  onClose,
}: {
  place: SourcePlace;
  bad?: boolean;
  onClose?: () => void;
}) {
  const { backup, id } = useOpened();
  const box = useRef<HTMLDivElement>(null);
  const first = Math.max(1, Math.min(place.line - MOST / 2, backup.lines - MOST + 1));
  const last = Math.min(backup.lines, first + MOST - 1);
  const [view, setView] = useState({ from: place.line, to: place.line });
  const look = useCallback(() => {
    const element = box.current;
    if (!element) return;
    const from = first + Math.floor(element.scrollTop / ROW);
    setView({ from, to: Math.min(last, from + Math.ceil(element.clientHeight / ROW) + 1) });
  }, [first, last]);
  useEffect(() => {
    const element = box.current!;
    element.scrollTop = (place.line - first) * ROW - element.clientHeight / 3;
    element.scrollLeft = 0;
    look();
    const watch = new ResizeObserver(look);
    watch.observe(element);
    return () => watch.disconnect();
  }, [place.line, first, look]);
  const long = useLines(id, place.line, place.line, backup.lines)[0]?.words ?? '';
  const text = useLines(id, view.from, view.to, backup.lines);
  return (
    <div className="source">
      <header>
        <h2>Line {number(place.line)}</h2>
        {onClose && (
          <button type="button" className="btn small" onClick={onClose}>
            Close
          </button>
        )}
        <code className="path">{pathWords(place.path) || place.path}</code>
      </header>
      {long.length > WIDEST && <Around key={place.start} place={place} bad={bad} />}
      <section
        className="text"
        aria-label={`The old file around line ${place.line}`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls has to be reached by the keyboard
        tabIndex={0}
        ref={box}
        onScroll={look}
      >
        <div style={{ height: (last - first + 1) * ROW }}>
          <div className="window" style={{ top: (view.from - first) * ROW }}>
            {text.map(({ line, words }) => (
              <div key={line} className={`ln-row ${line === place.line ? `hit ${bad ? 'bad' : ''}` : ''}`}>
                <span className="ln">{line}</span>
                {words !== null && words.length > WIDEST ? `${words.slice(0, WIDEST)}…` : words}
              </div>
            ))}
          </div>
        </div>
      </section>
    </div>
  );
}

/** The place itself, wrapped, where its line is too long to look at. */
function Around({ place, bad }: { place: SourcePlace; bad: boolean }) {
  const [text, setText] = useState<Text | null>(null);
  useEffect(() => {
    around(place.start, place.end, AROUND).then(setText, () => {});
  }, [place.start, place.end]);
  if (!text) return null;
  return (
    <pre className="around">
      {text.before}
      <mark className={bad ? 'bad' : undefined}>{text.hit}</mark>
      {text.after}
    </pre>
  );
}

/** The lines [from, to], as far as they have come; asked for in chunks that are kept while the file is open. */
function useLines(id: number, from: number, to: number, count: number): { line: number; words: string | null }[] {
  const kept = useRef({ id, chunks: new Map<number, readonly string[] | null>() });
  const [, setCame] = useState(0);
  if (kept.current.id !== id) kept.current = { id, chunks: new Map() };
  const chunks = kept.current.chunks;
  useEffect(() => {
    for (let chunk = Math.floor((from - 1) / CHUNK); chunk * CHUNK < to; chunk++) {
      if (chunks.has(chunk)) continue;
      chunks.set(chunk, null);
      lines(chunk * CHUNK + 1, Math.min(count, (chunk + 1) * CHUNK)).then(
        (words) => {
          chunks.set(chunk, words);
          setCame((came) => came + 1);
        },
        () => chunks.delete(chunk),
      );
    }
  }, [chunks, from, to, count]);
  const shown: { line: number; words: string | null }[] = [];
  for (let line = from; line <= to; line++) {
    const words = chunks.get(Math.floor((line - 1) / CHUNK))?.[(line - 1) % CHUNK];
    shown.push({ line, words: words?.replace(/[\r\n]+$/, '') ?? null });
  }
  return shown;
}
