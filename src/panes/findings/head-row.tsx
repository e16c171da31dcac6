import type { ReactNode } from 'react';
import { Said } from '../../ui/said.tsx';
import { Weight as Mark } from '../../ui/weight.tsx';
import { number } from '../../words/numbers.ts';
import { plain, type Said as Sentence } from '../../words/said.ts';
import { type Weight, weightNames } from '../../words/weights.ts';

/** The row of one finding, or of several of one cause: what is wrong, where it comes from, what mends it, what opens it. */
export function HeadRow({
  weight,
  what,
  note = null,
  byPlan,
  ways,
  only,
  open,
  inner = false,
  opener,
  onToggle,
}: {
  weight: Weight;
  what: Sentence;
  note?: ReactNode;
  byPlan: boolean;
  /** How many repairs there are, and the button of the only one. */
  ways: number;
  only: () => ReactNode;
  open: boolean;
  /** Whether it stands in the list of another row. */
  inner?: boolean;
  /** What opens it says, where it stands; null for no place. Opened, it closes. */
  opener: string | null;
  onToggle: () => void;
}) {
  return (
    <tr className={[open && 'sel', inner && 'inner'].filter(Boolean).join(' ') || undefined}>
      <td className="m">
        <Mark weight={weight} />
      </td>
      <td className="weight">
        <span className={`sev ${weight}`}>{weightNames[weight].name}</span>
      </td>
      <td>
        <Said parts={what} />
        {note}
      </td>
      <td className={`cap from ${byPlan ? 'mine' : ''}`}>{byPlan ? 'your plan' : 'old file'}</td>
      <td className="repair">
        {ways === 1 && only()}
        {ways > 1 && (
          <button type="button" className="btn small" aria-expanded={open} onClick={onToggle}>
            {number(ways)} ways
            <span className="spoken"> to mend: {plain(what)}</span>
          </button>
        )}
      </td>
      <td className="num where">
        <button type="button" className="link" aria-expanded={open} onClick={onToggle}>
          {(open || opener === null) && <span className="on-screen">{open ? 'Close' : 'Look'}</span>}
          {opener !== null && <span className={open ? 'on-paper' : undefined}>{opener}</span>}
          <span className="spoken">, {plain(what)}</span>
        </button>
      </td>
    </tr>
  );
}
