import type { Correction } from '../../core/index.ts';
import { change, takeBack } from '../../state/decide.ts';
import { usePlan } from '../../state/selectors.ts';
import { Mark } from '../../ui/marks.tsx';
import { number } from '../../words/numbers.ts';

/** Corrections of one kind that the plan holds. */
export function useSaid<K extends Correction['correct']>(kind: K): readonly Extract<Correction, { correct: K }>[] {
  return usePlan().decisions.flatMap((decision) =>
    decision.kind === 'correct' && decision.correction.correct === kind
      ? [decision.correction as Extract<Correction, { correct: K }>]
      : [],
  );
}

/** Says one thing about the reading. */
export const say = (name: string, correction: Correction): void => change(name, [{ kind: 'correct', correction }]);

export interface Denied {
  /** The subject of the decision, see `subjectOf`. */
  readonly subject: string;
  readonly what: string;
  readonly detail: string;
}

/** What you denied has left the reading; it stays here, to be taken back. */
export function DeniedRows({ denied, columns }: { denied: readonly Denied[]; columns: number }) {
  if (denied.length === 0) return null;
  return (
    <tbody>
      <tr className="group">
        <td className="m" />
        <th colSpan={columns} scope="rowgroup">
          Not so, you say, {number(denied.length)}
        </th>
      </tr>
      {denied.map(({ subject, what, detail }) => (
        <tr key={subject} className="out">
          <td className="m mine">
            <Mark name="out" />
          </td>
          <th scope="row" className="mono struck">
            {what}
          </th>
          <td className="mono" colSpan={columns - 2}>
            {detail}
          </td>
          <td className="num">
            <TakeBack subjects={[subject]} what={what} />
          </td>
        </tr>
      ))}
    </tbody>
  );
}

export function TakeBack({ subjects, what }: { subjects: readonly string[]; what: string }) {
  return (
    <button type="button" className="link" onClick={() => takeBack('Take a correction back', subjects)}>
      Take back<span className="spoken"> what you say of {what}</span>
    </button>
  );
}

export function YouSaySo() {
  return (
    <span className="mine">
      <Mark name="ok" /> <span>you say so</span>
    </span>
  );
}
