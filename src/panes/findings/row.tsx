import { useOpened, usePlan } from '../../state/selectors.ts';
import { pathWords } from '../../words/decisions.ts';
import { findingWords } from '../../words/findings.ts';
import { clockWords, groundOf, isTimed } from '../../words/grounds.ts';
import { number } from '../../words/numbers.ts';
import type { Member } from './finding-list.ts';
import { HeadRow } from './head-row.tsx';
import { Actions, RepairButton } from './mend.tsx';

/** What the rows of the list share. */
export interface Doing {
  readonly chosen: string | null;
  readonly onChoose: (key: string | null) => void;
  /** After a decision the row may be gone. */
  readonly onDone: () => void;
}

/** One finding; opened, with its reason, its ground and all that can be done about it. */
export function Row({ member, inner = false, chosen, onChoose, onDone }: { member: Member; inner?: boolean } & Doing) {
  const { finding, weight, key } = member;
  const { repairs = [], place, byPlan, aside } = finding;
  const { what, why } = findingWords(finding);
  const { clock } = useOpened().view;
  const { decisions } = usePlan();
  const open = key === chosen;
  const isSet = open && decisions.some((one) => one.kind === 'set-value' && one.path === place?.path);
  const toggle = () => onChoose(open ? null : key);
  return (
    <>
      <HeadRow
        {...{ weight, what, byPlan, open, inner }}
        note={
          aside && (
            <div className="mine">
              <span className="cap">Set aside:</span> {aside.reason}
            </div>
          )
        }
        ways={aside ? 0 : repairs.length}
        only={() => <RepairButton repair={repairs[0]!} {...{ finding, onDone }} />}
        opener={place ? `line ${number(place.line)}` : null}
        onToggle={toggle}
      />
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
                {isSet && ' You set another value here; the old file is shown as it was.'}
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
