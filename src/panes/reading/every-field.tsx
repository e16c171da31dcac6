import { Fragment, useDeferredValue, useId, useState } from 'react';
import type { FieldPlaceView } from '../../core/index.ts';
import { fields } from '../../state/open.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { MoreRow } from '../../ui/more-row.tsx';
import { useAsked } from '../../ui/use-asked.ts';
import { kindWords } from '../../words/carry.ts';
import { pathWords } from '../../words/decisions.ts';
import { listName } from '../../words/lists.ts';
import { count, more, number } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';
import { listsOf } from './lists.ts';
import { say, TakeBack, useSaid, YouSaySo } from './said.tsx';

const PAGE = 100;

/** Every field of the file with its first values; here you add what the reading did not see. */
export function EveryField({ onLook }: { onLook: (place: SourcePlace) => void }) {
  const [words, setWords] = useState('');
  const [pages, setPages] = useState(1);
  const [open, setOpen] = useState<string | null>(null);
  const asked = useDeferredValue(words);
  const { id } = useOpened();
  const plan = usePlan();
  const view = useAsked(() => fields(plan, { words: asked, from: 0, limit: pages * PAGE }), [id, plan, asked, pages]);
  const rest = view ? view.total - view.fields.length : 0;
  return (
    <>
      <div className="filters">
        <input
          type="search"
          className="field text"
          placeholder="Search every field"
          aria-label="Search every field"
          value={words}
          onChange={(event) => {
            setWords(event.target.value);
            setPages(1);
          }}
        />
        <span className="dim">
          {view ? count(view.total, 'field') : 'Listing fields'}. Open one to say what it names or holds.
        </span>
      </div>
      <table className="list">
        <caption className="spoken">Every field, in the order of the file</caption>
        <thead>
          <tr>
            <th className="m" />
            <th scope="col">Field</th>
            <th scope="col">Holds</th>
            <th scope="col">Its first values</th>
            <th scope="col" className="num">
              Values
            </th>
            <th scope="col" className="num spare">
              Different
            </th>
          </tr>
        </thead>
        <tbody>
          {view?.fields.map((field) => (
            <Fragment key={field.template}>
              <Row
                field={field}
                open={open === field.template}
                onToggle={() => setOpen(open === field.template ? null : field.template)}
              />
              {open === field.template && <Detail field={field} onLook={onLook} />}
            </Fragment>
          ))}
          {view?.total === 0 && (
            <tr>
              <td className="m" />
              <td colSpan={5}>
                <b>No field says “{asked.trim()}”.</b> <span className="dim">Names and places were searched.</span>
              </td>
            </tr>
          )}
          {rest > 0 && <MoreRow span={5} label={more(PAGE, rest)} onMore={() => setPages(pages + 1)} />}
        </tbody>
      </table>
    </>
  );
}

function Row({ field, open, onToggle }: { field: FieldPlaceView; open: boolean; onToggle: () => void }) {
  return (
    <tr className={open ? 'sel' : undefined}>
      <td className="m" />
      <th scope="row">
        <button type="button" className="link" aria-expanded={open} onClick={onToggle}>
          <b className="mono">{field.name}</b>
          <span className="spoken"> at {field.template}</span>
        </button>
        <div className="dim mono where">{pathWords(field.template) || field.template}</div>
      </th>
      <td className="holds">
        {field.secret ? 'a secret' : kindWords(field.kind)}
        {field.odd > 0 && <span className="dim">, {number(field.odd)} otherwise</span>}
      </td>
      <td className="mono sample">
        {field.secret ? <span className="dim">secret, not shown</span> : field.sample.join(', ')}
      </td>
      <td className="num">{number(field.count)}</td>
      <td className="num spare">{number(field.distinct)}</td>
    </tr>
  );
}

/** What can be said of one field. */
function Detail({ field, onLook }: { field: FieldPlaceView; onLook: (place: SourcePlace) => void }) {
  const { template, name } = field;
  return (
    <tr>
      <td className="m" />
      <td colSpan={5}>
        <div className="saying">
          <Names field={field} />
          <Holds
            what="a secret"
            isSo={field.secret}
            told={useSaid('secret').find((one) => one.template === template)?.yes}
            subject={`correct secret ${template}`}
            name={name}
            onSay={(yes) => say(`${name} is ${yes ? 'a' : 'no'} secret`, { correct: 'secret', template, yes })}
          />
          <Holds
            what="bound to the old box"
            isSo={field.boxBound}
            told={useSaid('box-bound').find((one) => one.template === template && one.sign === undefined)?.yes}
            subject={`correct box-bound ${template}`}
            name={name}
            onSay={(yes) =>
              say(`${name} is ${yes ? '' : 'not '}bound to the old box`, { correct: 'box-bound', template, yes })
            }
          />
          <div className="row">
            <button type="button" className="link" onClick={() => onLook(field.place)}>
              Look at line {number(field.place.line)}
            </button>
          </div>
        </div>
      </td>
    </tr>
  );
}

/** What the field names, and the form that adds a list. */
function Names({ field: { template, name } }: { field: FieldPlaceView }) {
  const { backup } = useOpened();
  const id = useId();
  const lists = listsOf(backup.collections);
  const [chosen, setChosen] = useState('');
  const named = backup.fields.filter((one) => one.template === template).flatMap(({ targets }) => targets);
  const known = new Set(named);
  const said = useSaid('field-names').filter((one) => one.template === template && one.yes);
  return (
    <div className="row">
      <span>
        {known.size > 0 ? (
          <>
            Names{' '}
            {[...known].map((path, at) => (
              <Fragment key={path}>
                {at > 0 && ', '}
                <b className="mono">{listName(path)}</b>
              </Fragment>
            ))}
            .
          </>
        ) : (
          'Names no list.'
        )}
      </span>
      {said.map(({ collection }) => (
        <Fragment key={collection}>
          <YouSaySo />
          <TakeBack subjects={[`correct field-names ${template} ${collection}`]} what={name} />
        </Fragment>
      ))}
      <label htmlFor={id} className="spoken">
        List that {name} names
      </label>
      <select id={id} className="field" value={chosen} onChange={(event) => setChosen(event.target.value)}>
        <option value="">Choose a list</option>
        {lists
          .filter((path) => !known.has(path))
          .map((path) => (
            <option key={path} value={path}>
              {listName(path)}
            </option>
          ))}
      </select>
      <button
        type="button"
        className="btn small plan"
        disabled={chosen === ''}
        onClick={() => {
          say(`${name} names ${listName(chosen)}`, {
            correct: 'field-names',
            template,
            collection: chosen,
            yes: true,
          });
          setChosen('');
        }}
      >
        It names this list
      </button>
    </div>
  );
}

/** One thing that a field is or is not, with the button that says otherwise. */
function Holds({
  what,
  isSo,
  told,
  subject,
  name,
  onSay,
}: {
  what: string;
  isSo: boolean;
  told: boolean | undefined;
  subject: string;
  name: string;
  onSay: (yes: boolean) => void;
}) {
  return (
    <div className="row">
      <span>{isSo ? `Is ${what}.` : `Is not ${what}.`}</span>
      {told === undefined ? (
        <button type="button" className="btn small plan" onClick={() => onSay(!isSo)}>
          {isSo ? `It is not ${what}` : `It is ${what}`}
        </button>
      ) : (
        <>
          <YouSaySo />
          <TakeBack subjects={[subject]} what={name} />
        </>
      )}
    </div>
  );
}
