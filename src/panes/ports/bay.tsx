import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import { usePlan } from '../../state/selectors.ts';
import { Mark } from '../../ui/marks.tsx';
import { Weight } from '../../ui/weight.tsx';
import { count } from '../../words/numbers.ts';
import { Ticks } from '../carry/ticks.ts';
import { layBay, type Plate } from './bay-layout.ts';
import { type Cord, cordsOf, type PortRow, roleTitle, strand } from './cords.ts';

const NARROWEST = 860;

/** The patch bay: old box, roles, new box, and a cord for each role. The table shows the same. */
export function Bay({
  rows,
  host,
  chosen,
  onChoose,
}: {
  rows: readonly PortRow[];
  host: string;
  chosen: number | null;
  onChoose: (no: number) => void;
}) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(NARROWEST);
  useLayoutEffect(() => {
    const watch = new ResizeObserver(([entry]) => setWidth(Math.max(NARROWEST, Math.floor(entry!.contentRect.width))));
    watch.observe(box.current!);
    return () => watch.disconnect();
  }, []);
  const plan = usePlan();
  const ticks = useMemo(() => new Ticks(plan), [plan]);
  const stays = (cord: Cord) => ticks.goes(cord.role.place.path);
  const bay = layBay(rows, width, stays);
  const { columns } = bay;
  const roles = rows.flatMap(cordsOf).length;
  const moved = rows.filter((row) => row.to !== row.name).length;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would be read as a form
    <div className="bay scroll" ref={box} role="group" aria-label="Patch bay. The table shows the same.">
      <div className="bay-in" style={{ width, height: bay.height + 40 }}>
        <div className="colhead" style={{ width }}>
          <Head
            left={columns.old.left}
            width={columns.old.width}
            name="Old box"
            of={host}
            amount={count(rows.length, 'port')}
          />
          <Head
            left={columns.flag.left}
            width={columns.flag.width}
            name="Roles"
            of="by cord"
            amount={count(roles, 'role')}
          />
          <Head
            left={columns.fresh.left}
            width={columns.fresh.width}
            name="New box"
            of=""
            amount={moved ? `${moved} moved` : 'as before'}
          />
        </div>
        <div className="bay-floor">
          <svg className="cords" width={width} height={bay.height} aria-hidden="true">
            {bay.bundles.map(({ row, strands, loose, hair, sheath, collars }) => (
              <g key={row.name} fill="none">
                {hair && <path d={hair} stroke="var(--edge)" strokeWidth="1.25" />}
                {sheath && (
                  <>
                    <path d={sheath.d} stroke="var(--paper)" strokeWidth={sheath.width + 6} />
                    <path d={sheath.d} stroke="var(--edge)" strokeWidth={sheath.width} />
                    <path d={sheath.d} stroke="var(--paper)" strokeWidth={sheath.width - 2} />
                  </>
                )}
                {(sheath ? [] : [...strands, ...loose]).map(({ d }) => (
                  <path key={d} d={d} stroke="var(--paper)" strokeWidth="6" />
                ))}
                {[...strands, ...loose].map(({ d, no }) => (
                  <path key={d} d={d} style={strand(no)} strokeWidth={no === chosen ? 3.5 : 2.25} />
                ))}
                {loose.map(({ no, x, y }) => (
                  <circle
                    key={no}
                    cx={x}
                    cy={y}
                    r="5"
                    fill="var(--paper)"
                    style={{ stroke: strand(no).stroke }}
                    strokeWidth="2"
                  />
                ))}
                {collars.map(({ x, y, height }) => (
                  <rect
                    key={x}
                    x={x}
                    y={y}
                    width="11"
                    height={height}
                    fill="var(--paper)"
                    stroke="var(--edge)"
                    strokeWidth="1.2"
                  />
                ))}
              </g>
            ))}
          </svg>
          {bay.old.map((plate) => (
            <OldPlate key={plate.name} plate={plate} {...columns.old} />
          ))}
          {bay.fresh.map((plate) => (
            <NewPlate key={plate.name} plate={plate} {...columns.fresh} />
          ))}
          {bay.old.flatMap((plate) =>
            plate.entries.map(
              ({ cord, y }) =>
                cord && (
                  <Flag
                    key={cord.no}
                    cord={cord}
                    stays={stays(cord)}
                    chosen={cord.no === chosen}
                    onChoose={onChoose}
                    style={{ left: columns.flag.left, width: columns.flag.width, top: y - 16 }}
                  />
                ),
            ),
          )}
          {bay.old
            .filter((plate) => plate.entries.length > 1 && plate.entries[0]!.cord === null)
            .map((plate) => (
              <span key={plate.name} className="cap harness" style={{ left: columns.flag.left + 40, top: plate.y - 7 }}>
                harness of {cordsOf(plate.rows[0]!).length}, moves as one
              </span>
            ))}
          <svg className="cords" width={width} height={bay.height} aria-hidden="true">
            {bay.old.map((plate) => (
              <path
                key={plate.name}
                d={`M${columns.old.left + columns.old.width - 8} ${plate.y - 9}h16v6h-4v6h4v6h-16z`}
                {...socket(plate)}
              />
            ))}
            {bay.fresh.map((plate) => (
              <path
                key={plate.name}
                d={`M${columns.fresh.left - 8} ${plate.y - 9}h16v18h-16v-6h4v-6h-4z`}
                {...socket(plate)}
              />
            ))}
          </svg>
        </div>
      </div>
    </div>
  );
}

function Head({
  left,
  width,
  name,
  of,
  amount,
}: {
  left: number;
  width: number;
  name: string;
  of: string;
  amount: string;
}) {
  return (
    <span className="head-cell" style={{ left, width }}>
      <span>
        <b>{name}</b> {of}
      </span>
      <span>{amount}</span>
    </span>
  );
}

/** A socket has the colour of its one cord; a trunk, an empty one and a clash have none. */
function socket(plate: Plate) {
  const cords = plate.rows.flatMap(cordsOf);
  const clash = plate.rows.length > 1;
  const fill = clash
    ? 'var(--red-tint)'
    : cords.length === 1
      ? strand(cords[0]!.no).stroke
      : cords.length
        ? 'var(--band)'
        : 'var(--paper)';
  return { style: { fill, stroke: clash ? 'var(--red)' : 'var(--edge)' }, strokeWidth: 1.4 };
}

const kindWords = (plate: Plate): string => {
  const [row] = plate.rows;
  const tags = plate.entries.filter(({ device }) => device.tag !== null).length;
  if (tags) return count(tags, 'tag');
  if (row!.kind === 'aggregate') return 'aggregate';
  return cordsOf(row!).length ? '' : 'no role';
};

function OldPlate({ plate, left, width }: { plate: Plate; left: number; width: number }) {
  const [row] = plate.rows;
  const clash = row!.clashes.length > 0;
  return (
    <>
      {clash && (
        <span className="mk" style={{ top: plate.y - 8 }}>
          <Weight weight="stop" />
        </span>
      )}
      {!clash && row!.to !== row!.name && (
        <span className="mk mine" style={{ top: plate.y - 8 }}>
          <Mark name="changed" />
        </span>
      )}
      <div className="pl" style={{ left, width, top: plate.top, height: plate.height }}>
        {plate.entries.map(({ device, cord, y }, at) => (
          <div key={`${device.name} ${cord?.no}`} className="prow" style={{ top: y - plate.top - 16 }}>
            {at === 0 ? (
              <>
                <span className="nm">{device.name}</span>
                <span className="sp cap">{kindWords(plate)}</span>
              </>
            ) : (
              <Branch name={device.name} port={plate.name} tag={device.tag} />
            )}
          </div>
        ))}
      </div>
    </>
  );
}

function Branch({ name, port, tag }: { name: string; port: string; tag: number | null }) {
  const short = name.startsWith(port) ? name.slice(port.length) : name;
  return (
    <>
      <span className="branch" aria-hidden="true" />
      <span className="mono">{short}</span>
      {tag !== null && !short.includes(String(tag)) && <span className="cap">tag {tag}</span>}
    </>
  );
}

function NewPlate({ plate, left, width }: { plate: Plate; left: number; width: number }) {
  const clash = plate.rows.length > 1;
  const moved = plate.rows.some((row) => row.to !== row.name);
  return (
    <div className={`pl ${clash ? 'bad' : ''}`} style={{ left, width, top: plate.top, height: plate.height }}>
      {plate.entries.map(({ device, cord, y }, at) => (
        <div key={`${device.name} ${cord?.no}`} className="prow fresh" style={{ top: y - plate.top - 16 }}>
          {at === 0 ? (
            <span className={`nm ${moved ? 'mine' : ''}`}>{plate.name}</span>
          ) : plate.rows.some((row) => row.name === device.name) ? (
            <span />
          ) : (
            <Branch name={device.to} port={plate.name} tag={device.tag} />
          )}
          <span className="ds">{cord && roleTitle(cord.role)}</span>
          <span className="sp cap">
            {cord
              ? `cord ${cord.no}`
              : at === 0 && !clash && plate.rows[0]!.to !== plate.rows[0]!.name
                ? `was ${plate.rows[0]!.name}`
                : ''}
          </span>
        </div>
      ))}
      {clash && (
        <span className="clash wrong">
          <Weight weight="stop">{plate.rows.map((row) => row.name).join(' and ')} on one port</Weight>
        </span>
      )}
    </div>
  );
}

function Flag({
  cord,
  stays,
  chosen,
  onChoose,
  style,
}: {
  cord: Cord;
  stays: boolean;
  chosen: boolean;
  onChoose: (no: number) => void;
  style: React.CSSProperties;
}) {
  const { no, role } = cord;
  return (
    <button type="button" className="flag" aria-pressed={chosen} style={style} onClick={() => onChoose(no)}>
      <span className="flag-in">
        <svg width="6" height="24" aria-hidden="true">
          <path d="M3 0v24" style={strand(no)} strokeWidth="3" />
        </svg>
        <span className="no">{no}</span>
        <span className="tx">
          <b className={stays ? undefined : 'struck'}>{roleTitle(role)}</b>
          <span className="mono">{stays ? (role.address ?? role.name) : 'left out'}</span>
        </span>
      </span>
    </button>
  );
}
