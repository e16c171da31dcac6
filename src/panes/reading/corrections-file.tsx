import { useState } from 'react';
import { choose, download } from '../../platform/files.ts';
import { correctionsText, takeCorrections } from '../../state/decide.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { Said } from '../../ui/said.tsx';
import { count } from '../../words/numbers.ts';
import { troubleWords } from '../../words/trouble.ts';

/** What you said about the reading as a small file of its own, for the next backup of the same kind. */
export function CorrectionsFile() {
  const { file } = useOpened();
  const amount = usePlan().decisions.filter(({ kind }) => kind === 'correct').length;
  const [taken, setTaken] = useState<ReturnType<typeof takeCorrections> | null>(null);
  const save = () => {
    const stem = file.name.replace(/\.[A-Za-z0-9]{1,8}$/, '') || 'backup';
    download(correctionsText(), `${stem}.reading.json`, 'application/json');
  };
  const load = async () => {
    const chosen = await choose('.json,application/json');
    if (chosen) setTaken(takeCorrections(await chosen.text(), chosen.name));
  };
  const words = taken && 'code' in taken ? troubleWords(taken) : null;
  return (
    <section>
      <h3>What you say of it</h3>
      <p>
        {amount ? count(amount, 'correction') : 'No correction yet'}. They stand in the plan, and no new reading
        overrides them. Saved alone they serve for other backups of the same kind; the file holds names of fields and
        ports.
      </p>
      <div className="row">
        <button type="button" className="btn small" disabled={amount === 0} onClick={save}>
          Save corrections
        </button>
        <button type="button" className="btn small plan" onClick={load}>
          Load corrections…
        </button>
      </div>
      {words && (
        <div className="blocked" role="alert">
          <b>{words.title}</b>
          <p>
            <Said parts={words.sentence} />
          </p>
          <p className="dim">{words.advice}</p>
        </div>
      )}
      {taken && 'taken' in taken && (
        <p className="dim" role="status">
          {count(taken.taken, 'correction')} taken.
          {taken.left > 0 && ` ${count(taken.left, 'entry', 'entries')} of another kind left where they are.`}
        </p>
      )}
    </section>
  );
}
