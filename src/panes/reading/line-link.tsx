import { number } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';

export interface Looking {
  readonly onLook: (place: SourcePlace) => void;
}

/** A line number that shows the place in the old file. */
export function LineLink({ place, what, onLook }: Looking & { place: SourcePlace; what: string }) {
  return (
    <button type="button" className="link" onClick={() => onLook(place)}>
      {number(place.line)}
      <span className="spoken">, look at {what} in the file</span>
    </button>
  );
}
