import { useId, useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { Place, SubnetView } from '../../core/index.ts';
import { Choice } from '../../ui/controls.tsx';
import { count, number } from '../../words/numbers.ts';
import { BAR, type Bar, layMap } from './map-layout.ts';
import { SubnetTable } from './subnet-table.tsx';
import './subnet-map.css';

const NARROWEST = 264;
/** Single addresses drawn in one bar. */
const DOTS = 200;

/** The networks of the roles in the order of their addresses: as a drawing, and as a table that says the same. */
export function SubnetMap({
  subnets,
  marked,
  onPlace,
}: {
  subnets: readonly SubnetView[];
  /** Names of roles that the chosen finding is about. */
  marked: ReadonlySet<string>;
  onPlace: (place: Place) => void;
}) {
  const [how, setHow] = useState<'drawing' | 'table'>('drawing');
  const doubled = subnets.filter(({ overlaps }) => overlaps.length > 0).length;
  return (
    <section className="map" aria-labelledby="subnet-map">
      <header>
        <h2 id="subnet-map">Subnet map</h2>
        <span className="cap">{count(subnets.length, 'network')}</span>
        <Choice
          label="Subnet map as"
          options={[
            ['drawing', 'Drawing'],
            ['table', 'Table'],
          ]}
          chosen={how}
          onChoose={setHow}
        />
      </header>
      {how === 'drawing' ? (
        <>
          <Drawing {...{ subnets, marked, doubled }} />
          <Legend doubled={doubled > 0} />
        </>
      ) : (
        <SubnetTable {...{ subnets, onPlace }} />
      )}
    </section>
  );
}

function Drawing({
  subnets,
  marked,
  doubled,
}: {
  subnets: readonly SubnetView[];
  marked: ReadonlySet<string>;
  doubled: number;
}) {
  const id = useId();
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(NARROWEST);
  useLayoutEffect(() => {
    const watch = new ResizeObserver(([entry]) => setWidth(Math.max(NARROWEST, Math.floor(entry!.contentRect.width))));
    watch.observe(box.current!);
    return () => watch.disconnect();
  }, []);
  const map = useMemo(() => layMap(subnets, width), [subnets, width]);
  const { ruler } = map;
  const name = `Subnet map of ${count(subnets.length, 'network')}, ${doubled ? `${doubled} of them overlap` : 'none of them overlap'}. The table says the same.`;
  return (
    <div className="drawing" ref={box}>
      <svg
        width={map.width}
        height={map.height}
        viewBox={`0 0 ${map.width} ${map.height}`}
        role="img"
        aria-label={name}
      >
        <defs>
          <Hatch id={`${id}pool`} colour="var(--ink-2)" step={5} />
          <Hatch id={`${id}twice`} colour="var(--red)" step={5} turned />
        </defs>
        {ruler && (
          <g className="ruling">
            <path d={`M${ruler.x} ${ruler.y}h${ruler.width}`} />
            {[0, 32, 64, 96, 128, 160, 192, 224, 255].map((octet) => {
              const x = ruler.x + (octet === 255 ? 1 : octet / 256) * ruler.width;
              const isEnd = octet === 0 || octet === 255;
              return (
                (isEnd || octet % (ruler.width < 300 ? 64 : 32) === 0) && (
                  <g key={octet}>
                    <path className="tick" d={`M${x} ${ruler.y}v-5`} />
                    <path className="line" d={`M${x} ${ruler.y}V${ruler.bottom}`} />
                    <text x={x} y={ruler.y - 10} textAnchor="middle">
                      .{octet}
                    </text>
                  </g>
                )
              );
            })}
          </g>
        )}
        {map.sixAt !== null && (
          <text className="cap" x={0} y={map.sixAt + 8}>
            Version 6, each in its own length
          </text>
        )}
        {links(map.bars).map((d) => (
          <path key={d} className="twice-link" d={d} />
        ))}
        {map.bars.map((bar) => (
          <Network key={bar.at} {...{ bar, id }} isMarked={marked.has(bar.subnet.role)} />
        ))}
      </svg>
      {map.rest > 0 && <p className="dim">and {number(map.rest)} more, in the table</p>}
    </div>
  );
}

function Hatch({ id, colour, step, turned = false }: { id: string; colour: string; step: number; turned?: boolean }) {
  return (
    <pattern
      id={id}
      width={step}
      height={step}
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${turned ? -45 : 45})`}
    >
      <path d={`M0 0V${step}`} stroke={colour} strokeWidth="1.6" />
    </pattern>
  );
}

function Network({ bar, id, isMarked }: { bar: Bar; id: string; isMarked: boolean }) {
  const { subnet, x, y, width, scale } = bar;
  const { role, own, pools, fixed, gateways, overlaps, enabled } = subnet;
  const at = (share: number) => x + share * width;
  const box = (from: number, to: number) => ({ x: at(from), width: Math.max(1, (to - from) * width) });
  const isInside = overlaps.some(({ from, to }) => from === 0 && to === 1);
  return (
    <g className={`network ${isMarked ? 'marked' : ''} ${enabled ? '' : 'off'}`}>
      <text className="role" x={0} y={y + 8}>
        {cut(role, 20)}
      </text>
      <text className="net" x={0} y={y + 22}>
        {cut(subnet.subnet, 21)}
      </text>
      <rect className={`bar ${isInside ? 'inside' : ''}`} x={x} y={y} width={width} height={BAR} />
      {pools.map(({ first, from, to }) => (
        <rect key={first} {...box(from, to)} y={y + 4} height={BAR - 8} fill={`url(#${id}pool)`} />
      ))}
      {!isInside &&
        overlaps.map(({ first, with: other, from, to }) => (
          <rect
            key={`${first} ${other}`}
            className="twice"
            {...box(from, to)}
            y={y}
            height={BAR}
            fill={`url(#${id}twice)`}
          />
        ))}
      {fixed.slice(0, DOTS).map(({ address, at: share }) => (
        <circle key={address} className="fixed" cx={at(share)} cy={y + BAR / 2} r={2.4} />
      ))}
      {gateways.map(({ address, at: share }) => (
        <path key={address} className="gateway" d={diamond(at(share), y + BAR / 2)} />
      ))}
      <path className="own" d={`M${at(own.at)} ${y - 2}v${BAR + 4}`} />
      {(scale || !enabled) && (
        <text className="note" x={x} y={y + BAR + 14}>
          {[scale && `${scale}, in its own length`, !enabled && 'switched off'].filter(Boolean).join('; ')}
        </text>
      )}
    </g>
  );
}

const diamond = (x: number, y: number) => `M${x} ${y - 4}l4 4l-4 4l-4 -4z`;

const cut = (text: string, most: number) => (text.length > most ? `${text.slice(0, most - 1)}…` : text);

/** Lines from the shared part of a bar down to the bar below that lies in it. */
function links(bars: readonly Bar[]): string[] {
  return bars.slice(1).flatMap((inner, at) => {
    const outer = bars[at]!;
    const isIn = inner.subnet.overlaps.some(
      ({ from, to, with: other }) => from === 0 && to === 1 && other === outer.subnet.role,
    );
    const shared = outer.subnet.overlaps.find(({ with: other }) => other === inner.subnet.role);
    // Lines between bars of different scales would lie.
    if (!isIn || !shared || outer.scale || inner.scale) return [];
    const line = (from: number, to: number) => `M${from} ${outer.y + BAR}L${to} ${inner.y}`;
    return [
      line(outer.x + shared.from * outer.width, inner.x),
      line(outer.x + shared.to * outer.width, inner.x + inner.width),
    ];
  });
}

function Legend({ doubled }: { doubled: boolean }) {
  const id = useId();
  return (
    <ul className="legend">
      <li>
        <svg width="20" height="14" aria-hidden="true">
          <path className="own" d="M10 1v12" />
        </svg>
        the box’s own address
      </li>
      <li>
        <svg width="20" height="14" aria-hidden="true">
          <defs>
            <Hatch id={`${id}pool`} colour="var(--ink-2)" step={5} />
          </defs>
          <rect y="3" width="20" height="8" fill={`url(#${id}pool)`} />
        </svg>
        pool it hands out
      </li>
      <li>
        <svg width="20" height="14" aria-hidden="true">
          <circle className="fixed" cx="10" cy="7" r="2.4" />
        </svg>
        host with a fixed address
      </li>
      <li>
        <svg width="20" height="14" aria-hidden="true">
          <path className="gateway" d={diamond(10, 7)} />
        </svg>
        router next door
      </li>
      {doubled && (
        <li className="sev stop">
          <svg width="20" height="14" aria-hidden="true">
            <defs>
              <Hatch id={`${id}twice`} colour="var(--red)" step={5} turned />
            </defs>
            <rect className="twice" x=".5" y=".5" width="19" height="13" fill={`url(#${id}twice)`} />
          </svg>
          the same addresses twice
        </li>
      )}
    </ul>
  );
}
