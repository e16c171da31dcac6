import { change } from '../../state/decide.ts';
import type { Cord, PortRow } from './cords.ts';
import { putStep, renameStep, type Step } from './moves.ts';

export const take = ({ name, decisions, withdrawn }: Step): void => change(name, decisions, withdrawn);

export const putOn = (row: PortRow, to: string): void => take(putStep(row.name, to));

/** Two ports change places. */
export function swap(a: PortRow, b: PortRow): void {
  take(
    renameStep(`Swap ${a.name} and ${b.name}`, [
      { from: a.name, to: b.to },
      { from: b.name, to: a.to },
    ]),
  );
}

/** Names counted up from the first one, in the order of the old box. */
export function putInOrder(rows: readonly PortRow[], first: string): void {
  const [, stem, start] = /^(.*?)(\d*)$/.exec(first.trim())!;
  take(
    renameStep(
      `Put ${rows.length} ports on ${stem}${Number(start || 0)} and on, by order`,
      rows.map((row, at) => ({ from: row.name, to: `${stem}${Number(start || 0) + at}` })),
    ),
  );
}

/** Every port keeps its name, and every role its port. */
export function keepAll(rows: readonly PortRow[], cords: readonly Cord[]): void {
  const renames = renameStep(
    'Keep every port where it is',
    rows.map((row) => ({ from: row.name, to: row.name })),
  );
  const moved = cords.filter(({ state }) => state.moved).map(({ state }) => `move-role ${state.path}`);
  take({ ...renames, withdrawn: [...renames.withdrawn, ...moved] });
}

export const isAPort = (name: string): void =>
  change(`${name} is a port`, [{ kind: 'correct', correction: { correct: 'port', value: name } }]);

export const notAPort = (name: string): void =>
  change(
    `${name} is not a port`,
    [{ kind: 'correct', correction: { correct: 'not-a-port', value: name } }],
    [`rename-port ${name}`],
  );
