import { Fragment } from 'react';
import type { CollectionView, Key } from '../../core/index.ts';
import { useOpened } from '../../state/selectors.ts';
import { pathWords } from '../../words/decisions.ts';
import { count, number } from '../../words/numbers.ts';

/** Lists of records: what they are called, how many, and how one is told from the next. */
export function Collections() {
  const { backup } = useOpened();
  const groups = new Map<string, CollectionView[]>();
  for (const one of backup.collections) groups.set(one.section, [...(groups.get(one.section) ?? []), one]);
  if (groups.size === 0) return <p className="quiet-note">No list of records was found in this file.</p>;
  return (
    <table className="list">
      <caption className="spoken">Lists of records, by section</caption>
      <thead>
        <tr>
          <th className="m" />
          <th scope="col">List</th>
          <th scope="col" className="num">
            Records
          </th>
          <th scope="col">Told apart by</th>
          <th scope="col" className="spare">
            The first of them
          </th>
        </tr>
      </thead>
      {[...groups].map(([section, members]) => (
        <tbody key={section}>
          <tr className="group">
            <td className="m" />
            <th colSpan={4} scope="rowgroup">
              <span className="mono">{section || 'outside of all sections'}</span>{' '}
              <span className="dim">{count(members.length, 'list')}</span>
            </th>
          </tr>
          {members.map((one) => (
            <Fragment key={`${one.path} ${one.item}`}>
              <tr>
                <td className="m" />
                <th scope="row">
                  <span className="mono">{pathWords(one.path) || one.path}</span>
                  {one.item && <span className="mono dim"> / {one.item}</span>}
                </th>
                <td className="num">{number(one.count)}</td>
                <td>{keyWords(one.key)}</td>
                <td className="mono sample spare">{one.sample.join(', ')}</td>
              </tr>
            </Fragment>
          ))}
        </tbody>
      ))}
    </table>
  );
}

function keyWords(key: Key) {
  switch (key.by) {
    case 'tag':
      return 'its own tag';
    case 'attribute':
      return (
        <>
          attribute <code>{key.name}</code>
        </>
      );
    case 'leaf':
      return <code>{key.path.join(' / ')}</code>;
    case 'position':
      return <span className="dim">its place only</span>;
    default:
      return key satisfies never;
  }
}
