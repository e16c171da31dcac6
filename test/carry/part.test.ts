import { describe, expect, test } from 'vitest';
import { topsOf } from '../../src/core/carry/chosen.ts';
import { requestOf } from '../../src/core/carry/part.ts';
import {
  build,
  CarryView,
  decide,
  effective,
  emptyPlan,
  loadPlan,
  newPart,
  type Part,
  type Plan,
  savePlan,
  tickRows,
  withdraw,
  withPart,
} from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { opened } from '../corpus/files.ts';
import { chance, corpusFiles, dialects, type File, netconf, open, someSeeds } from './files.ts';

const part = (change: Partial<Part> = {}): Plan => withPart(emptyPlan, { result: 'ticked', ...change });
const ticked = ({ backup, reading }: File, plan: Plan, ids: readonly string[], on: boolean) =>
  tickRows(backup.tree, reading, plan, ids, on);
const made = ({ backup, reading }: File, plan: Plan) => {
  const built = build(backup, reading, effective(backup.tree, reading, plan));
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return opened(built.value.bytes).backup.tree.text;
};

const box = open(`<box edition="3">
  <sets note="by hand">
    <set><name>tills</name><host>10.20.30.4</host></set>
    <set><name>desks</name><host>10.20.0.7</host></set>
    <set><name>pumps</name><host>10.20.9.1</host></set>
  </sets>
  <clock><zone>UTC</zone></clock>
</box>
`);
const sets = '/box[1]/sets[1]';

describe('ticks of a part', () => {
  test('a section that is ticked is all that comes out', () => {
    const plan = ticked(box, part(), [sets], true);
    expect(plan.part!.ticks).toEqual([{ kind: 'keep', path: sets }]);
    expect(made(box, plan)).toBe(box.backup.tree.text.replace('  <clock><zone>UTC</zone></clock>\n', ''));
  });

  test('a record of it cleared stays behind, and ticked again leaves no trace', () => {
    const all = ticked(box, part(), [sets], true);
    const less = ticked(box, all, [`${sets}/set[2]`], false);
    expect(made(box, less)).not.toContain('desks');
    expect(made(box, less)).toContain('pumps');
    expect(ticked(box, less, [`${sets}/set[2]`], true)).toEqual(all);
    expect(ticked(box, all, [sets], false).part!.ticks).toEqual([]);
  });

  test('a record alone comes with what is around it as a shell', () => {
    const plan = ticked(box, part(), [`${sets}/set[3]`], true);
    expect(plan.part!.ticks).toEqual([{ kind: 'keep', path: `${sets}/set[3]` }]);
    expect(made(box, plan)).toBe(
      '<box edition="3">\n  <sets note="by hand">\n    <set><name>pumps</name><host>10.20.9.1</host></set>\n  </sets>\n</box>\n',
    );
  });

  test('are its own: those of the whole file wait', () => {
    const whole = tickRows(box.backup.tree, box.reading, emptyPlan, ['/box[1]/clock[1]'], false);
    const plan = ticked(box, withPart(whole, { result: 'ticked' }), [sets], true);
    expect(made(box, withPart(plan, { result: 'whole' }))).toContain('<sets');
    expect(plan.decisions).toEqual(whole.decisions);
    expect(effective(box.backup.tree, box.reading, withPart(plan, { result: 'whole' })).decisions).toEqual(
      whole.decisions,
    );
  });

  test('decided and withdrawn one by one they are those of the part', () => {
    const plan = decide(part(), { kind: 'keep', path: sets });
    expect([plan.decisions, plan.part!.ticks]).toEqual([[], [{ kind: 'keep', path: sets }]]);
    expect(withdraw(plan, `leave-out ${sets}`).part!.ticks).toEqual([]);
    expect(decide(plan, { kind: 'rename-port', from: 'a', to: 'b' }).decisions).toHaveLength(1);
  });
});

const files: File[] = [netconf(), ...corpusFiles(['a02', 'a09']), ...dialects(someSeeds(6))];

describe.each(files)('parts of $name', (file) => {
  const tops = topsOf(file.backup.tree, file.reading).map((node) => pathOf(file.backup.tree, node));
  const records = file.reading.collections.flatMap(({ records: nodes }) =>
    nodes.map((node) => pathOf(file.backup.tree, node)),
  );

  test('all sections ticked, one by one, is the whole file', () => {
    const plan = chance(`all ${file.name}`)
      .shuffle(tops)
      .reduce((before, id) => ticked(file, before, [id], true), part());
    expect(made(file, plan)).toBe(file.backup.tree.text);
  });

  test('a row that is ticked goes whole, one that is cleared stays whole, whatever was said before', () => {
    const rng = chance(`part ${file.name}`);
    for (let run = 0; run < 8; run++) {
      let plan = part();
      for (let k = rng.int(0, 5); k > 0; k--)
        plan = ticked(file, plan, [rng.pick([...tops, ...records])], rng.chance(0.7));
      const id = rng.pick([...tops, ...records]);
      const view = (one: Plan) =>
        new CarryView(file.backup, file.reading, effective(file.backup.tree, file.reading, one));
      expect([id, view(ticked(file, plan, [id], true)).row(id)!.leftOut]).toEqual([id, 0]);
      const row = view(ticked(file, plan, [id], false)).row(id)!;
      expect([id, row.leftOut]).toEqual([id, row.entries]);
    }
  });
});

describe('the saved form of a part', () => {
  const full = withPart(emptyPlan, {
    result: 'graft',
    ticks: [
      { kind: 'leave-out', path: `${sets}/set[2]` },
      { kind: 'keep', path: sets },
    ],
    withNeeds: false,
    modes: { [sets]: 'replace' },
    answers: { [`${sets}/set[1]`]: 'new-key' },
    standings: { [`${sets}/set[1]`]: `${sets}/set[2]` },
  });

  test('loads as it was saved', () => {
    expect(loadPlan(savePlan(full))).toEqual({ ok: true, value: { plan: full, troubles: [] } });
    expect(requestOf(full.part!)).toEqual({
      picks: [{ id: sets, mode: 'replace' }],
      withNeeds: false,
      answers: new Map([[`${sets}/set[1]`, 'new-key']]),
      standings: new Map([[`${sets}/set[1]`, `${sets}/set[2]`]]),
    });
  });

  test('what it does not say is as in a new one', () => {
    const loaded = loadPlan('{"plan": 1, "part": {"result": "ticked"}}');
    expect(loaded.ok && loaded.value.plan.part).toEqual({ ...newPart, result: 'ticked' });
  });

  test.each([
    '{"result": "half"}',
    '{"result": "graft", "keep": [3]}',
    '{"result": "graft", "modes": {"/a[1]": "burn"}}',
    '{"result": "graft", "answers": {"/a[1]": 1}}',
    '{"result": "graft", "withNeeds": "yes"}',
    '{"result": "graft", "standings": {"/a[1]": 2}}',
    '[]',
  ])('one of another shape is reported, and nothing of it is taken: %s', (saved) => {
    const loaded = loadPlan(`{"plan": 1, "part": ${saved}}`);
    if (!loaded.ok) throw new Error(loaded.trouble.code);
    expect(loaded.value.plan.part).toBeUndefined();
    expect(loaded.value.troubles).toMatchObject([{ code: 'plan-entry-unknown', params: { key: 'part' } }]);
  });
});
