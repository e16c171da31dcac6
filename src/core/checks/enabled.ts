import type { Reading } from '../reading/reading.ts';
import { parseBoolean } from '../values/booleans.ts';
import { once, tablesOf } from './tables.ts';

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

/** Rows that a switch of their own turns off: 1. Words of the trade, so weak evidence: only a plain no counts. */
const offRows = once((reading): Uint8Array => {
  const off = new Uint8Array(reading.values.above.length);
  for (const { columns } of tablesOf(reading).values())
    for (const { field, words } of columns) {
      const sense = parseBoolean(field.values[0]!) === null ? null : switchSense(words);
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
