import { useState } from 'react';
import type { CarryDetail, CarryLink, CarryLinks } from '../../core/index.ts';
import { Choice } from '../../ui/controls.tsx';
import { needWords, wayWords } from '../../words/carry.ts';
import { count, number } from '../../words/numbers.ts';
import './needs.css';

/** Height of a box with its gap, units of CSS; boxes that a column draws. */
const PITCH = 46;
const MOST = 6;

/** What a record needs and what needs it: a drawing, or the same as a list with the ways. */
export function Needs({ detail, onChoose }: { detail: CarryDetail; onChoose: (id: string) => void }) {
  const [look, setLook] = useState<'drawing' | 'list'>('drawing');
  const { needs, neededBy } = detail;
  if (needs.total + neededBy.total === 0)
    return <p className="alone dim">It needs no other record, and none needs it.</p>;
  return (
    <section className="needs" aria-label="Needs and needed by">
      <div className="row caption">
        <h3>
          {told(neededBy, 'Needed by', 'Needed by none')}, {told(needs, 'needs', 'needs none')}
        </h3>
        <Choice
          label="Show needs as"
          options={[
            ['drawing', 'Drawing'],
            ['list', 'List'],
          ]}
          chosen={look}
          onChoose={setLook}
        />
      </div>
      {look === 'drawing' ? (
        <Drawing detail={detail} onChoose={onChoose} onList={() => setLook('list')} />
      ) : (
        <>
          <List title="Needed by" links={neededBy} onChoose={onChoose} />
          <List title="Needs" links={needs} onChoose={onChoose} />
        </>
      )}
    </section>
  );
}

function told({ total, links }: CarryLinks, some: string, none: string): string {
  if (total === 0) return none;
  const direct = links.filter(({ steps }) => steps === 1).length;
  const through = total - direct;
  return through > 0 ? `${some} ${number(direct)} and ${number(through)} through them` : `${some} ${number(total)}`;
}

/** Direct ones in their order, each with what is reached through it right below. */
function arranged(links: readonly CarryLink[]): CarryLink[] {
  const direct = links.filter(({ steps }) => steps === 1);
  const rest = links.filter(({ steps }) => steps > 1);
  const placed = direct.flatMap((link) => [link, ...rest.filter(({ why }) => why[0]!.path === link.mark.path)]);
  return [...placed, ...rest.filter((link) => !placed.includes(link))];
}

function Drawing({
  detail,
  onChoose,
  onList,
}: {
  detail: CarryDetail;
  onChoose: (id: string) => void;
  onList: () => void;
}) {
  const left = arranged(detail.neededBy.links).slice(0, MOST);
  const right = arranged(detail.needs.links).slice(0, MOST);
  const rows = Math.max(left.length, right.length, 1);
  const middle = (rows * PITCH) / 2;
  const more = (links: CarryLinks, shown: number) => links.total - shown;
  return (
    <div className="hang">
      <div className="wires" style={{ height: rows * PITCH }}>
        <Side links={left} rows={rows} side="left" onChoose={onChoose} />
        <div className={`box this ${detail.row.fate === 'left-out' ? 'gone' : ''}`} style={{ top: middle - 20 }}>
          <b className="mono">{detail.row.name}</b>
          <span className="cap">{detail.row.fate === 'left-out' ? 'left out' : detail.row.tag}</span>
        </div>
        <Side links={right} rows={rows} side="right" onChoose={onChoose} />
        {left.length > 0 && <Bus side="left" rows={rows} amount={left.length} />}
        {right.length > 0 && <Bus side="right" rows={rows} amount={right.length} />}
      </div>
      {more(detail.neededBy, left.length) + more(detail.needs, right.length) > 0 && (
        <button type="button" className="link" onClick={onList}>
          {number(more(detail.neededBy, left.length) + more(detail.needs, right.length))} more, in the list
        </button>
      )}
    </div>
  );
}

const topOf = (at: number, amount: number, rows: number) => ((rows - amount) * PITCH) / 2 + at * PITCH;

function Side({
  links,
  rows,
  side,
  onChoose,
}: {
  links: readonly CarryLink[];
  rows: number;
  side: 'left' | 'right';
  onChoose: (id: string) => void;
}) {
  return links.map((link, at) => {
    const top = topOf(at, links.length, rows);
    const last = link.why.at(-1)!;
    return (
      <div key={`${link.mark.path} ${link.steps}`}>
        <button
          type="button"
          className={`box ${side} ${link.gone ? 'gone' : ''} ${link.steps > 1 ? 'through' : ''}`}
          style={{ top: top + 3 }}
          title={wayWords(link)}
          onClick={() => onChoose(link.mark.path)}
        >
          <b className="mono">{link.mark.name}</b>
          <span className="cap">
            {link.gone ? 'left out' : link.mark.section}
            {`, ${needWords(side === 'left' ? link.why[0]! : last)}`}
          </span>
        </button>
        <i className={`stub ${side} ${link.gone ? 'gone' : ''}`} style={{ top: top + PITCH / 2 }} />
      </div>
    );
  });
}

/** The upright line that a side's level runs meet, and the run to the record itself. */
function Bus({ side, rows, amount }: { side: 'left' | 'right'; rows: number; amount: number }) {
  const first = topOf(0, amount, rows) + PITCH / 2;
  const last = topOf(amount - 1, amount, rows) + PITCH / 2;
  return (
    <>
      <i className={`bus ${side}`} style={{ top: first, height: Math.max(1, last - first) }} />
      <i className={`run ${side}`} style={{ top: (rows * PITCH) / 2 }} />
    </>
  );
}

function List({ title, links, onChoose }: { title: string; links: CarryLinks; onChoose: (id: string) => void }) {
  if (links.total === 0) return null;
  return (
    <>
      <h4>{title}</h4>
      <ul className="lines ways">
        {arranged(links.links).map((link) => (
          <li key={`${link.mark.path} ${link.steps}`} className={link.gone ? 'wrong' : undefined}>
            <span>
              <button type="button" className="link" onClick={() => onChoose(link.mark.path)}>
                <span className="mono">{link.mark.name}</span>
              </button>
              <span className="dim"> {wayWords(link)}</span>
            </span>
            <span className="nowrap">{link.gone ? 'left out' : `line ${number(link.mark.line)}`}</span>
          </li>
        ))}
      </ul>
      {links.total > links.links.length && (
        <p className="dim">and {count(links.total - links.links.length, 'more', 'more')}</p>
      )}
    </>
  );
}
