import { useState } from 'react';
import { list } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';
import { type Cabling, type Cord, cordsOf, endWords, isItsPort, nameTrouble, roleTitle } from './cords.ts';
import { Follows } from './follows.tsx';
import type { Hold } from './hold.ts';
import { LeaveOut } from './leave-out.tsx';
import { backStep, dropPort, dropRole, offStep, tagBefore } from './moves.ts';
import { NameField } from './name-field.tsx';
import { socketRemark } from './places.ts';
import { bareSocket, type Socket } from './sockets.ts';
import { take } from './use-ports.ts';

/** One role: where it was, where it goes, all that can be done with it. */
export function RoleSide({
  cord,
  cabling,
  sockets,
  hold,
  onLook,
}: {
  cord: Cord;
  cabling: Cabling;
  sockets: readonly Socket[];
  hold: Hold;
  onLook: (place: SourcePlace) => void;
}) {
  const { role, state, end, no } = cord;
  const was = tagBefore(cabling, cord);
  const oldPort = cabling.rows.find((row) => cordsOf(row).includes(cord));
  const wasOn = endWords(role.port === null ? null : { socket: oldPort?.name ?? role.port, tag: was });
  return (
    <>
      <section>
        <div className="cap">Role on cord {no}</div>
        <h2>{roleTitle(role)}</h2>
        <dl className="facts">
          <dt>Named</dt>
          <dd className="mono">{role.name}</dd>
          <dt>Address</dt>
          <dd className="mono">{role.address ?? <span className="dim">none in its record</span>}</dd>
          <dt>Was on</dt>
          <dd className="mono">{wasOn}</dd>
          <dt>Goes to</dt>
          <dd className={`mono ${end && !state.moved && end.socket === oldPort?.name ? '' : 'mine'}`}>
            {endWords(end)}
            {end?.device && end.device !== end.socket && <span className="dim"> {end.device}</span>}
          </dd>
        </dl>
        {state.adds && (
          <p className="mine adds">
            Adds one record, for <code>{state.adds}</code>, in the manner of the others in this file.
          </p>
        )}
        <Place key={`${state.path} ${endWords(end)}`} {...{ cord, cabling, sockets, hold }} />
        <div className="row acts">
          {state.moved && (
            <button type="button" className="btn small plan" onClick={() => take(backStep(cord))}>
              Give it back to {wasOn}
            </button>
          )}
          {end && !isItsPort(cord) && (
            <button type="button" className="btn small plan" onClick={() => take(offStep(cord))}>
              Take it off its port
            </button>
          )}
          <LeaveOut key={state.path} cord={cord} onLook={onLook} />
        </div>
        <button type="button" className="link" onClick={() => onLook(role.place)}>
          Look at its record, line {role.place.line}
        </button>
      </section>
      <Follows follows={role.follows} named={roleTitle(role)} onLook={onLook} />
    </>
  );
}

/** Port and VLAN ID, then alone or with all that hangs on the old port. */
function Place({
  cord,
  cabling,
  sockets,
  hold,
}: {
  cord: Cord;
  cabling: Cabling;
  sockets: readonly Socket[];
  hold: Hold;
}) {
  const { end } = cord;
  const old = cabling.rows.find((row) => cordsOf(row).includes(cord)) ?? null;
  const [name, setName] = useState(end?.socket ?? '');
  const [id, setId] = useState(String((end ? end.tag : tagBefore(cabling, cord)) ?? ''));
  const tag = id.trim() === '' ? null : Number(id);
  const idTrouble =
    tag !== null && !(Number.isInteger(tag) && tag >= 1 && tag <= 4094)
      ? 'A VLAN ID is a number from 1 to 4094.'
      : null;
  const socket = sockets.find((one) => one.name === name) ?? bareSocket(name);
  const ready = name !== '' && nameTrouble(name) === null && idTrouble === null;
  const same = end !== null && end.socket === name && end.tag === tag;
  const others = old ? cordsOf(old).length - 1 : 0;
  const tryDrop = (drop: ReturnType<typeof dropRole>, held: Parameters<Hold['putOn']>[0]) => {
    if (drop.do === 'step') take(drop.step);
    else if (drop.do !== 'nothing') hold.ask({ held, socket, drop });
  };
  const alone = () => ready && !same && tryDrop(dropRole(cabling, cord, socket, tag), { kind: 'role', cord });
  const whole = () => old && ready && tryDrop(dropPort(old, socket), { kind: 'port', row: old });
  return (
    <form
      className="place"
      onSubmit={(event) => {
        event.preventDefault();
        alone();
      }}
    >
      <div className="place-fields">
        <div>
          <div className="cap">Put it on</div>
          <NameField
            label={`Port for ${roleTitle(cord.role)}`}
            listLabel="Ports of the new box"
            value={name}
            mine={name !== (end?.socket ?? '')}
            items={sockets.map((one) => ({ id: one.name, remark: socketRemark(one) }))}
            troubleOf={(draft) => {
              const words = nameTrouble(draft);
              return words === null ? null : { weight: 'break', words };
            }}
            onType={setName}
            onDecide={setName}
          />
        </div>
        <label className="cap">
          VLAN ID
          <input
            className={`field tag-field ${idTrouble ? 'bad' : ''}`}
            inputMode="numeric"
            autoComplete="off"
            placeholder="untagged"
            aria-invalid={idTrouble !== null}
            value={id}
            onChange={(event) => setId(event.target.value)}
          />
        </label>
      </div>
      {idTrouble && (
        <p className="field-problem wrong" role="status">
          {idTrouble}
        </p>
      )}
      <div className="row">
        <button type="submit" className="btn small plan" aria-disabled={!ready || same}>
          {others > 0 ? 'Move it alone' : 'Move the role'}
        </button>
        {old && (
          <button type="button" className="btn small plan" aria-disabled={!ready || old.to === name} onClick={whole}>
            {others > 0 ? `Move ${old.name} with its ${others + 1} roles` : `Move all of ${old.name}`}
          </button>
        )}
      </div>
      <p className="dim small">
        {others > 0
          ? `Alone, only this role changes. With ${old!.name} go ${list(
              cordsOf(old!)
                .filter((one) => one !== cord)
                .map(({ role }) => roleTitle(role)),
            )}, too, tags as they are.`
          : old
            ? `The role alone, or every place that names ${old.name}.`
            : 'Nothing else of the file changes.'}
      </p>
    </form>
  );
}
