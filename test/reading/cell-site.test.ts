import { describe, expect, test } from 'vitest';
import { unitsOf } from '../../src/core/compile/units.ts';
import { buildGraft, emptyPlan, keyOptions, planOf } from '../../src/core/index.ts';
import { listOf } from '../../src/core/reading/keys/collections.ts';
import { keyValue, recordName } from '../../src/core/reading/keys/record-name.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

/** Berths and the crews that look after them, in files whose rows hold nothing but cells of one name. */
const berths = ['slip', 'mole', 'spit', 'pier', 'hard'] as const;
const crews = ['tern', 'gull', 'skua'] as const;
const rows = (berthRow: (id: string, name: string, crew: string) => string) =>
  berths.map((name, at) => berthRow(`${at + 31}`, name, crews[at % 3]!)).join('\n');

const headed = (mark = '') => {
  const row = (...cells: string[]) => `<row>${cells.map((cell) => `<c>${cell}</c>`).join('')}</row>`;
  return `<dump>
<table name="crew"><head><c>crew_id</c><c>title</c></head>
${crews.map((name, at) => row(`${at + 71}`, name)).join('\n')}
</table>
<table name="berth"><head><c>depth</c><c>berth_id</c><c>name</c><c>crew</c></head>
${rows((id, name, crew) => row('4', id, name + mark, crew))}
</table>
</dump>`;
};

const named = (attributes: (name: string, value: string) => string, mark = '') => {
  const row = (...cells: (readonly [string, string])[]) =>
    `<row>${cells.map(([name, value]) => attributes(name, value)).join('')}</row>`;
  return `<dump>
<table name="crew">
${crews.map((name, at) => row(['crew_id', `${at + 71}`], ['title', name])).join('\n')}
</table>
<table name="berth">
${rows((id, name, crew) => row(['depth', '4'], ['berth_id', id], ['name', name + mark], ['crew', crew]))}
</table>
</dump>`;
};

const forms = [
  ['a head over the rows', headed],
  ['an attribute with the name, the value inside', (mark = '') => named((n, v) => `<c of="${n}">${v}</c>`, mark)],
  ['two attributes', (mark = '') => named((n, v) => `<c of="${n}" is="${v}"/>`, mark)],
] as const;

test('the head of a table is structure: its names are no entries of the ledger', () => {
  const { backup, reading } = open(headed());
  const entries = [...unitsOf(backup.tree, reading).nodes].map((node) => pathOf(backup.tree, node));
  expect(entries).toHaveLength(berths.length + crews.length + 2);
  expect(entries.filter((path) => path.includes('/head'))).toEqual([]);
});

describe.each(forms)('rows of cells: %s', (_, made) => {
  const file = open(made());
  const { tree } = file.backup;
  const list = file.reading.collections.find(({ records }) => records.length === berths.length)!;

  test('records are told apart by the column that does so, not by the first cell', () => {
    expect(list.records.map((record) => recordName(tree, list, record))).toEqual(berths);
  });

  test('every column may be chosen to tell them apart', () => {
    const options = keyOptions(file.backup, file.reading, listOf(tree, list));
    const values = options.map(({ key }) => list.records.map((record) => keyValue(tree, key, record)));
    expect(values).toContainEqual([...berths]);
    expect(values).toContainEqual(berths.map((_, at) => `${at + 31}`));
  });

  test('a record goes into the list of another box by that key', () => {
    const [, second] = list.records;
    const without = open(made().replace(tree.text.slice(tree.start[second!]!, tree.end[second!]!), ''));
    const picks = [{ id: pathOf(tree, second!), mode: 'merge' as const }];
    const ask = { picks, withNeeds: false, answers: new Map() };
    const put = buildGraft(file, emptyPlan, without, ask);
    if (!put.ok) throw new Error(put.trouble.code);
    expect(put.value.graft.account.receiver.added).toBe(1);
    const again = buildGraft(file, planOf([]), file, ask);
    if (!again.ok) throw new Error(again.trouble.code);
    expect(again.value.graft.patches.patches).toEqual([]);
  });
});
