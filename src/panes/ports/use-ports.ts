import type { Decision } from '../../core/index.ts';
import { change } from '../../state/decide.ts';
import { decisionName } from '../../words/decisions.ts';
import type { PortRow } from './cords.ts';

const subject = (name: string) => `rename-port ${name}`;

const rename = (from: string, to: string): Decision => ({ kind: 'rename-port', from, to });

/** The decision, or its withdrawal where a port keeps its name. */
function move(moves: readonly { readonly from: string; readonly to: string }[], name: string): void {
  change(
    name,
    moves.filter(({ from, to }) => from !== to).map(({ from, to }) => rename(from, to)),
    moves.filter(({ from, to }) => from === to).map(({ from }) => subject(from)),
  );
}

export function putOn(row: PortRow, to: string): void {
  const name = row.name === to ? `Keep ${row.name} where it is` : decisionName(rename(row.name, to));
  move([{ from: row.name, to }], name);
}

/** Two ports change places. */
export function swap(a: PortRow, b: PortRow): void {
  move(
    [
      { from: a.name, to: b.to },
      { from: b.name, to: a.to },
    ],
    `Swap ${a.name} and ${b.name}`,
  );
}

/** Names counted up from the first one, in the order of the old box. */
export function putInOrder(rows: readonly PortRow[], first: string): void {
  const [, stem, start] = /^(.*?)(\d*)$/.exec(first.trim())!;
  move(
    rows.map((row, at) => ({ from: row.name, to: `${stem}${Number(start || 0) + at}` })),
    `Put ${rows.length} ports on ${stem}${Number(start || 0)} and on, by order`,
  );
}

export function keepAll(rows: readonly PortRow[]): void {
  move(
    rows.map((row) => ({ from: row.name, to: row.name })),
    'Keep every port where it is',
  );
}

export const isAPort = (name: string): void =>
  change(`${name} is a port`, [{ kind: 'correct', correction: { correct: 'port', value: name } }]);

export const notAPort = (name: string): void =>
  change(
    `${name} is not a port`,
    [{ kind: 'correct', correction: { correct: 'not-a-port', value: name } }],
    [subject(name)],
  );
