import type { Reading } from '../reading/reading.ts';
import { parseBoolean } from '../values/booleans.ts';
import { once, tablesOf } from './tables.ts';

const onWords = new Set(
  'enabled enable active aktiv aktiviert eingeschaltet activo activado habilitado actif active on live aktivno вкл включено активен ενεργο 启用 有効'.split(
    ' ',
  ),
);
const offWords = new Set(
  'disabled disable inactive off inaktiv deaktiviert ausgeschaltet desactivado inactivo deshabilitado inactif desactive выкл отключено ανενεργο 停用 無効'.split(
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

/** Rows that a switch of their own turns off. Words of the trade, so weak evidence: only a plain no counts. */
const offRows = once((reading): ReadonlySet<number> => {
  const rows = new Set<number>();
  for (const { columns } of tablesOf(reading).values())
    for (const { field, words } of columns) {
      const sense = parseBoolean(field.values[0]!) === null ? null : switchSense(words);
      if (!sense) continue;
      for (let place = 0; place < field.values.length; place++)
        if (parseBoolean(field.values[place]!) === (sense === 'off')) rows.add(field.rows[place]!);
    }
  return rows;
});

export function isOff(reading: Reading, row: number): boolean {
  return offRows(reading).has(row);
}
