import { backToKept } from '../state/open.ts';
import type { Session } from '../state/session.ts';
import { Mark } from '../ui/marks.tsx';
import { Said } from '../ui/said.tsx';
import { pathWords } from '../words/decisions.ts';
import { number } from '../words/numbers.ts';
import { placeWords, troubleWords } from '../words/trouble.ts';

type Of<P> = Extract<Session, { phase: P }>;

export function Refused({ session, onOpen }: { session: Of<'refused'>; onOpen: () => void }) {
  const { file, trouble, kept } = session;
  const { title, sentence, advice } = troubleWords(trouble);
  const place = placeWords(trouble);
  const { excerpt, lastIntact } = trouble;
  return (
    <div className="plates">
      <div className="plate bad" role="alert">
        <h1 className="wrong">
          <Mark name="stop" />
          {title}
        </h1>
        <p>
          <Said parts={sentence} />
        </p>
        {excerpt && (
          <div className="excerpt">
            <div className="hit">
              <span className="ln">{trouble.line === undefined ? '' : number(trouble.line)}</span>
              {excerpt.text}
            </div>
            <div>
              <span className="ln" />
              {' '.repeat(excerpt.caret)}
              <span className="wrong">^ {place}</span>
            </div>
          </div>
        )}
        <dl className="facts">
          <dt>File</dt>
          <dd className="mono">{file.name}</dd>
          {place && !excerpt && (
            <>
              <dt>Place</dt>
              <dd>{place}</dd>
            </>
          )}
          {lastIntact && (
            <>
              <dt>Last whole element</dt>
              <dd>
                <code>{pathWords(lastIntact.path) || lastIntact.path}</code>, line {number(lastIntact.line)}
              </dd>
            </>
          )}
          <dt>What you can do</dt>
          <dd>{advice}</dd>
        </dl>
        <Ways kept={kept} onOpen={onOpen} />
      </div>
    </div>
  );
}

/** A fault of ours while reading; the file may be fine. */
export function Broken({ session, onOpen }: { session: Of<'broken'>; onOpen: () => void }) {
  const { file, message, kept } = session;
  return (
    <div className="plates">
      <div className="plate bad" role="alert">
        <h1 className="wrong">
          <Mark name="stop" />
          {file.name} could not be read
        </h1>
        <p>
          The reader stopped. It may be our fault, or the file is too large for the memory of this browser. The file
          itself was not touched.
        </p>
        <p className="mono dim">{message}</p>
        <Ways kept={kept} onOpen={onOpen} />
      </div>
    </div>
  );
}

function Ways({ kept, onOpen }: { kept: Of<'open'> | null; onOpen: () => void }) {
  return (
    <div className="row">
      <button type="button" className="btn next" onClick={onOpen}>
        Open another file…
      </button>
      <button type="button" className="btn" onClick={backToKept}>
        {kept ? `Back to ${kept.file.name}` : 'Back to the empty page'}
      </button>
    </div>
  );
}
