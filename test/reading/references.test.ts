import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

const example = readFileSync(new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url), 'utf8');

test('names that tell their own records apart, of which two of three are names elsewhere, too: the third is not amiss', () => {
  const { reading } = open(example);
  expect(reading.dangling.map(({ value }) => value)).not.toContain('tide-board');
});

test('a rule that names a set which is not there is amiss all the same', () => {
  const { reading } = open(example);
  expect(reading.dangling.map(({ value }) => value)).toContain('old-card-gateway');
});

const box = (names: readonly string[], rules: readonly string[]) =>
  open(
    `<box><sets>${names.map((name, at) => `<set><name>${name}</name><host>10.20.0.${at + 10}</host></set>`).join('')}</sets>
<rules>${rules.map((from) => `<rule><do>pass</do><from>${from}</from></rule>`).join('')}</rules></box>`,
  ).reading.dangling.map(({ value, nearest }) => `${value} ${nearest}`);
const names = ['crew', 'recorder', 'tills', 'bank', 'desks', 'cranes', 'pumps', 'lamps', 'masts'];

// Read off by eye: what comes back and is nearly the name of a record that nothing names was meant for that record.
test.each([
  ['one letter off a name that nothing uses', ['recorder', 'recoder'], 4, 4],
  ['in other capitals', ['tills', 'Tills'], 4, 4],
  ['one letter off a name in use: a word of its own', ['recorder', 'recoder'], 3, 0],
  ['far from all names: a word of its own', ['recorder', 'nobody'], 4, 0],
])('a word that comes back, %s', (what, [name, word], times, amiss) => {
  const used = [...names, ...names].filter((one) => what.includes('in use') || one !== name);
  expect(box(names, [...used, ...Array(times).fill(word)])).toHaveLength(amiss);
});
