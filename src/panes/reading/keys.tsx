import type { Key } from '../../core/index.ts';
import { keyOptions } from '../../state/open.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useAsked } from '../../ui/use-asked.ts';
import { listName } from '../../words/lists.ts';
import { number } from '../../words/numbers.ts';
import { say, TakeBack, useSaid, YouSaySo } from './said.tsx';

/** What the records of a list are told apart by, and what else could do it. */
export function Keys({ list, chosen, inLines }: { list: string; chosen: Key; inLines: boolean }) {
  const { id } = useOpened();
  const plan = usePlan();
  const options = useAsked(() => keyOptions(plan, list), [id, plan, list]);
  const told = useSaid('key').some(({ collection }) => collection === list);
  const name = listName(list);
  if (!options) return <p className="dim">Looking for fields that tell these records apart.</p>;
  const now = JSON.stringify(chosen);
  return (
    <div className="saying">
      <table className="list options">
        <caption className="spoken">What tells the records of {name} apart</caption>
        <tbody>
          {options.map(({ key, filled, distinct, records, sample }) => (
            <tr key={JSON.stringify(key)}>
              <th scope="row">{keyWords(key, inLines)}</th>
              <td className="dim">
                {key.by === 'position'
                  ? 'Nobody can name them.'
                  : `${filled === records ? 'all have it' : `${number(filled)} of ${number(records)} have it`}, ${
                      distinct === filled ? 'each another' : `${number(distinct)} different`
                    }`}
              </td>
              <td className="mono sample">{sample.join(', ')}</td>
              <td className="num nowrap">
                {JSON.stringify(key) === now ? (
                  told ? (
                    <YouSaySo />
                  ) : (
                    <span className="dim">in use</span>
                  )
                ) : (
                  <button
                    type="button"
                    className="btn small plan"
                    aria-label={`Tell ${name} apart by ${keyText(key, inLines)}`}
                    onClick={() =>
                      say(`Tell ${name} apart by ${keyText(key, inLines)}`, { correct: 'key', collection: list, key })
                    }
                  >
                    Use this
                  </button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {told && <TakeBack subjects={[`correct key ${list}`]} what={name} />}
    </div>
  );
}

/** A column stands behind the name of its cells: `cell[name]`. */
const stepName = (step: string): string => /\[(.+)\]$/s.exec(step)?.[1] ?? step;

/** @param inLines whether the records are lines of a flat list, whose keys have parts. */
export function keyText(key: Key, inLines: boolean): string {
  switch (key.by) {
    case 'tag':
      return inLines ? 'a part of the key' : 'its own tag';
    case 'attribute':
      return `attribute ${key.name}`;
    case 'leaf':
      return key.path.map(stepName).join(' / ');
    case 'position':
      return 'its place only';
    default:
      return key satisfies never;
  }
}

export function keyWords(key: Key, inLines: boolean) {
  switch (key.by) {
    case 'tag':
      return keyText(key, inLines);
    case 'attribute':
      return (
        <span>
          attribute <code>{key.name}</code>
        </span>
      );
    case 'leaf':
      return <code>{key.path.map(stepName).join(' / ')}</code>;
    case 'position':
      return <span className="dim">its place only</span>;
    default:
      return key satisfies never;
  }
}
