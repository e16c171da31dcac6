import { describe, expect, test } from 'vitest';
import {
  type Decision,
  fit,
  loadPlan,
  outlineOf,
  type Plan,
  planOf,
  savePlan,
  sealed,
  withPart,
} from '../../src/core/index.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { valueAt } from '../../src/core/xml/site.ts';
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
      plan: made(before, ...decisions),
      fits: decisions,
      moved: [],
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
    expect(found.collections).toMatchObject([{ name: '/box/sets/set', before: 3, now: 4, removed: 0, keyed: true }]);
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
    expect(found.sections).toMatchObject([{ name: '/box/doors', before: null, now: expect.any(Number) }]);
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

const kept = (file: File, ...decisions: Decision[]): Plan =>
  sealed(planOf(decisions), { ...file.backup, name: file.name }, file.reading);

describe('with its landmarks, a plan finds its records wherever they are now', () => {
  const at = (set: number) => `/box[1]/sets[1]/set[${set}]`;
  const plan = kept(
    before,
    { kind: 'leave-out', path: at(1) },
    { kind: 'leave-out', path: at(3) },
    { kind: 'set-value', path: `${at(2)}/net[1]`, was: 'lan', value: 'cam' },
    { kind: 'keep', path: `${at(1)}/net[1]` },
  );

  test('one came before them: each is taken to its place', () => {
    const found = tried(plan, box(['gates', 'tills', 'desks', 'pumps']));
    expect([found.check, found.gone]).toEqual([[], []]);
    expect(found.plan.decisions).toEqual([
      { kind: 'leave-out', path: at(2) },
      { kind: 'leave-out', path: at(4) },
      { kind: 'set-value', path: `${at(3)}/net[1]`, was: 'lan', value: 'cam' },
      { kind: 'keep', path: `${at(2)}/net[1]` },
    ]);
    expect(found.moved.map(({ from }) => from)).toEqual([at(1), at(3), `${at(2)}/net[1]`, `${at(1)}/net[1]`]);
    expect(found.collections).toMatchObject([{ before: 3, now: 4, removed: 0 }]);
    expect(found.collections[0]!.added).toHaveLength(1);
  });

  test('one is gone: what was said of it is not said of another', () => {
    const found = tried(plan, box(['desks', 'pumps', 'gates']));
    expect(found.gone).toEqual([
      { decision: { kind: 'leave-out', path: at(1) }, reason: 'record-gone' },
      { decision: { kind: 'keep', path: `${at(1)}/net[1]` }, reason: 'record-gone' },
    ]);
    expect(found.plan.decisions).toEqual([
      { kind: 'leave-out', path: at(2) },
      { kind: 'set-value', path: `${at(1)}/net[1]`, was: 'lan', value: 'cam' },
    ]);
    expect(found.collections).toMatchObject([{ before: 3, now: 3, removed: 1 }]);
  });

  test('ticks of a part, ways and answers go with them', () => {
    const part = withPart(planOf([]), {
      result: 'graft',
      ticks: [{ kind: 'keep', path: at(2) }],
      modes: { [at(2)]: 'add', [at(1)]: 'replace' },
      answers: { [at(3)]: 'new-key' },
    });
    const found = tried(
      sealed(part, { ...before.backup, name: 'a' }, before.reading),
      box(['gates', 'desks', 'pumps']),
    );
    expect(found.plan.part).toMatchObject({
      ticks: [{ kind: 'keep', path: at(2) }],
      modes: { [at(2)]: 'add' },
      answers: { [at(3)]: 'new-key' },
    });
    expect(found.fits).toEqual([{ kind: 'keep', path: at(2) }]);
  });

  test('what is told by all that it holds is doubted where that has changed', () => {
    const rows = (hosts: readonly string[]) => open(`<box><a><host>${hosts.join('</host><host>')}</host></a></box>`);
    const old = rows(['10.0.0.1', '10.0.0.2', '10.0.0.3']);
    const third: Decision = { kind: 'leave-out', path: '/box[1]/a[1]/host[3]' };
    const found = tried(kept(old, third), rows(['10.0.0.9', '10.0.0.3', '10.0.0.8']));
    expect(found.plan.decisions).toEqual([{ kind: 'leave-out', path: '/box[1]/a[1]/host[2]' }]);
    expect(tried(kept(old, third), rows(['10.0.0.9', '10.0.0.7', '10.0.0.8'])).check).toEqual([
      { decision: third, reason: 'records-moved' },
    ]);
    expect(tried(kept(old, third), rows(['10.0.0.9', '10.0.0.7'])).gone).toMatchObject([{ reason: 'place-missing' }]);
  });

  test('a plan of eight thousand decisions is taken over in time', () => {
    const names = Array.from({ length: 8000 }, (_, at) => `s${at}`);
    const [one, other] = [box(names), box(['new', ...names])];
    const all = kept(one, ...names.map((_, set): Decision => ({ kind: 'leave-out', path: at(set + 1) })));
    const start = performance.now();
    const found = tried(all, other);
    expect([found.moved.length, found.check.length, found.gone.length]).toEqual([8000, 0, 0]);
    // Generous, as other work shares the machine; looking through the list for each would take minutes.
    expect(performance.now() - start).toBeLessThan(15_000);
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

  test('its outline holds no secret, not even as a mark: with other secrets it is the same', () => {
    const { tree } = file.backup;
    const rng = chance(`secrets ${file.name}`);
    const records = file.reading.collections.flatMap(({ records: nodes }) => nodes);
    const picked = rng.sample(records, 20).map((node): Decision => ({ kind: 'leave-out', path: pathOf(tree, node) }));
    const saved = savePlan(kept(file, ...picked));
    const values = file.reading.secrets.map(({ site }) => valueAt(tree, site).trim());
    for (const value of values) if (value.length > 5) expect(saved).not.toContain(value);
    const other: File = {
      name: file.name,
      ...opened(
        result(
          file,
          planOf(
            file.reading.secrets.map(({ site }) => {
              const value = valueAt(tree, site);
              // One sign for another of its kind, so that it still reads as the secret it was.
              const changed = value.replace(/[a-z](?=[^a-z]*$)/, (sign) => (sign === 'k' ? 'm' : 'k'));
              return { kind: 'set-value', path: sitePath(tree, site), value: changed };
            }),
          ),
        ),
      ),
    };
    // Only where the reading still sees the same secrets is there anything to compare.
    if (other.reading.secrets.length !== file.reading.secrets.length) return;
    const [one, two] = [outlineOf(tree, file.reading), outlineOf(other.backup.tree, other.reading)];
    expect(two).toEqual(one);
  });

  test('what one backup has and the other has not is told, each once', () => {
    const rng = chance(`new ${file.name}`);
    const { tree } = file.backup;
    const keyed = file.reading.collections.filter(({ key, records }) => key.by !== 'position' && records.length > 3);
    if (keyed.length === 0) return;
    const gone = rng.pick(rng.pick(keyed).records as number[]);
    const less: File = {
      name: 'less',
      ...opened(result(file, planOf([{ kind: 'leave-out', path: pathOf(tree, gone) }]))),
    };
    if (less.reading.collections.length !== file.reading.collections.length) return;
    const back = tried(kept(less), file).collections.flatMap(({ added }) => added ?? []);
    expect(back).toContain(gone);
    const sum = (one: readonly { removed: number | null }[]) =>
      one.reduce((all, { removed }) => all + (removed ?? 0), 0);
    expect(sum(tried(kept(file), less).collections)).toBe(back.length);
  });
});
