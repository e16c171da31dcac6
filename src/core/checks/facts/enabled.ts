import type { Reading } from '../../reading/reading.ts';
import { parseBoolean } from '../../values/booleans.ts';
import { byStructure, once } from './once.ts';
import { type Column, tablesOf } from './tables.ts';

const onWords = new Set(
  'enabled enable active aktiv aktiviert eingeschaltet activo activado habilitado actif active on live aktivno вкл включено активен активно ενεργο 启用 有効'.split(
    ' ',
  ),
);
const offWords = new Set(
  'disabled disable inactive off inaktiv deaktiviert ausgeschaltet desactivado inactivo deshabilitado inactif desactive выкл отключено неактивно ανενεργο 停用 無効'.split(
    ' ',
  ),
);

/** What a field's name says of its records: `on` for fields such as `enabled`, `off` for fields such as `disabled`. */
export function switchSense(words: Iterable<string>): 'on' | 'off' | null {
  for (const word of words) {
    if (offWords.has(word)) return 'off';
    if (onWords.has(word)) return 'on';
  }
  return null;
}

/** Kinds of record that a switch is at home in, and the share of them that it has on. */
const [KINDS, MOSTLY] = [2, 0.8];

/**
 * Names by which records are switched on in the dialect's own words: a yes or no of one name in several kinds of record, mostly
 * a yes. Where a word of the trade does so, or two names might, none is learned.
 */
const learnedNames = once((reading): ReadonlySet<string> => {
  const uses = new Map<string, { shapes: number[]; yes: number; all: number }>();
  const told = new Set<number>();
  for (const { shape, columns } of tablesOf(reading).values())
    for (const { field, name, words } of columns) {
      const { distinct, times, several, values } = field;
      if (shape === -1 || several || distinct.length > 2 || distinct.some((value) => parseBoolean(value) === null))
        continue;
      if (switchSense(words)) told.add(shape);
      const use = uses.get(name) ?? { shapes: [], yes: 0, all: 0 };
      uses.set(name, use);
      use.shapes.push(shape);
      use.all += values.length;
      for (const [at, value] of distinct.entries()) if (parseBoolean(value)) use.yes += times[at]!;
    }
  const own = [...uses].filter(
    ([, { shapes, yes, all }]) =>
      new Set(shapes).size >= KINDS && yes < all && yes >= all * MOSTLY && !shapes.some((shape) => told.has(shape)),
  );
  const alone = own.filter(([name, { shapes }]) =>
    own.every(([other, use]) => other === name || !use.shapes.some((shape) => shapes.includes(shape))),
  );
  return new Set(alone.map(([name]) => name));
}, byStructure);

/** What a column says of its records, by a word of the trade or of the dialect; see `switchSense`. */
export function switchIn(reading: Reading): (column: Column) => 'on' | 'off' | null {
  const learned = learnedNames(reading);
  return ({ name, words }) => switchSense(words) ?? (learned.has(name) ? 'on' : null);
}

/** Rows that a switch of their own turns off: 1. Words of the trade, so weak evidence: only a plain no counts. */
const offRows = once((reading): Uint8Array => {
  const off = new Uint8Array(reading.values.above.length);
  const senseOf = switchIn(reading);
  for (const { columns } of tablesOf(reading).values())
    for (const column of columns) {
      const { field } = column;
      const sense = parseBoolean(field.values[0]!) === null ? null : senseOf(column);
      if (!sense) continue;
      const isNo = field.distinct.map((value) => parseBoolean(value) === (sense === 'off'));
      for (let place = 0; place < field.which.length; place++)
        if (isNo[field.which[place]!] && field.rows[place] !== -1) off[field.rows[place]!] = 1;
    }
  return off;
});

/** A test whether a row is switched off. */
export function switchedOff(reading: Reading): (row: number) => boolean {
  const off = offRows(reading);
  return (row) => off[row] === 1;
}
