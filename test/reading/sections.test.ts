import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { CarryView } from '../../src/core/desk/carry-view.ts';
import { compare } from '../../src/core/desk/compare.ts';
import { backupView, emptyPlan, planOf, planView } from '../../src/core/index.ts';
import { opened, result } from '../corpus/files.ts';

// How a file is laid out into sections: common practice, no source.

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

  test('are called what they set, on every sheet, and stay behind one by one', () => {
    const names = Array.from(text.matchAll(/<s n="([^"]+)"/g), ([, name]) => name!);
    expect(names.length).toBeGreaterThan(100);
    expect(backupView(backup, reading).sections.map(({ name }) => name)).toEqual(names);
    const view = new CarryView(backup, reading, emptyPlan);
    expect(view.children(null, 0, 200).rows.map(({ name }) => name)).toEqual(names);
    const path = `/harbourd-state[1]/s[${names.indexOf('place.lodge.v4') + 1}]`;
    const plan = planOf([{ kind: 'leave-out', path }]);
    expect(new TextDecoder().decode(result({ backup, reading }, plan))).toBe(text.replace(/.*lodge\.v4.*\n/, ''));
  });
});
