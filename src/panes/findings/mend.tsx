import { useEffect, useId, useRef, useState } from 'react';
import type { Finding, Repair } from '../../core/index.ts';
import { change, takeBack } from '../../state/decide.ts';
import { useDesk } from '../../state/session.ts';
import { Said } from '../../ui/said.tsx';
import { findingWords } from '../../words/findings.ts';
import { number } from '../../words/numbers.ts';
import { repairWords } from '../../words/repairs.ts';
import { plain } from '../../words/said.ts';

/** Takes a repair over into the plan, as one step. */
export function mend({ decisions, withdraws = [], ...repair }: Repair): void {
  change(plain(repairWords(repair)), decisions, withdraws);
}

/** A button for one repair; what it is for is said to those who hear it. */
export function RepairButton({
  repair,
  finding,
  next = false,
  onDone,
}: {
  repair: Repair;
  finding: Finding;
  next?: boolean;
  onDone: () => void;
}) {
  return (
    <button
      type="button"
      className={`btn small plan ${next ? 'next' : ''}`}
      onClick={() => {
        mend(repair);
        onDone();
      }}
    >
      <span>
        <Said parts={repairWords(repair)} />
      </span>
      <span className="spoken">: {plain(findingWords(finding).what)}</span>
    </button>
  );
}

/** Everything that can be done about a finding: its repairs, the sheet that mends it, a reason to set it aside. */
export function Actions({ finding, onDone }: { finding: Finding; onDone: () => void }) {
  const { repairs = [], mark, code } = finding;
  const [asking, setAsking] = useState(false);
  const onPorts = code === 'port-doubled' || code === 'port-name-long' || code === 'port-not-on-receiver';
  const { aside } = finding;
  if (aside)
    return (
      <div className="mend">
        <button
          type="button"
          className="btn small plan"
          onClick={() => {
            takeBack(`Open again: ${aside.reason}`, [aside.decision]);
            onDone();
          }}
        >
          Open it again
        </button>
      </div>
    );
  return (
    <>
      <div className="mend">
        {repairs.map((repair, at) => (
          <RepairButton key={at} {...{ repair, finding, onDone }} />
        ))}
        {onPorts && (
          <button type="button" className="btn small" onClick={() => useDesk.setState({ sheet: 'ports' })}>
            Go to the ports
          </button>
        )}
        {mark && !asking && (
          <button type="button" className="btn small bare" onClick={() => setAsking(true)}>
            Set aside, with a reason
          </button>
        )}
      </div>
      {mark && asking && (
        <Reason
          onCancel={() => setAsking(false)}
          onGiven={(reason) => {
            change(`Set aside: ${reason}`, [{ kind: 'set-aside', finding: mark, reason }]);
            onDone();
          }}
        />
      )}
    </>
  );
}

/** One reason for more than this is no reason. */
export const MOST_ASIDE = 500;

/** A reason for several findings at once. */
export function AsideAll({ findings, onDone }: { findings: readonly Finding[]; onDone: () => void }) {
  const [asking, setAsking] = useState(false);
  const marks = findings.flatMap(({ mark, aside }) => (mark && !aside ? [mark] : []));
  if (marks.length < findings.length || marks.length > MOST_ASIDE) return null;
  if (!asking)
    return (
      <button type="button" className="btn small bare" onClick={() => setAsking(true)}>
        Set all {number(marks.length)} aside, with a reason
      </button>
    );
  return (
    <Reason
      onCancel={() => setAsking(false)}
      onGiven={(reason) => {
        const decisions = marks.map((finding) => ({ kind: 'set-aside' as const, finding, reason }));
        change(`Set ${number(marks.length)} aside: ${reason}`, decisions);
        onDone();
      }}
    />
  );
}

const LONGEST = 200;

export function Reason({ onGiven, onCancel }: { onGiven: (reason: string) => void; onCancel: () => void }) {
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  const [reason, setReason] = useState('');
  const [missing, setMissing] = useState(false);
  useEffect(() => field.current?.focus(), []);
  return (
    <form
      className="reason"
      onSubmit={(event) => {
        event.preventDefault();
        if (reason.trim() === '') {
          setMissing(true);
          field.current?.focus();
        } else onGiven(reason.trim());
      }}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        onCancel();
      }}
    >
      <label htmlFor={id}>Why it is fine as it is</label>
      <input
        id={id}
        ref={field}
        className="field text"
        maxLength={LONGEST}
        value={reason}
        aria-invalid={missing}
        aria-describedby={`${id}-note`}
        onChange={(event) => {
          setReason(event.target.value);
          setMissing(false);
        }}
      />
      <button type="submit" className="btn small plan">
        Set aside
      </button>
      <button type="button" className="btn small" onClick={onCancel}>
        Leave it open
      </button>
      <p id={`${id}-note`} className={missing ? 'sev stop' : 'dim'}>
        {missing
          ? 'Give a reason: whoever reads the plan later wants to know it.'
          : 'It goes into the plan and onto the sheet for the night.'}
      </p>
    </form>
  );
}
