import { useMemo } from 'react';
import type { CollectionView, Key } from '../../core/index.ts';
import { useOpened } from '../../state/selectors.ts';
import { pathWords } from '../../words/decisions.ts';
import { count, number } from '../../words/numbers.ts';

/** Lists of one shape that stand in more than one place, told as one. */
interface Shape {
  readonly name: string;
  readonly item: string | null;
  readonly key: Key;
  readonly section: string;
  count: number;
  places: number;
  readonly sample: string[];
}

function shapesOf(collections: readonly CollectionView[]): Shape[] {
  const shapes = new Map<string, Shape>();
  for (const { path, item, key, count: amount, sample, section } of collections) {
    const name = pathWords(path.replace(/\[\d+\]/g, '[1]')) || path;
    const id = JSON.stringify([name, item, key, section]);
    const shape = shapes.get(id) ?? { name, item, key, section, count: 0, places: 0, sample: [] };
    shapes.set(id, shape);
    shape.count += amount;
    shape.places++;
    for (const one of sample) if (shape.sample.length < 3 && !shape.sample.includes(one)) shape.sample.push(one);
  }
  return [...shapes.values()];
}

/** Lists of records: what they are called, how many, and how one is told from the next. */
export function Collections() {
  const { backup } = useOpened();
  const shapes = useMemo(() => shapesOf(backup.collections), [backup.collections]);
  const groups = new Map<string, Shape[]>();
  for (const one of shapes) groups.set(one.section, [...(groups.get(one.section) ?? []), one]);
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
            <tr key={JSON.stringify([one.name, one.item, one.key])}>
              <td className="m" />
              <th scope="row">
                <span className="mono">{one.name}</span>
                {one.item && <span className="mono dim"> / {one.item}</span>}
                {one.places > 1 && <span className="dim"> in {number(one.places)} places</span>}
              </th>
              <td className="num">{number(one.count)}</td>
              <td>{keyWords(one.key)}</td>
              <td className="mono sample spare">{one.sample.join(', ')}</td>
            </tr>
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
