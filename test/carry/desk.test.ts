import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  type CarryTreeRow,
  type CarryWindowQuery,
  emptyPlan,
  type Plan,
  planOf,
  withPart,
} from '../../src/core/index.ts';
import { newDesk } from '../../src/worker/desk.ts';

const quiet = () => {};
const example = readFileSync(fileURLToPath(new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url)));
const text = example.toString('utf8');
const bytesOf = (content: string | Buffer): ArrayBuffer => new Uint8Array(Buffer.from(content)).buffer;

async function deskFor(donor: string | Buffer = example, receiver?: string | Buffer) {
  const desk = newDesk();
  const opened = await desk.open(bytesOf(donor), 'old.xml', quiet);
  if (!opened.ok) throw new Error(opened.trouble.code);
  if (receiver !== undefined) {
    const read = await desk.receive(bytesOf(receiver), 'new.xml', quiet);
    if (!read.ok) throw new Error(read.trouble.code);
  }
  return desk;
}

const all: CarryWindowQuery = { open: [], words: '', filter: 'all', from: 0, limit: 10_000 };
const root = '/site-record[1]';
const graftOf = (...paths: string[]): Plan =>
  withPart(emptyPlan, { result: 'graft', ticks: paths.map((path) => ({ kind: 'keep', path })) });

describe('the rows in sight', () => {
  test('are the sections, and the inside of each that is open, one level deeper and in their place', async () => {
    const desk = await deskFor();
    const closed = await desk.carryWindow(emptyPlan, all);
    const crews = closed.rows.findIndex(({ name }) => name === 'crews');
    expect(closed.rows.every(({ level }) => level === 1)).toBe(true);
    const open = await desk.carryWindow(emptyPlan, { ...all, open: [closed.rows[crews]!.id] });
    const inside = open.rows.slice(crews + 1, crews + 1 + open.total - closed.total);
    expect(inside.length).toBeGreaterThan(1);
    for (const [at, row] of inside.entries())
      expect([row.level, row.at, row.of, row.above]).toEqual([2, at + 1, inside.length, crews]);
    const rest = [...open.rows.slice(0, crews + 1), ...open.rows.slice(crews + 1 + inside.length)];
    expect(rest.map(({ id }) => id)).toEqual(closed.rows.map(({ id }) => id));
  });

  test('come page by page as they come at once', async () => {
    const desk = await deskFor();
    const open = (await desk.carryWindow(emptyPlan, all)).rows.map(({ id }) => id);
    const whole = await desk.carryWindow(emptyPlan, { ...all, open });
    const pages: CarryTreeRow[] = [];
    for (let from = 0; from < whole.total; from += 7)
      pages.push(...(await desk.carryWindow(emptyPlan, { ...all, open, from, limit: 7 })).rows);
    expect(pages).toEqual(whole.rows);
  });

  test('are those that a search or a filter leaves', async () => {
    const desk = await deskFor();
    const found = await desk.carryWindow(emptyPlan, { ...all, words: 'r-1190' });
    expect(found.rows.map(({ id }) => id)).toEqual([`${root}/traffic-rules[1]/rule[19]`]);
    expect((await desk.carryWindow(emptyPlan, { ...all, words: 'no such thing' })).total).toBe(0);
    const plan = planOf([{ kind: 'leave-out', path: `${root}/crews[1]` }]);
    const gone = await desk.carryWindow({ ...emptyPlan, ...plan }, { ...all, filter: 'left-out' });
    expect(gone.rows.map(({ name }) => name)).toEqual(['crews']);
  });
});

describe('one record', () => {
  test('with its values, its switch, what it needs and what needs it', async () => {
    const desk = await deskFor();
    const detail = await desk.carryDetail(emptyPlan, `${root}/traffic-rules[1]/rule[19]`);
    expect(detail!.values.map(({ name }) => name)).toContain('verdict');
    expect(detail!.switch!.on).toBe(true);
    const needed = detail!.needs.links.map(({ mark }) => mark.name);
    expect(needed).toEqual(expect.arrayContaining(['web', 'season']));
    const back = await desk.carryDetail(
      emptyPlan,
      detail!.needs.links.find(({ mark }) => mark.name === 'season')!.mark.path,
    );
    expect(back!.neededBy.links.map(({ mark }) => mark.path)).toContain(detail!.row.id);
  });

  test('a secret is not told, and nothing is told of what is not there', async () => {
    const desk = await deskFor();
    const { rows } = await desk.carryWindow(emptyPlan, { ...all, filter: 'secret', words: 'e' });
    expect(rows.length).toBeGreaterThan(0);
    for (const { id } of rows) {
      const detail = await desk.carryDetail(emptyPlan, id);
      for (const value of detail!.values.filter(({ secret }) => secret)) expect(value.value).toBe('');
    }
    expect(await desk.carryDetail(emptyPlan, `${root}/nothing[1]`)).toBeNull();
  });
});

describe('a tick', () => {
  test('with its needs takes along all that would be missing', async () => {
    const desk = await deskFor();
    const part = withPart(emptyPlan, { result: 'ticked' });
    const id = `${root}/traffic-rules[1]/rule[19]`;
    const alone = await desk.tick(part, [id], true, false);
    expect((await desk.carryDetail(alone, id))!.missing.length).toBeGreaterThan(1);
    const closed = await desk.tick(part, [id], true, true);
    expect((await desk.carryDetail(closed, id))!.missing).toEqual([]);
    expect(await desk.tick(closed, [id, ...(await paths(closed))], false, false)).toEqual(part);
    async function paths(plan: Plan) {
      return plan.part!.ticks.map(({ path }) => path);
    }
  });

  test('a value is tried before it is set', async () => {
    const desk = await deskFor();
    const path = `${root}/traffic-rules[1]/rule[19]/verdict[1]`;
    expect((await desk.tryValue(emptyPlan, path, 'drop')).trouble).toBeNull();
    expect((await desk.tryValue(emptyPlan, path, 'a\u0000b')).trouble).toMatchObject({ code: 'value-not-allowed' });
  });
});

describe('a graft', () => {
  const rule = `${root}/traffic-rules[1]/rule[19]`;
  const without = text.replace(/ {4}<rule id="r-1190"[\s\S]*?<\/rule>\n/, '');

  test('without a receiver says so, and cannot be built', async () => {
    const desk = await deskFor();
    expect(await desk.graft(graftOf(rule))).toEqual({ state: 'no-receiver' });
    const built = await desk.build(graftOf(rule));
    expect([built.bytes, built.verdict]).toMatchObject([
      null,
      { agrees: false, trouble: { code: 'graft-no-receiver' } },
    ]);
    expect(await desk.account(graftOf(rule))).toBeNull();
  });

  test('with nothing ticked is refused with its reason', async () => {
    const desk = await deskFor(example, without);
    expect(await desk.graft(graftOf())).toMatchObject({ state: 'refused', trouble: { code: 'graft-nothing-picked' } });
  });

  test('tells what goes in and where it comes to stand, and both books', async () => {
    const desk = await deskFor(example, without);
    const state = await desk.graft(graftOf(rule));
    if (state.state !== 'ready') throw new Error(state.state);
    expect(state.picks.map(({ path }) => path)).toEqual([rule]);
    const { standings } = state;
    expect(standings.standings).toMatchObject([
      { record: { path: rule }, reason: 'behind-neighbour', beside: 'Guests stay outside', matters: true },
    ]);
    const list = standings.lists[standings.standings[0]!.list]!;
    expect(list.places.map(({ path }) => path)).toContain(standings.standings[0]!.behind);
    expect(state.ledger).toMatchObject({ added: 1, removed: 0, replaced: 0, balances: true });
    const rows = await desk.account(graftOf(rule));
    expect(rows!.find(({ path, file }) => path === rule && file === 'old.xml')).toMatchObject({
      state: 'carried',
      standing: { reason: 'behind-neighbour', beside: 'Guests stay outside' },
    });
    expect(rows!.filter(({ standing }) => standing !== null)).toHaveLength(1);
  });

  test('what stays behind and the receiver has is no lack; what it has not is one', async () => {
    const lacks = async (receiver: string) => {
      const desk = await deskFor(example, receiver);
      const plan = withPart(graftOf(rule), { withNeeds: false });
      const { plan: view } = await desk.view(plan);
      return view.findings
        .filter(({ code }) => code === 'reference-left-out')
        .map(({ params }) => String(params.value));
    };
    expect(await lacks(without)).toEqual([]);
    const noSeason = without.replace(/ {4}<calendar name="season">[\s\S]*?<\/calendar>\n/, '');
    expect(noSeason).not.toBe(without);
    expect(await lacks(noSeason)).toEqual(['season']);
  });

  test('of another form takes nothing along by itself', async () => {
    const rooms = Array.from({ length: 40 }, (_, at) => `<room no="${at}"><wing>north</wing></room>`).join('');
    const desk = await deskFor(example, `<site-record edition="9"><rooms>${rooms}</rooms></site-record>`);
    const state = await desk.graft(graftOf(`${root}/traffic-rules[1]`));
    if (state.state !== 'ready') throw new Error(state.state);
    expect([state.receiver.sectionsOnly, state.along]).toEqual([true, []]);
    const rows = await desk.account(graftOf(`${root}/traffic-rules[1]`));
    const taken = rows!.filter(({ file, state: fate }) => file === 'old.xml' && fate === 'carried');
    expect(taken.every(({ section }) => section === 'traffic-rules')).toBe(true);
  });
});

describe('findings of a part', () => {
  const codes = async (receiver: string | undefined, plan: Plan) => {
    const desk = await deskFor(example, receiver);
    return new Set((await desk.view(plan, null)).plan.findings.map(({ code }) => code));
  };
  const aboutWhole = ['record-unused', 'way-in-left-out', 'way-in-closed', 'way-in-unknown'] as const;

  test('the whole file without its rules: nothing uses some records any more, and the way in is gone', async () => {
    const whole = planOf([
      { kind: 'leave-out', path: `${root}/traffic-rules[1]` },
      { kind: 'leave-out', path: `${root}/identity[1]` },
    ]);
    const found = await codes(undefined, { ...emptyPlan, ...whole });
    expect(found).toContain('record-unused');
    expect(aboutWhole.slice(1).some((code) => found.has(code))).toBe(true);
  });

  test.each(['graft', 'ticked'] as const)('%s: what was not asked for is no loss', async (result) => {
    const plan = withPart(emptyPlan, { result, ticks: [{ kind: 'keep', path: `${root}/networks[1]` }] });
    const found = await codes(text, plan);
    for (const code of aboutWhole) expect(found).not.toContain(code);
    expect(found.has('reference-left-out')).toBe(result === 'ticked');
  });
});
