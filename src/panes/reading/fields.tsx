import { Fragment, useState } from 'react';
import type { Decision, FieldView, Tier } from '../../core/index.ts';
import { change, isAbout, takeBack } from '../../state/decide.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { Mark } from '../../ui/marks.tsx';
import { MoreRow } from '../../ui/more-row.tsx';
import { pathWords } from '../../words/decisions.ts';
import { listName } from '../../words/lists.ts';
import { count, more, number } from '../../words/numbers.ts';
import { DeniedRows, useSaid } from './said.tsx';

const tiers: readonly Tier[] = ['certain', 'likely', 'possible'];
const PAGE = 100;

const correct = (template: string, collection: string, yes: boolean): Decision => ({
  kind: 'correct',
  correction: { correct: 'field-names', template, collection, yes },
});

/** Fields that name records of another list, with what speaks for it; yours to confirm or deny. */
export function Fields({ onAdd }: { onAdd: () => void }) {
  const { backup } = useOpened();
  const [words, setWords] = useState('');
  const asked = words.trim().toLowerCase();
  const shown = backup.fields.filter((field) =>
    `${field.name} ${field.template} ${field.targets.join(' ')}`.toLowerCase().includes(asked),
  );
  // A denied reference leaves the reading; what was said about it stays here, to be taken back.
  const denied = useSaid('field-names')
    .filter(({ yes }) => !yes)
    .map(({ template, collection }) => ({
      subject: `correct field-names ${template} ${collection}`,
      what: pathWords(template) || template,
      detail: listName(collection),
    }));
  return (
    <>
      <div className="filters">
        <input
          type="search"
          className="field text"
          placeholder="Search fields"
          aria-label="Search fields"
          value={words}
          onChange={(event) => setWords(event.target.value)}
        />
        <span className="dim">
          {count(shown.length, 'field')} of {number(backup.fields.length)}
        </span>
        <button type="button" className="btn small plan" onClick={onAdd}>
          Add one…
        </button>
      </div>
      <table className="list">
        <caption className="spoken">Fields that name records, the surest first</caption>
        <thead>
          <tr>
            <th className="m" />
            <th scope="col">This field</th>
            <th scope="col">names this list</th>
            <th scope="col" className="num spare">
              Fits
            </th>
            <th scope="col" className="num">
              Is that right?
            </th>
          </tr>
        </thead>
        <DeniedRows denied={denied} columns={4} />
        {tiers.map((tier) => (
          <Tiered key={tier} tier={tier} fields={shown.filter((field) => field.tier === tier)} />
        ))}
      </table>
      {backup.fields.length === 0 && (
        <p className="quiet-note">No field names a record of another list, as far as we can tell.</p>
      )}
    </>
  );
}

const tierWords: Record<Tier, string> = {
  certain: 'Certain',
  likely: 'Likely',
  possible: 'Possible, too little to act on',
};

function Tiered({ tier, fields }: { tier: Tier; fields: readonly FieldView[] }) {
  const [pages, setPages] = useState(1);
  const [open, setOpen] = useState<string | null>(null);
  const rest = fields.length - pages * PAGE;
  if (fields.length === 0) return null;
  return (
    <tbody>
      <tr className="group">
        <td className="m" />
        <th colSpan={4} scope="rowgroup">
          {tierWords[tier]}, {number(fields.length)}
        </th>
      </tr>
      {fields.slice(0, pages * PAGE).map((field) => {
        const key = `${field.template} ${field.targets.join(' ')}`;
        return (
          <Fragment key={key}>
            <FieldRow field={field} open={open === key} onToggle={() => setOpen(open === key ? null : key)} />
          </Fragment>
        );
      })}
      {rest > 0 && <MoreRow span={4} label={more(PAGE, rest)} onMore={() => setPages(pages + 1)} />}
    </tbody>
  );
}

function FieldRow({ field, open, onToggle }: { field: FieldView; open: boolean; onToggle: () => void }) {
  const plan = usePlan();
  const { template, targets, name } = field;
  const told = targets.filter((target) =>
    plan.decisions.some((decision) => isAbout(decision, `correct field-names ${template} ${target}`)),
  );
  const say = (yes: boolean) =>
    change(
      `${name} ${yes ? 'names' : 'does not name'} ${targets.map(listName).join(', ')}`,
      targets.map((target) => correct(template, target, yes)),
    );
  return (
    <>
      <tr className={open ? 'sel' : undefined}>
        <td className="m">
          {told.length > 0 && (
            <span className="mine">
              <Mark name="ok" />
            </span>
          )}
        </td>
        <th scope="row">
          <button type="button" className="link" aria-expanded={open} onClick={onToggle}>
            <b className="mono">{name}</b>
          </button>
        </th>
        <td className="mono">
          {targets.map((target) => (
            <div key={target}>{listName(target)}</div>
          ))}
        </td>
        <td className="num spare nowrap">
          {number(field.hits)} of {number(field.total)}
        </td>
        <td className="num">
          <div className="acts">
            {told.length > 0 ? (
              <>
                <span className="mine">you say so</span>
                <button
                  type="button"
                  className="link"
                  onClick={() =>
                    takeBack(
                      'Take a correction back',
                      told.map((target) => `correct field-names ${template} ${target}`),
                    )
                  }
                >
                  Take back
                </button>
              </>
            ) : (
              <>
                <button
                  type="button"
                  className="btn small plan"
                  aria-label={`Yes, ${name} names it`}
                  onClick={() => say(true)}
                >
                  Yes
                </button>
                <button
                  type="button"
                  className="btn small plan"
                  aria-label={`No, ${name} does not name it`}
                  onClick={() => say(false)}
                >
                  No
                </button>
              </>
            )}
          </div>
        </td>
      </tr>
      {open && (
        <tr>
          <td className="m" />
          <td colSpan={4}>
            <ul className="evidence">
              {field.evidence.map((reason) => (
                <li key={reason}>{reason}</li>
              ))}
              <li>
                Where: <code>{pathWords(template) || template}</code>
              </li>
            </ul>
          </td>
        </tr>
      )}
    </>
  );
}
