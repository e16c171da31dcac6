import { lazy, Suspense, useEffect, useMemo, useState } from 'react';
import { number } from '../../words/numbers.ts';
import type { Comparison } from '../../worker/protocol.ts';

/** The editor slows down past this; a longer section is cut. */
const LIMIT = 1_000_000;

const loadDiff = () => import('./diff.tsx');

/** Both sides of a section in the editor, which is loaded when it is first wanted. */
export function Beside({
  name,
  sides,
  load,
  about,
}: {
  name: string;
  /** Which file is on which side. */
  sides: string;
  load: (limit: number) => Promise<Comparison | null>;
  /** What `load` depends on. */
  about: readonly unknown[];
}) {
  const Diff = useMemo(() => lazy(loadDiff), []);
  const [comparison, setComparison] = useState<Comparison | null>(null);
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    let late = false;
    load(LIMIT).then(
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
  }, about);
  if (trouble) return <p className="quiet-note wrong">{trouble}</p>;
  if (!comparison) return <p className="quiet-note dim">Making both sides.</p>;
  return (
    <div className="diff-box">
      <div className="diff-head dim">
        <span>{sides} Secrets are blacked out.</span>
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
        <Diff comparison={comparison} name={name} />
      </Suspense>
    </div>
  );
}
