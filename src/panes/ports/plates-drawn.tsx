import type { CSSProperties, KeyboardEvent, PointerEvent } from 'react';
import type { Finding } from '../../core/index.ts';
import { Mark } from '../../ui/marks.tsx';
import { Said } from '../../ui/said.tsx';
import { Weight } from '../../ui/weight.tsx';
import { findingWords } from '../../words/findings.ts';
import { count, list, number } from '../../words/numbers.ts';
import { speedWords } from '../../words/receiver.ts';
import { weightNames, weightOf, weights } from '../../words/weights.ts';
import { bareWords, type Cord, cordsOf, deviceTitle, endWords, roleTitle, strand } from './cords.ts';
import { type Held, heldName } from './moves.ts';
import { holdsWords } from './places.ts';
import { MOST_WRONG, type NewPlate, type OldPlate } from './plates.ts';
import { isFree, type Socket } from './sockets.ts';

/** What makes a drawn thing one that can be chosen and pulled. */
interface Holder {
  chosen: boolean;
  holdKey: string;
  tabIndex: number;
  onFocus: () => void;
  onChoose: () => void;
  onKeyDown: (event: KeyboardEvent) => void;
  onPress: (event: PointerEvent) => void;
}

/** The heaviest of some findings; null for none that matters here. */
function worst(findings: readonly Finding[]) {
  const found = new Set(findings.map(weightOf));
  return weights.find((weight) => found.has(weight)) ?? null;
}

const kindWords = ({ row, entries }: OldPlate): string => {
  const tags = entries.filter(({ device }) => device?.tag != null).length;
  if (tags) return count(tags, 'tag');
  if (row.kind === 'aggregate') return 'aggregate';
  return cordsOf(row).length ? '' : bareWords(row);
};

export function OldPlateView({
  plate,
  left,
  width,
  wrong,
  ...holder
}: { plate: OldPlate; left: number; width: number; wrong: readonly Finding[] } & Holder) {
  const { row } = plate;
  const weight = row.clashes.length > 0 ? 'stop' : worst(wrong);
  const moved = row.to !== row.name || cordsOf(row).some(({ state }) => state.moved);
  const many = cordsOf(row).length;
  return (
    <>
      {weight ? (
        <span className="mk" style={{ top: plate.y - 8 }}>
          <Weight weight={weight}>
            <span className="spoken">{weightNames[weight].name}</span>
          </Weight>
        </span>
      ) : (
        moved && (
          <span className="mk mine" style={{ top: plate.y - 8 }}>
            <Mark name="changed" />
          </span>
        )
      )}
      <div className="pl" style={{ left, width, top: plate.top, height: plate.height }}>
        {plate.entries.map(({ device, cord, y }, at) => (
          <div key={`${device!.name} ${cord?.no}`} className="prow" style={{ top: y - plate.top - 16 }}>
            {at === 0 ? (
              <>
                <span className="nm">{row.name}</span>
                <span className="sp cap">{kindWords(plate)}</span>
              </>
            ) : (
              <Branch name={deviceTitle(device!, row.name)} port={row.name} tag={device!.tag} />
            )}
          </div>
        ))}
      </div>
      <button
        type="button"
        className="plate-hold"
        data-column="old"
        data-hold={holder.holdKey}
        aria-pressed={holder.chosen}
        tabIndex={holder.tabIndex}
        style={{ left, width: width + 10, top: plate.top, height: 32 }}
        onFocus={holder.onFocus}
        onClick={holder.onChoose}
        onKeyDown={holder.onKeyDown}
        onPointerDown={holder.onPress}
      >
        <span className="spoken">
          Port {row.name}
          {many > 1 && ` with its ${many} roles`}, goes to {row.to}
        </span>
      </button>
    </>
  );
}

function Branch({ name, port, tag }: { name: string; port: string; tag: number | null }) {
  const short = name.startsWith(port) && name !== port ? name.slice(port.length) : name;
  return (
    <>
      <span className="branch" aria-hidden="true" />
      <span className="mono">{short}</span>
      {tag !== null && !short.includes(String(tag)) && <span className="cap">tag {tag}</span>}
    </>
  );
}

export function FlagView({
  cord,
  goes,
  bad,
  style,
  ...holder
}: { cord: Cord; goes: boolean; bad: boolean; style: CSSProperties } & Holder) {
  const { no, role, end } = cord;
  return (
    <button
      type="button"
      className={`flag ${bad ? 'bad' : ''}`}
      data-column="role"
      data-hold={holder.holdKey}
      aria-pressed={holder.chosen}
      tabIndex={holder.tabIndex}
      style={style}
      onFocus={holder.onFocus}
      onClick={holder.onChoose}
      onKeyDown={holder.onKeyDown}
      onPointerDown={holder.onPress}
    >
      <span className="flag-in">
        <svg width="6" height="24" aria-hidden="true">
          <path d="M3 0v24" style={strand(no)} strokeWidth="3" />
        </svg>
        <span className="no">{no}</span>
        <span className="tx">
          <b className={goes ? undefined : 'struck'}>{roleTitle(role)}</b>
          <span className="mono">{goes ? (role.address ?? role.name) : 'left out'}</span>
        </span>
        <span className="spoken">, on {endWords(end)}</span>
      </span>
    </button>
  );
}

export function NewPlateView({
  plate,
  left,
  width,
  held,
  over,
  onPut,
  onPull,
}: {
  plate: NewPlate;
  left: number;
  width: number;
  held: Held | null;
  over: boolean;
  onPut: () => void;
  onPull: (event: PointerEvent) => void;
}) {
  const { socket } = plate;
  const free = isFree(socket);
  const bad = worst(socket.wrong);
  const look = [bad === 'stop' || bad === 'break' ? 'bad' : '', free ? 'free' : '', over ? 'over' : ''].join(' ');
  return (
    <>
      <div className={`pl ${look}`} style={{ left, width, top: plate.top, height: plate.height }}>
        {plate.entries.map(({ device, cord, y }, at) => (
          <div key={`${device?.name} ${cord?.no} ${at}`} className="prow fresh" style={{ top: y - plate.top - 16 }}>
            {at === 0 ? (
              <PlateHead socket={socket} cord={cord} />
            ) : (
              <>
                {cord?.end?.tag === null ? (
                  <span className="branch none" aria-hidden="true" />
                ) : (
                  <Branch
                    name={(cord ? cord.end!.device : device!.to) ?? `VLAN ${cord!.end!.tag}`}
                    port={socket.name}
                    tag={cord ? cord.end!.tag : device!.tag}
                  />
                )}
                <span className={`ds ${cord?.state.moved ? 'mine' : ''}`}>{cord && roleTitle(cord.role)}</span>
                <span className="sp cap">{cord && `cord ${cord.no}`}</span>
              </>
            )}
          </div>
        ))}
        {socket.wrong.length > 0 && <Wrong findings={socket.wrong} />}
      </div>
      <span className="pull" style={{ left: left - 12, top: plate.y - 12 }} onPointerDown={onPull} />
      {held && (
        <button
          type="button"
          className="plate-put"
          data-column="new"
          data-socket={socket.name}
          style={{ left, width, top: plate.top, height: plate.height }}
          onClick={onPut}
        >
          <span className="spoken">
            {isOn(held, socket) ? `Leave ${heldName(held)} on` : `Put ${heldName(held)} on`} {socket.name},{' '}
            {holdsWords(socket)}
          </span>
        </button>
      )}
    </>
  );
}

const isOn = (held: Held, { name }: Socket) =>
  held.kind === 'port' ? held.row.to === name : held.cord.end?.socket === name;

/** Name, who sits there untagged, the label on the box, the speed. */
function PlateHead({ socket, cord }: { socket: Socket; cord: Cord | null }) {
  const { name, port, rows, cords } = socket;
  const was = rows.filter((row) => row.to !== row.name).map((row) => row.name);
  const moved = was.length > 0 || cords.some(({ state }) => state.moved);
  const speed = speedWords(port?.speedMbit ?? null);
  const what = cord
    ? roleTitle(cord.role)
    : cords.length > 0
      ? 'trunk'
      : isFree(socket)
        ? 'nothing plugged in'
        : list(rows.map(bareWords));
  return (
    <>
      <span className={`nm ${moved ? 'mine' : ''}`}>{name}</span>
      <span className={`ds ${cord ? '' : 'dim'}`}>
        {what}
        {port?.label && <span className="lb cap">label: {port.label}</span>}
      </span>
      <span className="sp cap">
        {cord && `cord ${cord.no} `}
        {!cord && was.length > 0 && `was ${was.join(', ')} `}
        {speed}
        {rows.some(({ kind }) => kind === 'aggregate') && ' aggregate'}
      </span>
    </>
  );
}

function Wrong({ findings }: { findings: readonly Finding[] }) {
  return (
    <div className="wrongs">
      {findings.slice(0, MOST_WRONG).map((finding, at) => {
        const weight = weightOf(finding);
        return (
          <p key={at} className={`wrong-line ${weight === 'stop' || weight === 'break' ? 'wrong' : ''}`}>
            <Weight weight={weight} />
            <span className="wrong-words">
              {weightNames[weight].name}: <Said parts={findingWords(finding).what} />
            </span>
          </p>
        );
      })}
      {findings.length > MOST_WRONG && (
        <p className="wrong-more dim">and {number(findings.length - MOST_WRONG)} more, on sheet 4</p>
      )}
    </div>
  );
}
