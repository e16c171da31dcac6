import { type ReactNode, useState } from 'react';
import { change, takeBack } from '../../state/decide.ts';
import { useOpened } from '../../state/selectors.ts';
import { MoreRow } from '../../ui/more-row.tsx';
import { Said } from '../../ui/said.tsx';
import { Weight } from '../../ui/weight.tsx';
import { pathWords } from '../../words/decisions.ts';
import { findingWords } from '../../words/findings.ts';
import { clockWords, groundOf, isTimed } from '../../words/grounds.ts';
import { more, number } from '../../words/numbers.ts';
import { plain } from '../../words/said.ts';
import { weightNames } from '../../words/weights.ts';
import type { Group, Grouping, Member } from './finding-list.ts';
import { Actions, Reason, RepairButton } from './mend.tsx';

const PAGE = 100;
/** One reason for more than this is no reason. */
const MOST = 500;

interface Doing {
  readonly chosen: string | null;
  readonly onChoose: (key: string | null) => void;
  /** After a decision the row may be gone. */
  readonly onDone: () => void;
}

export function GroupRows({ group, how, ...doing }: { group: Group; how: Grouping } & Doing) {
  const { name, members } = group;
  const [pages, setPages] = useState(1);
  const rest = members.length - pages * PAGE;
  return (
    <tbody>
      <tr className="group">
        <td className="m" />
        <th colSpan={5} scope="rowgroup">
          <GroupHead {...{ group, onDone: doing.onDone }}>
            {name}, {number(members.length)}
            {how === 'weight' && <span className="dim"> {weightNames[members[0]!.weight].means}</span>}
          </GroupHead>
        </th>
      </tr>
      {members.slice(0, pages * PAGE).map((member) => (
        <Row key={member.key} member={member} {...doing} />
      ))}
      {rest > 0 && <MoreRow span={5} label={more(PAGE, rest)} onMore={() => setPages(pages + 1)} />}
    </tbody>
  );
}

/** What a group is, and one decision about all of it: a reason to set it aside, or to open it again. */
function GroupHead({ group, onDone, children }: { group: Group; onDone: () => void; children: ReactNode }) {
  const [asking, setAsking] = useState(false);
  const findings = group.members.map(({ finding }) => finding);
  const marks = findings.flatMap(({ mark, aside }) => (mark && !aside ? [mark] : []));
  const asides = findings.flatMap(({ aside }) => (aside ? [aside.decision] : []));
  const done = () => {
    setAsking(false);
    onDone();
  };
  return (
    <>
      <span className="group-head">
        <span>{children}</span>
        {marks.length > 1 && marks.length <= MOST && !asking && (
          <button type="button" className="link" onClick={() => setAsking(true)}>
            Set {number(marks.length)} aside<span className="spoken">: {group.name}</span>
          </button>
        )}
        {asides.length > 1 && (
          <button
            type="button"
            className="link"
            onClick={() => {
              takeBack(`Open again: ${group.name}`, [...new Set(asides)]);
              done();
            }}
          >
            Open {number(asides.length)} again<span className="spoken">: {group.name}</span>
          </button>
        )}
      </span>
      {asking && (
        <Reason
          onCancel={() => setAsking(false)}
          onGiven={(reason) => {
            const decisions = marks.map((finding) => ({ kind: 'set-aside' as const, finding, reason }));
            change(`Set ${number(marks.length)} aside: ${reason}`, decisions);
            done();
          }}
        />
      )}
    </>
  );
}

function Row({ member, chosen, onChoose, onDone }: { member: Member } & Doing) {
  const { finding, weight, key } = member;
  const { repairs = [], place, byPlan, aside } = finding;
  const { what, why } = findingWords(finding);
  const { clock } = useOpened().view;
  const open = key === chosen;
  const toggle = () => onChoose(open ? null : key);
  return (
    <>
      <tr className={open ? 'sel' : undefined}>
        <td className="m">
          <Weight weight={weight} />
        </td>
        <td className="weight">
          <span className={`sev ${weight}`}>{weightNames[weight].name}</span>
        </td>
        <td>
          <Said parts={what} />
          {aside && (
            <div className="mine">
              <span className="cap">Set aside:</span> {aside.reason}
            </div>
          )}
        </td>
        <td className={`cap from ${byPlan ? 'mine' : ''}`}>{byPlan ? 'your plan' : 'old file'}</td>
        <td className="repair">
          {!aside && repairs.length === 1 && <RepairButton repair={repairs[0]!} {...{ finding, onDone }} />}
          {!aside && repairs.length > 1 && (
            <button type="button" className="btn small" aria-expanded={open} onClick={toggle}>
              {number(repairs.length)} ways
              <span className="spoken"> to mend: {plain(what)}</span>
            </button>
          )}
        </td>
        <td className="num where">
          <button type="button" className="link" aria-expanded={open} onClick={toggle}>
            {open ? 'Close' : place ? `line ${number(place.line)}` : 'Look'}
            <span className="spoken">, {plain(what)}</span>
          </button>
        </td>
      </tr>
      {open && (
        <tr className="why">
          <td className="m" />
          <td colSpan={5}>
            <p>
              {why}{' '}
              <span className="dim">
                {place && (
                  <>
                    Where: <code>{pathWords(place.path) || place.path}</code>.{' '}
                  </>
                )}
                Ground: {groundOf(finding.code)}.
                {clock !== null && isTimed(finding.code) && ` It says ${clockWords(clock)}.`}
              </span>
            </p>
            <Actions {...{ finding, onDone }} />
          </td>
        </tr>
      )}
    </>
  );
}
