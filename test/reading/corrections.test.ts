import { describe, expect, test } from 'vitest';
import {
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
