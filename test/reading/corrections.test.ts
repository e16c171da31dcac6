import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  backupView,
  type Correction,
  careOf,
  fieldsOf,
  keyOptions,
  loadPlan,
  openBackup,
  planOf,
  readMeaning,
  savePlan,
} from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';

const crews = ['north', 'south', 'quay', 'fuel'];
const text = `<site><crews>${crews
  .map(
    (name, at) =>
      `<crew><code>c${at}</code><name>${name}</name><word>${'lamp-oil-hull-rope'.split('-')[at]}</word></crew>`,
  )
  .join('\n')}</crews><kernel>${['net.igb.0.fc', 'hw.igb.rx_limit']
  .map((name, at) => `<value name="${name}">${at}</value>`)
  .join(
    '',
  )}</kernel><berths>${crews.map((name, at) => `<berth><no>${at + 7}</no><held>${name}</held></berth>`).join('')}</berths></site>`;
const opened = openBackup(new TextEncoder().encode(text), 'quay.xml');
if (!opened.ok) throw new Error(opened.trouble.code);
const backup = opened.value;
const { tree } = backup;
const read = (...corrections: Correction[]) => readMeaning(tree, { corrections });
const crewOf = (reading: ReturnType<typeof read>) => reading.collections.find(({ item }) => item === 'crew')!;

describe('what is said of the reading', () => {
  test.each([[{ by: 'leaf', path: ['name'] }], [{ by: 'leaf', path: ['word'] }], [{ by: 'position' }]] as const)(
    'a key that is chosen is the key: %j',
    (key) => {
      const reading = read({ correct: 'key', collection: '/site/crews/crew', key });
      expect(crewOf(reading).key).toEqual(key);
      const options = keyOptions(backup, reading, '/site/crews/crew').map((option) => JSON.stringify(option.key));
      for (const one of [key, { by: 'leaf', path: ['code'] }]) expect(options).toContain(JSON.stringify(one));
    },
  );

  test('a reference that is added names the records, by the key that fits', () => {
    const reading = read({
      correct: 'field-names',
      template: '/site/berths/berth/held',
      collection: '/site/crews/crew',
      yes: true,
    });
    const named = reading.references.filter(({ site }) => pathOf(tree, site.node).startsWith('/site[1]/berths[1]'));
    expect(named.map(({ value, to }) => [value, pathOf(tree, to)])).toEqual(
      crews.map((name, at) => [name, `/site[1]/crews[1]/crew[${at + 1}]`]),
    );
  });

  test('a field said to be secret shows no value in any list, and denied it does again', () => {
    const template = '/site/crews/crew/word';
    const secret = read({ correct: 'secret', template, yes: true });
    expect(careOf(backup, secret).secrets).toMatchObject([{ template, count: 4, total: 4 }]);
    expect(JSON.stringify(fieldsOf(backup, secret, { words: '', from: 0, limit: 100 }))).not.toContain('lamp');
    expect(JSON.stringify(keyOptions(backup, secret, '/site/crews/crew'))).not.toContain('lamp');
    const open = read({ correct: 'secret', template, yes: false });
    expect(JSON.stringify(fieldsOf(backup, open, { words: 'word', from: 0, limit: 100 }))).toContain('lamp');
  });

  test('of settings that share a path one alone is denied, by what gave it away', () => {
    const before = careOf(backup, read()).boxBound;
    expect(before.map(({ sign }) => sign)).toEqual(['net.igb.0.fc', 'hw.igb.rx_limit']);
    const { template, sign } = before[0]!;
    const after = careOf(backup, read({ correct: 'box-bound', template, yes: false, sign })).boxBound;
    expect(after.map((one) => one.sign)).toEqual(['hw.igb.rx_limit']);
    expect(careOf(backup, read({ correct: 'box-bound', template, yes: false })).boxBound).toEqual([]);
    const told = careOf(backup, read({ correct: 'box-bound', template: '/site/crews/crew/code', yes: true })).boxBound;
    expect(told.filter(({ reason }) => reason === 'told')).toMatchObject([
      { template: '/site/crews/crew/code', count: 4 },
    ]);
  });

  test('is saved and loaded as it was said, and lists are told without their places', () => {
    const said = (collection: string) =>
      ({ kind: 'correct', correction: { correct: 'key', collection, key: { by: 'leaf', path: ['name'] } } }) as const;
    const sign = {
      kind: 'correct',
      correction: { correct: 'box-bound', template: '/site/kernel/value', yes: false, sign: 'net.igb.0.fc' },
    } as const;
    const plan = planOf([said('/site[1]/crews[1]/crew'), said('/site/crews/crew'), sign]);
    expect(plan.decisions).toHaveLength(2);
    const loaded = loadPlan(savePlan(plan));
    expect(loaded.ok && loaded.value).toEqual({ plan, troubles: [] });
  });
});

// Files in which many lists have one tag; a law of the program itself.
describe.each([
  ['../fixtures/layouts/moorage.xml', '/dump/table{zone}/row', '/dump/table{gateway}/row'],
  ['../fixtures/schools/harbourd.xml', '/harbourd-state/place/*', '/harbourd-state/hop/*'],
  ['../fixtures/layouts/logbook.xml', '/logbook/chapter{zones}/line{zone}', '/logbook/chapter{exits}/line{exit}'],
])('what is said of one of many lists: %s', (path, list, other) => {
  const file = openBackup(readFileSync(new URL(path, import.meta.url)), 'box.xml');
  if (!file.ok) throw new Error(file.trouble.code);
  const own = file.value;
  const view = (...corrections: Correction[]) => backupView(own, readMeaning(own.tree, { corrections }));
  const before = view();
  const naming = (fields: typeof before.fields) => fields.filter(({ targets }) => targets.includes(list));

  test('lists have names of their own', () => {
    const names = new Set(before.collections.map(({ list: name }) => name));
    expect([...names]).toEqual(expect.arrayContaining([list, other]));
    expect(before.fields.flatMap(({ targets }) => targets.filter((target) => !names.has(target)))).toEqual([]);
    expect(naming(before.fields).length).toBeGreaterThan(1);
  });

  test('another key is that of this list, and of no other', () => {
    const after = view({ correct: 'key', collection: list, key: { by: 'position' } });
    const changed = after.collections.filter((one, at) => one.key.by !== before.collections[at]?.key.by);
    expect(changed.map((one) => one.list)).toEqual([list]);
  });

  test('what is denied of it is not denied of others, and what is added names it alone', () => {
    const [field] = naming(before.fields);
    const { template } = field!;
    const denied = view({ correct: 'field-names', template, collection: list, yes: false });
    expect(denied.fields.find((one) => one.template === template)?.targets ?? []).not.toContain(list);
    const wrong = view({ correct: 'field-names', template, collection: other, yes: false });
    expect(naming(wrong.fields).map((one) => one.template)).toContain(template);
    const added = view(
      { correct: 'field-names', template, collection: list, yes: false },
      { correct: 'field-names', template, collection: list, yes: true },
    );
    expect(added.fields.find((one) => one.template === template)!.targets).toEqual([list]);
  });
});
