import { useState } from 'react';
import { download } from '../../platform/files.ts';
import { account } from '../../state/carry.ts';
import { isAbout } from '../../state/decide.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { accountTable } from '../../words/account.ts';
import { knownNames, subjectWords } from '../../words/decisions.ts';

/** The account, record by record, as a file beside the hand-over. */
export function AccountFile({ name }: { name: string }) {
  const { backup, view } = useOpened();
  const plan = usePlan();
  const [said, setSaid] = useState('');
  const save = async () => {
    setSaid('');
    const rows = await account(plan);
    if (!rows) return setSaid('There is no account yet: sheet 3 says what the graft lacks.');
    const known = knownNames(backup, view);
    const table = accountTable(rows, (subject) => subjectWords(subject, plan.decisions, isAbout, known));
    const stem = name.trim().replace(/\.[A-Za-z0-9]{1,8}$/, '') || 'result';
    download(table, `${stem}.account.csv`, 'text/csv');
  };
  return (
    <section>
      <h3>The account</h3>
      <p>Every record with what becomes of it and by which decision, as a table for your files. No values are in it.</p>
      <button type="button" className="btn small" onClick={save}>
        Save the account
      </button>
      <p className="dim" role="status">
        {said}
      </p>
    </section>
  );
}
