import { cancel } from '../state/open.ts';
import type { Session } from '../state/session.ts';
import { Ruler } from '../ui/ruler.tsx';
import { size } from '../words/numbers.ts';
import { phaseName } from './news.ts';

const order = ['bytes', 'reading', 'meaning'] as const;

export function Busy({ session }: { session: Extract<Session, { phase: 'busy' }> }) {
  const { file, amount, kept } = session;
  const share = amount ? amount.done / Math.max(1, amount.total) : null;
  return (
    <div className="plates">
      <div className="plate">
        <h1>Reading {file.name}</h1>
        <p className="dim">
          {amount
            ? `Step ${order.indexOf(amount.phase) + 1} of 3, ${phaseName(amount.phase).toLowerCase()}. ${size(Math.round((share ?? 0) * file.size))} of ${size(file.size)}.`
            : `${size(file.size)}.`}
        </p>
        <Ruler label={`Reading ${file.name}`} share={share} />
        <div className="row">
          <button type="button" className="btn" onClick={cancel}>
            Cancel
          </button>
          <span className="dim">
            {kept
              ? `You can cancel; ${kept.file.name} and your decisions stay.`
              : 'You can cancel; nothing happens to the file.'}
          </span>
        </div>
      </div>
    </div>
  );
}
