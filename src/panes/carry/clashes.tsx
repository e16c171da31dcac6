import { useState } from 'react';
import type { ClashView } from '../../core/index.ts';
import { changePart, partOf } from '../../state/carry.ts';
import { usePlan } from '../../state/selectors.ts';
import { Tick } from '../../ui/controls.tsx';
import { Dialog } from '../../ui/dialog.tsx';
import { Weight } from '../../ui/weight.tsx';
import { count, number, verb } from '../../words/numbers.ts';

type Answer = ClashView['answer'];

const short: Record<Answer, string> = { keep: 'new box’s kept', replace: 'replaced', 'new-key': 'under another name' };

/** Records that both boxes have under one key, with other content: each is a question. */
export function Clashes({ clashes, into }: { clashes: readonly ClashView[]; into: string }) {
  const [asking, setAsking] = useState<string | null>(null);
  if (clashes.length === 0) return null;
  const open = clashes.filter(({ asked }) => asked);
  return (
    <section aria-label="Both boxes have these">
      <div className="row">
        <h3>
          <Weight weight={open.length > 0 ? 'check' : 'note'}>
            Both boxes have {count(clashes.length, 'thing')} that {verb(clashes.length, 'differs', 'differ')}
          </Weight>
        </h3>
        {open.length > 0 && (
          <button type="button" className="btn small next plan acts" onClick={() => setAsking(open[0]!.path)}>
            Answer {count(open.length, 'question')}
          </button>
        )}
      </div>
      <ul className="lines">
        {clashes.slice(0, 12).map((clash) => (
          <li key={clash.path}>
            <span>
              <span className="mono">{clash.mark.name}</span>
              <span className="dim">, in {clash.mark.section}</span>
            </span>
            <button
              type="button"
              className={`link nowrap ${clash.asked ? '' : 'mine'}`}
              onClick={() => setAsking(clash.path)}
            >
              {clash.asked ? `proposed: ${short[clash.answer]}` : short[clash.answer]}
              <span className="spoken">, {clash.mark.name}</span>
            </button>
          </li>
        ))}
      </ul>
      {clashes.length > 12 && <p className="dim">and {number(clashes.length - 12)} more</p>}
      {asking !== null && (
        <Question
          key={asking}
          clashes={clashes}
          path={asking}
          into={into}
          onNext={setAsking}
          onClose={() => setAsking(null)}
        />
      )}
    </section>
  );
}

function Question({
  clashes,
  path,
  into,
  onNext,
  onClose,
}: {
  clashes: readonly ClashView[];
  path: string;
  into: string;
  onNext: (path: string) => void;
  onClose: () => void;
}) {
  const part = partOf(usePlan());
  const clash = clashes.find((one) => one.path === path);
  const [answer, setAnswer] = useState<Answer>(clash?.answer ?? 'keep');
  const [others, setOthers] = useState(false);
  if (!clash) return null;
  const rest = clashes.filter((one) => one.asked && one.path !== path);
  const { name } = clash.mark;
  const words: Record<Answer, readonly [string, string, string]> = {
    keep: [
      'Keep the new box’s',
      clash.namedBy > 0
        ? `The ${count(clash.namedBy, 'place')} that name it and go over will use it.`
        : 'The old box’s stays behind, and stands in the ledger.',
      'Keep it',
    ],
    replace: [
      'Replace it with the old box’s',
      'The new box’s is gone from the result, and stands in its ledger.',
      'Replace it',
    ],
    'new-key': [
      'Carry it under another name',
      `${clash.newKey ?? 'A free name is found'}${clash.namedBy > 0 ? `, and the ${count(clash.namedBy, 'place')} that name it follow` : ''}. The new box’s stays.`,
      'Carry it so',
    ],
  };
  const set = () => {
    const paths = [path, ...(others ? rest.filter((one) => one.choices.includes(answer)).map((one) => one.path) : [])];
    changePart(`${words[answer][0]}: ${name}${paths.length > 1 ? ` and ${number(paths.length - 1)} more` : ''}`, {
      answers: { ...part.answers, ...Object.fromEntries(paths.map((one) => [one, answer])) },
    });
    const next = rest.find((one) => !paths.includes(one.path));
    if (next) onNext(next.path);
    else onClose();
  };
  return (
    <Dialog
      title={
        <>
          Both files have <span className="mono">{name}</span>. Which should the new box have?
        </>
      }
      onClose={onClose}
      footer={
        <>
          <button type="button" className="btn next plan" onClick={set}>
            {words[answer][2]}
          </button>
          <button type="button" className="btn" onClick={onClose}>
            Ask me later
          </button>
          {rest.length > 0 && (
            <span className="told">
              <Tick
                state={others ? 'on' : 'off'}
                label={`Same for the other ${number(rest.length)}`}
                onChange={setOthers}
              />
              <span>Same for the other {number(rest.length)}</span>
            </span>
          )}
        </>
      }
    >
      <p className="cap">Graft into {into}</p>
      <table className="clash-table">
        <thead>
          <tr>
            <th scope="col">Value</th>
            <th scope="col">From the old box</th>
            <th scope="col">Already on the new box</th>
          </tr>
        </thead>
        <tbody>
          {clash.differs.map((one) => (
            <tr key={one.name}>
              <th scope="row">{one.name}</th>
              <td className="mono">{told(one.from, one.secret)}</td>
              <td className="mono">{told(one.to, one.secret)}</td>
            </tr>
          ))}
          {clash.differs.length === 0 && (
            <tr>
              <td colSpan={3}>They differ in records inside them.</td>
            </tr>
          )}
        </tbody>
      </table>
      {clash.differsTotal > clash.differs.length && (
        <p className="dim">and {number(clash.differsTotal - clash.differs.length)} more values</p>
      )}
      <fieldset className="clash-answers">
        <legend className="spoken">Which should the new box have?</legend>
        {clash.choices.map((choice) => (
          <label key={choice}>
            <input type="radio" name="clash-answer" checked={answer === choice} onChange={() => setAnswer(choice)} />
            <span>
              <b>{words[choice][0]}</b>
              <span className="dim">{words[choice][1]}</span>
            </span>
          </label>
        ))}
      </fieldset>
    </Dialog>
  );
}

function told(text: string | null, secret: boolean) {
  if (text === null) return <span className="dim">none</span>;
  if (secret) return <span className="redact" style={{ width: 70 }} role="img" aria-label="a secret" />;
  return text || <span className="dim">empty</span>;
}
