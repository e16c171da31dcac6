import { useState } from 'react';
import { nameTrouble, type PortRow } from './cords.ts';
import { putInOrder } from './use-ports.ts';

/** Names for every port at once, counted up from the first; for a new box that is not described. */
export function InOrder({ rows: all }: { rows: readonly PortRow[] }) {
  const physical = all.filter((row) => row.kind === 'physical');
  const rows = physical.length ? physical : all;
  const [first, setFirst] = useState('');
  const ready = first.trim() !== '' && nameTrouble(first.trim()) === null;
  return (
    <form
      className="order"
      onSubmit={(event) => {
        event.preventDefault();
        if (ready) putInOrder(rows, first);
      }}
    >
      <label className="cap" htmlFor="first-port">
        By order from
      </label>
      <input
        id="first-port"
        className="field"
        placeholder="ix0"
        spellCheck={false}
        autoComplete="off"
        value={first}
        onChange={(event) => setFirst(event.target.value)}
      />
      <button type="submit" className="btn small plan" aria-disabled={!ready}>
        Name all {rows.length}
      </button>
    </form>
  );
}
