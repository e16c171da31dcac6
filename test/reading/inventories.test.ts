import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

// An export with a head for each table, which says how many rows it has; rules have numbers.
const table = (title: string, heads: readonly string[], rows: readonly (readonly (string | number)[])[]) =>
  `<table title="${title}" rows="${rows.length}"><header>${heads.map((head) => `<cell>${head}</cell>`).join('')}</header>${rows
    .map((row) => `<row>${row.map((cell) => `<cell>${cell}</cell>`).join('')}</row>`)
    .join('')}</table>`;
const nets = ['Office', 'Tills', 'Quay', 'Yard'];
const box = `<export>${[
  table(
    'Networks',
    ['Network', 'Address'],
    nets.map((name, at) => [name, `10.20.${at}.1/24`]),
  ),
  table(
    'Hours',
    ['Hours', 'From', 'To'],
    [
      ['Open season', '07:00', '22:00'],
      ['After midnight', '00:00', '05:30'],
    ],
  ),
  table(
    'Rules',
    ['No', 'Network', 'Hours', 'Verdict'],
    Array.from({ length: 12 }, (_, at) => [
      at + 1,
      nets[at % 4]!,
      at % 3 === 0 ? 'Open season' : at === 5 ? 'After midnight' : '',
      'accept',
    ]),
  ),
  table(
    'Forwards',
    ['Outside', 'Rule'],
    [
      [8443, 3],
      [8554, 7],
      [2222, 11],
    ],
  ),
].join('')}</export>`;

test('how many rows a table has names none of them', () => {
  expect(linksOf(box).names.filter((name) => name.includes('rows'))).toEqual([]);
  expect(linksOf(box).names.filter((name) => name.includes('/Rule '))).toEqual([
    'row/Rule 3 -> row',
    'row/Rule 7 -> row',
    'row/Rule 11 -> row',
  ]);
});

test('labels that repeat in a column called as theirs name records', () => {
  expect(linksOf(box).names.filter((name) => name.includes('Hours ')).length).toBe(5);
});
