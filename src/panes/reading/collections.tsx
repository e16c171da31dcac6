import { Fragment, useMemo, useState } from 'react';
import type { CollectionView, Key } from '../../core/index.ts';
import { useOpened } from '../../state/selectors.ts';
import { Mark } from '../../ui/marks.tsx';
import { listName } from '../../words/lists.ts';
import { count, number } from '../../words/numbers.ts';
import { Keys, keyText, keyWords } from './keys.tsx';
import { useSaid } from './said.tsx';

/** Lists of one shape that stand in more than one place, told as one. */
interface Shape {
  readonly name: string;
  readonly list: string;
  readonly inLines: boolean;
  readonly item: string | null;
  readonly key: Key;
  readonly section: string;
  count: number;
  places: number;
  readonly sample: string[];
}

function shapesOf(collections: readonly CollectionView[]): Shape[] {
  const shapes = new Map<string, Shape>();
  for (const { list, inLines, key, count: amount, sample, section } of collections) {
    const id = JSON.stringify([list, key, section]);
    const shape = shapes.get(id) ?? {
      ...heldName(list),
      list,
      inLines,
      key,
      section,
      count: 0,
      places: 0,
      sample: [],
    };
    shapes.set(id, shape);
    shape.count += amount;
    shape.places++;
    for (const one of sample) if (shape.sample.length < 3 && !shape.sample.includes(one)) shape.sample.push(one);
  }
  return [...shapes.values()];
}

/** What holds the records, and what each is called; records by their tags, and at the top, have one name. */
function heldName(list: string): Pick<Shape, 'name' | 'item'> {
  const name = listName(list);
  const cut = list.endsWith('/*') ? -1 : name.lastIndexOf(' / ');
  return cut === -1 ? { name, item: null } : { name: name.slice(0, cut), item: name.slice(cut + 3) };
}

/** A list that is alone in its section and is called after it needs no line above it. */
const needsHead = (section: string, members: readonly Shape[]): boolean =>
  members.length > 1 || (members.length === 1 && members[0]!.name.split(' / ')[0] !== section);

/** Lists of records: what they are called, how many, and how one is told from the next. */
export function Collections() {
  const { backup } = useOpened();
  const shapes = useMemo(() => shapesOf(backup.collections), [backup.collections]);
  const [open, setOpen] = useState<string | null>(null);
  const told = new Set(useSaid('key').map(({ collection }) => collection));
  const groups = new Map<string, Shape[]>();
  for (const { name } of backup.sections) groups.set(name, []);
  for (const one of shapes) groups.set(one.section, [...(groups.get(one.section) ?? []), one]);
  if (shapes.length === 0) return <p className="quiet-note">No list of records was found in this file.</p>;
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
          {needsHead(section, members) && (
            <tr className="group">
              <td className="m" />
              <th colSpan={4} scope="rowgroup">
                <span className="mono">{section || 'outside of all sections'}</span>{' '}
                <span className="dim">{count(members.length, 'list')}</span>
              </th>
            </tr>
          )}
          {members.map((one) => {
            const id = JSON.stringify([one.list, one.section]);
            return (
              <Fragment key={JSON.stringify([one.list, one.key])}>
                <tr className={open === id ? 'sel' : undefined}>
                  <td className="m">
                    {told.has(one.list) && (
                      <span className="mine">
                        <Mark name="ok" />
                      </span>
                    )}
                  </td>
                  <th scope="row">
                    <span className="mono">{one.name}</span>
                    {one.item && <span className="mono dim"> / {one.item}</span>}
                    {one.places > 1 && <span className="dim"> in {number(one.places)} places</span>}
                  </th>
                  <td className="num">{number(one.count)}</td>
                  <td>
                    <button
                      type="button"
                      className="link"
                      aria-expanded={open === id}
                      aria-label={`${one.name} is told apart by ${keyText(one.key, one.inLines)}, change it`}
                      onClick={() => setOpen(open === id ? null : id)}
                    >
                      {keyWords(one.key, one.inLines)}
                    </button>
                  </td>
                  <td className="mono sample spare">{one.sample.join(', ')}</td>
                </tr>
                {open === id && (
                  <tr>
                    <td className="m" />
                    <td colSpan={4}>
                      <Keys list={one.list} chosen={one.key} inLines={one.inLines} />
                    </td>
                  </tr>
                )}
              </Fragment>
            );
          })}
        </tbody>
      ))}
    </table>
  );
}
