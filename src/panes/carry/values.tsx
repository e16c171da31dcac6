import { type ChangeEvent, useEffect, useId, useState } from 'react';
import type { CarryDetail, CarryValue } from '../../core/index.ts';
import { tryValue } from '../../state/carry.ts';
import { change, takeBack } from '../../state/decide.ts';
import { usePlan } from '../../state/selectors.ts';
import { Said } from '../../ui/said.tsx';
import { formWords, kindWords } from '../../words/carry.ts';
import { number } from '../../words/numbers.ts';
import { troubleWords } from '../../words/trouble.ts';

/** The values of a record, each of which can be set. */
export function Values({ detail, words }: { detail: CarryDetail; words: string }) {
  const [editing, setEditing] = useState<string | null>(null);
  const { values, valuesTotal } = detail;
  if (values.length === 0) return null;
  const wanted = words.trim().toLowerCase();
  const hit = ({ name, value }: CarryValue) =>
    wanted !== '' && (name.toLowerCase().includes(wanted) || value.toLowerCase().includes(wanted));
  return (
    <section className="values">
      <h3>
        {number(valuesTotal)} {valuesTotal === 1 ? 'value' : 'values'}
      </h3>
      <ul className="lines">
        {values.map((one) => (
          <li key={one.path} className={hit(one) ? 'hit' : undefined}>
            {editing === one.path ? (
              <Edit value={one} onDone={() => setEditing(null)} />
            ) : (
              <Shown value={one} onEdit={() => setEditing(one.path)} />
            )}
          </li>
        ))}
      </ul>
      {valuesTotal > values.length && (
        <p className="dim">and {number(valuesTotal - values.length)} more, in the source</p>
      )}
    </section>
  );
}

function Shown({ value, onEdit }: { value: CarryValue; onEdit: () => void }) {
  const { path, name, set, secret, long } = value;
  return (
    <>
      <span className="name">{name}</span>
      <span className="mono was">
        {secret && value.held ? (
          <Bar />
        ) : (
          <span className={set === null ? undefined : 'struck dim'}>
            {short(value.value) || (set === null ? <span className="dim">empty</span> : '')}
          </span>
        )}
        {set !== null && <span className="mine"> {secret ? 'changed' : short(set) || 'empty'}</span>}
      </span>
      <span className="acts">
        {set !== null && (
          <button
            type="button"
            className="btn small plan"
            onClick={() => takeBack(`Leave ${name} as it was`, [`set-value ${path}`])}
          >
            Take back
          </button>
        )}
        <button
          type="button"
          className="btn small"
          aria-label={`${long ? 'Replace' : 'Edit'} ${name}`}
          onClick={onEdit}
        >
          {long ? 'Replace' : 'Edit'}
        </button>
      </span>
    </>
  );
}

const short = (text: string) => (text.length > 80 ? `${text.slice(0, 80)}…` : text);

const Bar = () => <span className="redact" style={{ width: 84 }} role="img" aria-label="a secret" />;

type Tried = Awaited<ReturnType<typeof tryValue>>;

/** A new value, compared with what other records have there, and refused only where the file could not hold it. */
function Edit({ value, onDone }: { value: CarryValue; onDone: () => void }) {
  const { path, name, secret, long } = value;
  const plan = usePlan();
  const [text, setText] = useState(value.set || (long ? '' : value.value));
  const [tried, setTried] = useState<(Tried & { readonly of: string }) | null>(null);
  const id = useId();
  useEffect(() => {
    let late = false;
    const wait = setTimeout(() => {
      tryValue(plan, path, text).then(
        (found) => {
          if (!late) setTried({ ...found, of: text });
        },
        () => {},
      );
    }, 150);
    return () => {
      late = true;
      clearTimeout(wait);
    };
  }, [plan, path, text]);
  const trouble = tried?.of === text ? tried.trouble : null;
  const hint = tried?.of === text ? tried.hint : null;
  const form = tried?.of === text ? tried.form : null;
  const set = async () => {
    // Who is faster than the trial does not lose what was typed.
    const found = tried?.of === text ? tried : { ...(await tryValue(plan, path, text)), of: text };
    if (found.trouble) return setTried(found);
    change(`Change ${name}`, [{ kind: 'set-value', path, value: found.form?.value ?? text }]);
    onDone();
  };
  const field = {
    id,
    autoFocus: true,
    autoComplete: 'off',
    spellCheck: false,
    value: text,
    'aria-invalid': trouble !== null,
    'aria-describedby': `${id}-said`,
    onChange: (event: ChangeEvent<HTMLInputElement | HTMLTextAreaElement>) => setText(event.target.value),
  };
  return (
    <form
      className="edit"
      onSubmit={(event) => {
        event.preventDefault();
        set();
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onDone();
      }}
    >
      <label htmlFor={id}>{name}</label>
      {long ? (
        <textarea {...field} className={`field ${secret ? 'blacked' : ''}`} rows={6} placeholder="Paste the new text" />
      ) : (
        <input
          {...field}
          className="field"
          type={secret ? 'password' : 'text'}
          placeholder={secret ? 'A new secret; the old one is not shown' : undefined}
          list={hint?.choices.length ? `${id}-some` : undefined}
        />
      )}
      {hint && hint.choices.length > 0 && (
        <datalist id={`${id}-some`}>
          {hint.choices.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      )}
      <div className="row">
        <button type="submit" className="btn small next plan" aria-disabled={trouble !== null}>
          Set it
        </button>
        <button type="button" className="btn small" onClick={onDone}>
          Leave it
        </button>
      </div>
      <p id={`${id}-said`} role="status" className={trouble ? 'wrong' : 'dim'}>
        {trouble ? (
          <Said parts={troubleWords(trouble).sentence} />
        ) : form ? (
          `It will be written as the old one is: ${formWords(form.form)}.`
        ) : long ? (
          'A certificate or key is pasted as PEM and written as the old one is; anything else is set as it is pasted.'
        ) : hint ? (
          hint.fits ? (
            `Fits: ${kindWords(hint.kind)}, as in other records.`
          ) : (
            `Others have ${kindWords(hint.kind)} here${hint.choices.length ? `, such as ${hint.choices.slice(0, 3).join(', ')}` : ''}. You can set it all the same.`
          )
        ) : (
          'Signs that XML reserves are written as it asks.'
        )}
      </p>
    </form>
  );
}
