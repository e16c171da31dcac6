import { describe, expect, test } from 'vitest';
import { type Decision, fit, loadPlan, outlineOf, type Plan, planOf, savePlan } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { nameOf } from '../../src/core/xml/tree.ts';
import { opened, result } from '../corpus/files.ts';
import { chance, corpusFiles, dialects, type File, netconf, open, someSeeds } from './files.ts';
import { elements } from './outline.ts';

const made = (file: File, ...decisions: Decision[]): Plan => ({
  ...planOf(decisions, { name: file.name, hash: file.backup.hash }),
  outline: outlineOf(file.backup.tree, file.reading),
});
const tried = (plan: Plan, { backup, reading }: File) => fit(plan, backup, reading);

const box = (sets: readonly string[], more = '') =>
  open(
    `<box><nets><net><id>lan</id><port>eth0</port></net><net><id>cam</id><port>eth1</port></net></nets><sets>${sets.map((name) => `<set><name>${name}</name><net>lan</net></set>`).join('')}</sets><clock><zone>UTC</zone></clock>${more}</box>`,
  );
const before = box(['tills', 'desks', 'pumps']);
const third = '/box[1]/sets[1]/set[3]';

describe('a saved plan on the next backup', () => {
  const decisions: Decision[] = [
    { kind: 'rename-port', from: 'eth0', to: 'ix0' },
    { kind: 'leave-out', path: third },
    { kind: 'leave-out', path: '/box[1]/clock[1]' },
    { kind: 'leave-out', path: '/box[1]/sets[1]/set[*]' },
    { kind: 'set-value', path: `${third}/net[1]`, was: 'lan', value: 'cam' },
  ];

  test('fits the file that it was made for', () => {
    expect(tried(made(before, ...decisions), before)).toEqual({
      sameFile: true,
      fits: decisions,
      check: [],
      gone: [],
      sections: [],
      collections: [],
    });
  });

  test('is doubted where the records that its paths count are more', () => {
    const found = tried(made(before, ...decisions), box(['gates', 'tills', 'desks', 'pumps']));
    expect(found.sameFile).toBe(false);
    expect(found.check).toEqual([{ decision: decisions[1], reason: 'records-moved' }]);
    expect(found.fits).toEqual([decisions[0], decisions[2], decisions[3], decisions[4]]);
    expect(found.collections).toEqual([{ name: '/box/sets/set', before: 3, now: 4 }]);
  });

  test('says what is gone, and why', () => {
    const bare = open(
      '<box><nets><net><id>lan</id><port>em0</port></net><net><id>cam</id><port>em1</port></net></nets></box>',
    );
    expect(tried(made(before, ...decisions), bare).gone.map(({ reason }) => reason)).toEqual([
      'port-missing',
      ...['place-missing', 'place-missing', 'place-missing', 'place-missing'],
    ]);
    const other = box(['tills', 'desks', 'pumps']);
    const plan = made(before, { kind: 'set-value', path: `${third}/net[1]`, was: 'dmz', value: 'cam' });
    expect(tried(plan, other).gone).toMatchObject([{ reason: 'value-other' }]);
    const role = made(before, { kind: 'move-role', role: '/box[1]/sets[1]/set[1]', to: { on: 'none' } });
    expect(tried(role, other).gone).toMatchObject([{ reason: 'role-missing' }]);
  });

  test('tells sections that are new since', () => {
    const found = tried(
      made(before),
      box(['tills', 'desks', 'pumps'], '<doors><door><no>1</no></door><door><no>2</no></door></doors>'),
    );
    expect(found.sections).toEqual([{ name: '/box/doors', before: null, now: expect.any(Number) }]);
  });

  test('without an outline every path that counts records is doubted, and nothing is called new', () => {
    const { outline: _, ...plan } = made(before, ...decisions);
    const found = tried({ ...plan, file: null }, before);
    expect(found.check.map(({ decision }) => decision)).toEqual([decisions[1]]);
    expect([found.sections, found.collections]).toEqual([[], []]);
  });

  test('saved and loaded it is the same; an outline of another shape is said', () => {
    const plan = made(before, ...decisions);
    expect(loadPlan(savePlan(plan))).toEqual({ ok: true, value: { plan, troubles: [] } });
    const strange = loadPlan('{"plan": 1, "outline": {"sections": [3]}}');
    expect(strange).toMatchObject({ ok: true, value: { troubles: [{ params: { key: 'outline' } }] } });
  });
});

describe.each([netconf(), ...corpusFiles(['a02', 'a09']), ...dialects(someSeeds(8))] as File[])('$name', (file) => {
  test('its outline holds names of elements and no value', () => {
    const { sections, collections } = outlineOf(file.backup.tree, file.reading);
    const tags = new Set(file.backup.tree.names);
    for (const { name } of [...sections, ...collections])
      for (const step of name.split('/').slice(1)) expect([step, step === '*' || tags.has(step)]).toEqual([step, true]);
    const held = collections.reduce((sum, { count }) => sum + count, 0);
    expect(held).toBe(file.reading.collections.reduce((sum, { records }) => sum + records.length, 0));
    // In a list of properties the keys stand in values, and every record has the one tag.
    const items = new Set(file.reading.collections.map(({ item }) => item));
    const { tree } = file.backup;
    const keys = file.reading.collections.filter(({ item }) => item === null).flatMap(({ records }) => records);
    for (const key of new Set(keys.map((node) => nameOf(tree, node))))
      if (!items.has(key)) expect(collections.filter(({ name }) => name.split('/').includes(key))).toEqual([]);
  });

  test('a plan about places that are still there, as they were, fits its result', () => {
    const rng = chance(`fit ${file.name}`);
    const records = file.reading.collections.flatMap(({ records: nodes }) => nodes);
    const all = elements(file.backup.tree).slice(1);
    const gone = pathOf(file.backup.tree, rng.pick(records));
    const plan = made(
      file,
      ...Array.from({ length: 12 }, (): Decision => ({ kind: 'leave-out', path: rng.pick(all).path })),
    );
    const after: File = { name: 'after', ...opened(result(file, planOf([{ kind: 'leave-out', path: gone }]))) };
    const found = tried(plan, after);
    expect(found.fits.length + found.check.length + found.gone.length).toBe(plan.decisions.length);
    // What fits without a doubt is the same thing that was meant: its element has the same text.
    const texts = (one: File) =>
      new Map(
        elements(one.backup.tree).map(({ path, node }) => [
          path,
          one.backup.tree.text.slice(one.backup.tree.start[node]!, one.backup.tree.openEnd[node]!),
        ]),
      );
    const [then, now] = [texts(file), texts(after)];
    for (const decision of found.fits) {
      if (decision.kind !== 'leave-out') continue;
      expect([decision.path, now.get(decision.path)]).toEqual([decision.path, then.get(decision.path)]);
    }
  });
});
