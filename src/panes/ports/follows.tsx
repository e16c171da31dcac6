import type { FollowView } from '../../core/index.ts';
import { kindOfRecord } from '../../words/lists.ts';
import { number } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';

/** What a kind of record is called: the last name of its collection. */
export const KindOfRecord = ({ collection }: { collection: string }) =>
  collection === '' ? <span>single settings</span> : <code>{kindOfRecord(collection)}</code>;

/** What names a role, by kind, each with its places. */
export function Follows({
  follows,
  named,
  onLook,
}: {
  follows: readonly FollowView[];
  named: string;
  onLook: (place: SourcePlace) => void;
}) {
  return (
    <section>
      <h3>What follows it</h3>
      {follows.length === 0 && <p className="dim">No record names {named}.</p>}
      <ul className="lines follows">
        {follows.map(({ collection, count, places }) => (
          <li key={collection}>
            <details>
              <summary>
                <KindOfRecord collection={collection} />
                <b className="amount">{number(count)}</b>
              </summary>
              <Places places={places} more={count - places.length} onLook={onLook} />
            </details>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function Places({
  places,
  more,
  onLook,
}: {
  places: readonly SourcePlace[];
  more: number;
  onLook: (place: SourcePlace) => void;
}) {
  return (
    <span className="row places">
      {places.map((place) => (
        <button key={place.path} type="button" className="link" onClick={() => onLook(place)}>
          line {number(place.line)}
        </button>
      ))}
      {more > 0 && <span className="dim">and {number(more)} more</span>}
    </span>
  );
}
