import { useState } from 'react';
import { list } from '../../words/numbers.ts';
import { type Cabling, roleTitle } from './cords.ts';
import { isAPort } from './use-ports.ts';

export function HowItWorks({ cabling: { portless } }: { cabling: Cabling }) {
  return (
    <section className="quiet grow">
      <h3>How a port moves</h3>
      <p>
        Give a port its new name, and every place that names it follows: its tagged devices, groups, roles, rules. All
        names change at once, so two ports can change places. Free remarks stay as they are; they are listed on sheet 4.
      </p>
      <p>
        In the drawing, pull the end of a port or the flag of one role over to the new box, or press it and then the new
        port. By keys: arrows move, Enter picks up and puts down, Escape gives back.
      </p>
      {portless.length > 0 && (
        <p>
          {portless.length === 1 ? 'One role sits' : `${portless.length} roles sit`} on no port of the old box:{' '}
          {list(
            portless.map(({ role }) => roleTitle(role)),
            6,
          )}
          .
        </p>
      )}
      <Missing />
    </section>
  );
}

/** A port that the reading did not find, told by a person. */
export function Missing() {
  const [name, setName] = useState('');
  const ready = name.trim() !== '';
  return (
    <form
      className="missing"
      onSubmit={(event) => {
        event.preventDefault();
        if (!ready) return;
        isAPort(name.trim());
        setName('');
      }}
    >
      <label className="cap" htmlFor="missing-port">
        A port is missing? Its name in the old file
      </label>
      <span className="row">
        <input
          id="missing-port"
          className="field missing-name"
          spellCheck={false}
          autoComplete="off"
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
        <button type="submit" className="btn small plan" aria-disabled={!ready}>
          It is a port
        </button>
      </span>
    </form>
  );
}
