import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { CarryView } from '../../src/core/desk/carry/carry-view.ts';
import { compare } from '../../src/core/desk/plan/compare.ts';
import {
  backupView,
  type Decision,
  emptyPlan,
  fit,
  loadPlan,
  planOf,
  planView,
  savePlan,
  sealed,
  tickRows,
} from '../../src/core/index.ts';
import { opened, result } from '../corpus/files.ts';

// How a file is laid out into sections: common practice, no source.

const bytesOf = (text: string) => new TextEncoder().encode(text);

const file = `<box>
  <host>quay-gw</host>
  <tag id="t30"><on>enp3s0</on><number>30</number></tag>
  <roles>
    <role><name>office</name><on>t30</on></role>
    <role><name>cafe</name><on>t40</on></role>
  </roles>
  <tag id="t40"><on>enp3s0</on><number>40</number></tag>
  <pass handle="5f0c7f0e-21d7-4f0e-8a0a-0d9b5b1f0a11"><from>office</from><note>to the berths</note></pass>
  <pass handle="5f0c7f0e-21d7-4f0e-8a0a-0d9b5b1f0a12"><from>cafe</from><note>to the berths</note></pass>
  <pass handle="5f0c7f0e-21d7-4f0e-8a0a-0d9b5b1f0a13"><from>office</from><note>to the till</note></pass>
</box>
`;

describe('records that stand side by side at the top', () => {
  const { backup, reading } = opened(new TextEncoder().encode(file));

  test('are one section, wherever others stand between them, with all their records and their size', () => {
    const sections = backupView(backup, reading).sections.map(({ path, records, size }) => [path, records, size]);
    const [first, second] = file.match(/<tag .*<\/tag>/g)!;
    expect(sections.find(([path]) => path === '/box[1]/tag[*]')).toEqual([
      '/box[1]/tag[*]',
      2,
      first!.length + second!.length,
    ]);
    expect(sections.map(([path]) => path)).toEqual([
      '/box[1]/host[1]',
      '/box[1]/tag[*]',
      '/box[1]/roles[1]',
      '/box[1]/pass[*]',
    ]);
  });

  test('are left out together, and nothing else is', () => {
    const plan = planOf([{ kind: 'leave-out', path: '/box[1]/pass[*]' }]);
    const state = planView(backup, reading, plan).sections.find(({ path }) => path === '/box[1]/pass[*]');
    expect(state).toMatchObject({ ticked: false, leftOut: 3, carried: 0 });
    expect(new TextDecoder().decode(result({ backup, reading }, plan))).toBe(file.replace(/ {2}<pass .*\n/g, ''));
  });

  test('are shown side by side with what becomes of them', () => {
    const plan = planOf([{ kind: 'leave-out', path: '/box[1]/pass[2]' }]);
    const shown = compare(backup, reading, plan, '/box[1]/pass[*]', 10_000)!;
    const lines = file.match(/ {2}<pass .*\n/g)!;
    expect([shown.before, shown.after, shown.beforeLine]).toEqual([
      lines.join('').trimEnd(),
      (lines[0]! + lines[2]!).trimEnd(),
      9,
    ]);
  });

  test('are a row of their own on sheet 3, in the order of the file, with the records in it', () => {
    const view = new CarryView(backup, reading, emptyPlan);
    const { rows } = view.children(null, 0, 10);
    expect(rows.map(({ name, entries }) => [name, entries])).toEqual([
      ['host', 1],
      ['tag', 2],
      ['roles', 2],
      ['pass', 3],
    ]);
    expect(view.children('/box[1]/pass[*]', 0, 10).rows.map(({ name }) => name)).toEqual([
      'to the berths',
      'to the berths',
      'to the till',
    ]);
  });
});

describe('the lines of a flat list', () => {
  const bytes = readFileSync(new URL('../fixtures/schools/harbourd.xml', import.meta.url));
  const text = bytes.toString('utf8');
  const { backup, reading } = opened(bytes);

  const names = Array.from(text.matchAll(/<s n="([^"]+)"/g), ([, name]) => name!);
  const linesOf = (beginning: string) => names.filter((name) => name.startsWith(beginning));
  const without = (beginning: string) =>
    text.replace(new RegExp(`<s n="${beginning.replaceAll('.', '\\.')}.*\n`, 'g'), '');
  const made = (...decisions: Decision[]) => new TextDecoder().decode(result({ backup, reading }, planOf(decisions)));

  test('are sections by the beginning of their keys, on every sheet', () => {
    const heads = [...new Set(names.map((name) => name.split('.')[0]!))];
    expect(heads.length).toBeGreaterThan(15);
    const { sections } = backupView(backup, reading);
    const called = heads.map((head) => {
      const lines = linesOf(`${head}.`);
      return lines.length > 1 ? head : lines[0];
    });
    expect(sections.map(({ name }) => name)).toEqual(called);
    const view = new CarryView(backup, reading, emptyPlan);
    const { rows } = view.children(null, 0, 200);
    expect(rows.map(({ id, name, entries }) => [id, name, entries])).toEqual(
      sections.map(({ path, name }) => [path, name, linesOf(`${name}.`).length || 1]),
    );
    expect(rows.reduce((sum, { entries }) => sum + entries, 0)).toBe(names.length);
  });

  test('of a record lie in it, and are called what they set', () => {
    const view = new CarryView(backup, reading, emptyPlan);
    const section = '/harbourd-state[1]/section(place)';
    const places = view.children(section, 0, 50).rows;
    expect(places.map(({ kind, entries }) => [kind, entries])).toEqual(
      ['shore', 'lodge', 'pumps', 'eyes', 'callers'].map((name) => ['record', linesOf(`place.${name}.`).length]),
    );
    expect(places.map(({ name, key }) => [name, key])).toEqual([
      ['Line to the mainland', 'shore'],
      ['lodge, on enp2s0 since the flood', 'lodge'],
      ['Fuel pumps', 'pumps'],
      ['Cameras', 'eyes'],
      ['Visiting boats', 'callers'],
    ]);
    const lines = view.children(places[1]!.id, 0, 50).rows;
    expect(lines.map(({ kind, name }) => [kind, name])).toEqual(
      linesOf('place.lodge.')
        .slice(1)
        .map((name) => ['setting', name]),
    );
    expect(view.row(section)).toMatchObject({ kind: 'section', name: 'place' });
  });

  test('stay behind one by one, as a record, and as a section; what is said more closely counts', () => {
    const line = `/harbourd-state[1]/s[${names.indexOf('place.lodge.v4') + 1}]`;
    const lodge = `/harbourd-state[1]/s[${names.indexOf('place.lodge.sits-on') + 1}]`;
    const section = '/harbourd-state[1]/section(place)';
    expect(made({ kind: 'leave-out', path: line })).toBe(without('place.lodge.v4'));
    expect(made({ kind: 'leave-out', path: section })).toBe(without('place.'));
    const ticked = tickRows(backup.tree, reading, emptyPlan, [lodge], false);
    expect(made(...ticked.decisions)).toBe(without('place.lodge.'));
    // The first record of its kind stands where the list of them begins, too.
    const shore = `/harbourd-state[1]/s[${names.indexOf('place.shore.sits-on') + 1}]`;
    expect(made(...tickRows(backup.tree, reading, emptyPlan, [shore], false).decisions)).toBe(without('place.shore.'));
    const kept = tickRows(backup.tree, reading, planOf([{ kind: 'leave-out', path: section }]), [lodge], true);
    const places = without('place.').replace(
      '<s n="strand.0.over">',
      `${text.match(/<s n="place\.lodge\..*\n/g)!.join('')}<s n="strand.0.over">`,
    );
    for (const decisions of [kept.decisions, [...kept.decisions].reverse()]) expect(made(...decisions)).toBe(places);
    // A section that is ticked again leaves no trace of what was said in it.
    expect(tickRows(backup.tree, reading, kept, [section], true).decisions).toEqual([]);
  });

  test('are found again in the next backup, wherever the section begins', () => {
    const plan = planOf([{ kind: 'leave-out', path: '/harbourd-state[1]/section(place)' }]);
    const saved = savePlan(sealed(plan, { ...backup, name: 'old.xml' }, reading));
    const next = opened(
      bytesOf(without('place.shore.').replace('<s n="unit.title">', '<s n="unit.note">new</s>\n<s n="unit.title">')),
    );
    const loaded = loadPlan(saved);
    if (!loaded.ok) throw new Error('no plan');
    const met = fit(loaded.value.plan, next.backup, next.reading);
    expect([met.gone, met.fits.length + met.check.length]).toEqual([[], 1]);
    expect(new TextDecoder().decode(result(next, met.plan))).not.toContain('n="place.');
  });
});

test('sections of a list keep apart what names with marks of paths would mix', () => {
  const groups = ['a/b', '(c)', 'd%2F'];
  const lines = groups.flatMap((name) =>
    Array.from({ length: 9 }, (_, at) => `<s k="${name}.r${at % 3}.f${at}" v="v${at}"/>`),
  );
  const file = opened(bytesOf(`<box>\n${lines.join('\n')}\n</box>`));
  const { sections } = backupView(file.backup, file.reading);
  expect(sections.map(({ name }) => name)).toEqual(groups);
  for (const [at, { path }] of sections.entries()) {
    const made = new TextDecoder().decode(result(file, planOf([{ kind: 'leave-out', path }])));
    expect(made.match(/<s /g)).toHaveLength(18);
    expect(made).not.toContain(`k="${groups[at]}.`);
  }
});

// Lists that write down their tree in other ways than by keys; what is expected was read off the files by eye.
test.each([
  ['almanac', ['almanac', 'unit', 'console', 'tunes', 'vlans', 'zones'], 'zones', ['sound', 'spit', 'chartroom']],
  [
    'deckbook',
    ['unit', 'console / speed', 'tune', 'vlan', 'zone', 'exit'],
    'exit',
    ['gw-firth', 'gw-holm', 'gw-bursar'],
  ],
  [
    'charthouse',
    ['unit', '/console/speed', 'tunes', 'vlans', 'zones', 'exits'],
    'exits',
    ['gw-roads', 'gw-skerries', 'gw-counter'],
  ],
])('%s: sections and records have the names that the list gives them', (name, first, section, records) => {
  const bytes = readFileSync(new URL(`../fixtures/layouts/${name}.xml`, import.meta.url));
  const file = opened(bytes);
  const { sections } = backupView(file.backup, file.reading);
  expect(sections.slice(0, first.length).map((one) => one.name)).toEqual(first);
  const { path } = sections.find((one) => one.name === section)!;
  const rows = new CarryView(file.backup, file.reading, emptyPlan).children(path, 0, 50).rows;
  expect(
    rows
      .filter(({ kind }) => kind === 'record')
      .slice(0, 3)
      .map((row) => row.name),
  ).toEqual(records);
  const gone = new TextDecoder().decode(result(file, planOf([{ kind: 'leave-out', path }])));
  const kept = bytes
    .toString('utf8')
    .split('\n')
    .filter((line) => !gone.includes(`${line}\n`));
  expect(kept).toHaveLength(sections.find((one) => one.name === section)!.records);
});
