import { useMemo, useState } from 'react';
import { startDescribing } from '../../state/new-box.ts';
import { useNewBox, useOpened } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Choice } from '../../ui/controls.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { count } from '../../words/numbers.ts';
import { isOpen, weightOf } from '../../words/weights.ts';
import { type SourcePlace, SourceView } from '../source/source-view.tsx';
import { Bay } from './bay.tsx';
import { allCords, type Cabling, type Cord, cablingOf } from './cords.ts';
import { DropSlip } from './drop-slip.tsx';
import { useHold } from './hold.ts';
import { HowItWorks, Missing } from './how.tsx';
import { InOrder } from './in-order.tsx';
import { NewBoxSlip } from './new-box-slip.tsx';
import { PortSide } from './port-side.tsx';
import { PortTable } from './port-table.tsx';
import './ports.css';
import './slips.css';
import { RoleSide } from './role-side.tsx';
import { Settle } from './settle.tsx';
import { socketsOf } from './sockets.ts';
import { SuggestSlip } from './suggest-slip.tsx';
import { keepAll } from './use-ports.ts';

/** Beyond these a drawing no longer helps. */
const MOST_CORDS = 24;
const MOST_PORTS = 24;
/** Where the drawing would show a part of itself only, the table comes first. */
const NARROW = '(max-width: 860px)';

export default function Ports() {
  const { backup, view, id } = useOpened();
  const newBox = useNewBox();
  const describing = useDesk((state) => state.describing);
  const cabling = useMemo(() => cablingOf(backup, view), [backup, view]);
  const { sockets, ofRole } = useMemo(
    () => socketsOf(cabling, newBox?.receiver ?? null, view.findings.filter(isOpen)),
    [cabling, newBox, view],
  );
  const goes = (cord: Cord) => cord.state.goes;
  const hold = useHold(cabling);
  const { rows } = cabling;
  const cords = allCords(cabling);
  const drawable = cords.length <= MOST_CORDS && rows.length <= MOST_PORTS && rows.length > 0;
  const [how, setHow] = useState<'drawing' | 'table'>(() => (matchMedia(NARROW).matches ? 'table' : 'drawing'));
  const [suggesting, setSuggesting] = useState(false);
  const [place, setPlace] = useState<SourcePlace | null>(null);
  const { held } = hold;
  const shown = drawable ? how : 'table';
  const wrong = useMemo(
    () => [...new Set([...sockets.flatMap((socket) => socket.wrong), ...[...ofRole.values()].flat()])],
    [sockets, ofRole],
  );
  const described = newBox !== null;
  const moved = rows.some((row) => row.to !== row.name) || cords.some(({ state }) => state.moved);
  return (
    <div className="pane">
      <SheetHead
        no={2}
        title="Ports"
        acts={
          <>
            {rows.length > 0 &&
              (newBox ? (
                <button type="button" className="btn small" onClick={() => setSuggesting(true)}>
                  Suggest…
                </button>
              ) : (
                <InOrder rows={rows} />
              ))}
            {moved && (
              <button type="button" className="btn small plan" onClick={() => keepAll(rows, cords)}>
                Keep all as they were
              </button>
            )}
            <button type="button" className="btn small" onClick={() => startDescribing()}>
              {described ? 'The new box…' : 'Describe the new box…'}
            </button>
            {drawable && (
              <Choice
                label="Look"
                options={[
                  ['drawing', 'Drawing'],
                  ['table', 'Table'],
                ]}
                chosen={how}
                onChoose={setHow}
              />
            )}
          </>
        }
      >
        {state(cabling, goes, wrong.filter((finding) => ['stop', 'break'].includes(weightOf(finding))).length)}
      </SheetHead>
      {rows.length === 0 && cords.length === 0 ? (
        <div className="quiet-note">
          <p>
            No value in this file looks like a network port, so there is nothing to move here. Everything else works
            without.
          </p>
          <Missing />
        </div>
      ) : (
        <div className="ports">
          {shown === 'drawing' ? (
            <Bay
              key={id}
              {...{ cabling, sockets, ofRole, described, hold, goes }}
              host={backup.about.host ?? ''}
              newHost={newBox?.receiver.name ?? ''}
            />
          ) : (
            <div className="scroll">
              <PortTable {...{ cabling, sockets, described, hold, goes }} />
            </div>
          )}
          <Scroll as="aside" className="side" label="About what is chosen">
            {place && <SourceView place={place} onClose={() => setPlace(null)} />}
            {!place && held?.kind === 'role' && (
              <RoleSide cord={held.cord} {...{ cabling, sockets, hold }} onLook={setPlace} />
            )}
            {!place && held?.kind === 'port' && <PortSide row={held.row} {...{ cabling, sockets, described, hold }} />}
            {!place && <Settle findings={wrong} cabling={cabling} sockets={sockets} />}
            {!place && <HowItWorks cabling={cabling} />}
          </Scroll>
        </div>
      )}
      {hold.asked && <DropSlip asked={hold.asked} hold={hold} />}
      {suggesting && newBox && (
        <SuggestSlip receiver={newBox.receiver} rows={rows} onClose={() => setSuggesting(false)} />
      )}
      {describing && <NewBoxSlip source={describing.source} />}
    </div>
  );
}

/** How the cabling stands, in a sentence or two. */
function state(cabling: Cabling, goes: (cord: Cord) => boolean, wrong: number): string {
  const { rows } = cabling;
  if (rows.length === 0) return 'No port was found.';
  const cords = allCords(cabling);
  const moved = rows.filter((row) => row.to !== row.name).length;
  const alone = cords.filter(({ state }) => state.moved).length;
  const loose = cords.filter((cord) => cord.end === null && cord.state.moved && goes(cord)).length;
  const said = [`${count(cords.length, 'role')} on ${count(rows.length, 'port')}.`];
  if (moved > 0) said.push(`${moved} of them moved.`);
  if (alone > 0) said.push(`${count(alone, 'role')} moved alone.`);
  if (loose > 0) said.push(`${count(loose, 'loose end')}.`);
  if (moved + alone === 0) said.push('Say which port each is on the new box; where nothing changes, leave it.');
  const clashing = new Set(rows.filter((row) => row.clashes.length > 0).map((row) => row.to)).size;
  if (clashing > 0) said.push(`${count(clashing, 'name')} would be given twice.`);
  if (wrong > clashing) said.push(`${count(wrong - clashing, 'thing')}${clashing > 0 ? ' more' : ''} to settle.`);
  return said.join(' ');
}
