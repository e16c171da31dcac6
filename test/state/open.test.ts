import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { BackupView, Decision, Plan, PlanView, Receiver } from '../../src/core/index.ts';
import type { DeskAtWork } from '../../src/platform/desks.ts';
import type { Source } from '../../src/state/open.ts';

/** A worker whose answers the test gives when it wants to. */
class FakeDesk {
  ended = false;
  readonly opens: { name: string; answer: (value: unknown) => void; fail: (error: Error) => void }[] = [];
  readonly views: { plan: Plan; receiver?: Receiver | null; answer: () => void; fail: (error: Error) => void }[] = [];

  open(_bytes: ArrayBuffer, name: string) {
    return new Promise((answer, fail) => this.opens.push({ name, answer, fail }));
  }

  view(plan: Plan, receiver?: Receiver | null) {
    return new Promise((answer, fail) =>
      this.views.push({ plan, receiver, fail, answer: () => answer({ backup: backupNamed('x'), plan: viewOf(plan) }) }),
    );
  }

  readonly practised: string[] = [];

  async practise(text: string) {
    this.practised.push(text);
  }

  readonly tried: { answer: (news: boolean) => void }[] = [];

  signatures() {
    return new Promise((answer) => this.tried.push({ answer }));
  }

  async devices(text: string) {
    return text.includes('eth0')
      ? { ok: true, value: { receiver: box('pasted'), troubles: [], shape: 'typed-list' } }
      : { ok: false, trouble: { code: 'paste-not-devices' } };
  }

  async seal(plan: Plan) {
    return { ...plan, outline: { sections: [], collections: [] } };
  }

  async fit(plan: Plan) {
    return {
      plan,
      sameFile: false,
      fits: plan.decisions,
      moved: [],
      check: [],
      gone: [],
      sections: [],
      collections: [],
    };
  }

  async receiverOf(_bytes: ArrayBuffer, name: string) {
    return { ok: true, value: box(name) };
  }

  end() {
    this.ended = true;
  }
}

const box = (name: string): Receiver => ({ name, source: 'typed', ports: [], version: null, sections: null });
const backupNamed = (name: string) => ({ name, hash: `hash of ${name}` }) as BackupView;
const viewOf = (plan: Plan) => ({ ledger: { leftOut: plan.decisions.length } }) as PlanView;

/** Every worker started, in order; one is always ready for the next file. */
const desks: FakeDesk[] = [];

vi.mock('../../src/platform/desks.ts', () => ({
  loadDesk: async () => () => {
    const desk = new FakeDesk();
    desks.push(desk);
    return desk as unknown as DeskAtWork;
  },
}));

const { open, cancel, close, backToKept, warmUp } = await import('../../src/state/open.ts');
const { change, undo, redo, takePlan, planText } = await import('../../src/state/decide.ts');
const { describe: describeBox, readBoxFile, readReceiver, receiverText } = await import('../../src/state/new-box.ts');
const { atRisk, useDesk } = await import('../../src/state/session.ts');

const source = (name: string): Source => ({ name, size: 1, bytes: async () => new ArrayBuffer(1) });
const settle = () => new Promise((done) => setTimeout(done, 0));
const session = () => useDesk.getState().session;
const leaveOut = (path: string): Decision => ({ kind: 'leave-out', path });

/** The worker that was last asked to open a file of that name. */
const deskFor = (name: string) => desks.findLast((desk) => desk.opens.some((one) => one.name === name))!;

async function opened(name: string): Promise<FakeDesk> {
  open(source(name));
  await settle();
  const desk = deskFor(name);
  desk.opens[0]!.answer({ ok: true, value: backupNamed(name) });
  await settle();
  desk.views[0]!.answer();
  await settle();
  expect(session()).toMatchObject({ phase: 'open', file: { name } });
  return desk;
}

beforeEach(async () => {
  close();
  await settle();
});

describe('opening', () => {
  it('goes from busy to open, with an empty plan for this file', async () => {
    open(source('a.xml'));
    expect(session()).toMatchObject({ phase: 'busy', file: { name: 'a.xml' }, kept: null });
    await settle();
    const desk = deskFor('a.xml');
    desk.opens[0]!.answer({ ok: true, value: backupNamed('a.xml') });
    await settle();
    desk.views[0]!.answer();
    await settle();
    expect(session()).toMatchObject({ phase: 'open', backup: { name: 'x' } });
    expect(useDesk.getState().history.present.plan).toEqual({
      file: { name: 'a.xml', hash: 'hash of a.xml' },
      decisions: [],
    });
  });

  it('ends the earlier worker only when the next file is read well', async () => {
    const first = await opened('a.xml');
    open(source('b.xml'));
    await settle();
    expect(first.ended).toBe(false);
    const second = deskFor('b.xml');
    second.opens[0]!.answer({ ok: false, trouble: { code: 'truncated' } });
    await settle();
    expect(session()).toMatchObject({ phase: 'refused', kept: { file: { name: 'a.xml' } } });
    expect([first.ended, second.ended]).toEqual([false, true]);
    backToKept();
    expect(session()).toMatchObject({ phase: 'open', file: { name: 'a.xml' } });
    await opened('c.xml');
    expect(first.ended).toBe(true);
  });

  it('drops what comes late for a cancelled file', async () => {
    await opened('a.xml');
    open(source('b.xml'));
    await settle();
    const late = deskFor('b.xml');
    cancel();
    expect(late.ended).toBe(true);
    expect(session()).toMatchObject({ phase: 'open', file: { name: 'a.xml' } });
    late.opens[0]!.answer({ ok: true, value: backupNamed('b.xml') });
    await settle();
    expect(late.views).toHaveLength(0);
    expect(session()).toMatchObject({ phase: 'open', file: { name: 'a.xml' } });
  });

  it('takes the file handed over last, whichever is read first', async () => {
    open(source('a.xml'));
    await settle();
    open(source('b.xml'));
    await settle();
    deskFor('b.xml').opens[0]!.answer({ ok: true, value: backupNamed('b.xml') });
    await settle();
    deskFor('b.xml').views[0]!.answer();
    deskFor('a.xml').opens[0]!.answer({ ok: true, value: backupNamed('a.xml') });
    await settle();
    expect(session()).toMatchObject({ phase: 'open', file: { name: 'b.xml' } });
    expect(deskFor('a.xml').ended).toBe(true);
  });

  it('says where a worker died, and keeps what was open', async () => {
    await opened('a.xml');
    open(source('b.xml'));
    await settle();
    deskFor('b.xml').opens[0]!.fail(new Error('out of memory'));
    await settle();
    expect(session()).toMatchObject({ phase: 'broken', message: 'out of memory', kept: { file: { name: 'a.xml' } } });
  });

  it('says where a file could not be fetched from the disk', async () => {
    open({ ...source('gone.xml'), bytes: () => Promise.reject(new Error('the file is gone')) });
    await settle();
    await settle();
    expect(session()).toMatchObject({ phase: 'broken', message: 'the file is gone' });
  });
});

describe('the next worker', () => {
  it('practises while nothing is open, and not beside one at work', async () => {
    warmUp();
    await vi.waitFor(() => expect(desks.at(-1)!.practised).toHaveLength(1));
    expect(desks.at(-1)!.practised[0]).toContain('<traffic-rules>');
    const used = desks.at(-1)!;
    expect(await opened('a.xml')).toBe(used);
    await settle();
    const next = desks.at(-1)!;
    expect(next).not.toBe(used);
    expect(next.practised).toEqual([]);
  });
});

describe('signatures', () => {
  it('are tried once the file is shown, and what comes of it follows, also where a decision is on its way', async () => {
    const desk = await opened('a.xml');
    expect([desk.tried.length, desk.views.length]).toEqual([1, 1]);
    change('Leave out', [leaveOut('/a[1]/b[1]')]);
    await settle();
    expect(desk.views).toHaveLength(2);
    desk.tried[0]!.answer(true);
    await settle();
    desk.views[1]!.answer();
    await settle();
    // The second view was asked for before the signatures were known.
    expect(desk.views).toHaveLength(3);
    desk.views[2]!.answer();
    await settle();
    expect(session()).toMatchObject({ behind: false });
  });

  it('change nothing where there is nothing to tell', async () => {
    const desk = await opened('a.xml');
    desk.tried[0]!.answer(false);
    await settle();
    expect(desk.views).toHaveLength(1);
  });
});

describe('decisions', () => {
  it('are worked out one after the other, and only the latest of those that waited', async () => {
    const desk = await opened('a.xml');
    change('one', [leaveOut('/a/b')]);
    await settle();
    change('two', [leaveOut('/a/c')]);
    change('three', [leaveOut('/a/d')]);
    await settle();
    expect(desk.views).toHaveLength(2);
    expect(session()).toMatchObject({ behind: true });
    desk.views[1]!.answer();
    await settle();
    expect(desk.views).toHaveLength(3);
    expect(desk.views[2]!.plan.decisions).toHaveLength(3);
    desk.views[2]!.answer();
    await settle();
    expect(session()).toMatchObject({ behind: false, view: { ledger: { leftOut: 3 } } });
  });

  it('are undone and done again by step, and what makes no difference is no step', async () => {
    await opened('a.xml');
    change('both', [leaveOut('/a/b'), leaveOut('/a/c')]);
    change('the same', [leaveOut('/a/c')]);
    const { history } = useDesk.getState();
    expect([history.present.name, history.past.length]).toEqual(['both', 1]);
    undo();
    expect(useDesk.getState().history.present.plan.decisions).toEqual([]);
    redo();
    expect(useDesk.getState().history.present.plan.decisions).toHaveLength(2);
    undo();
    undo();
    expect(session()).toMatchObject({ phase: 'open' });
  });

  it('say where they could not be worked out, and go on after the next', async () => {
    const desk = await opened('a.xml');
    change('one', [leaveOut('/a/b')]);
    await settle();
    desk.views[1]!.fail(new Error('a fault'));
    await settle();
    expect(session()).toMatchObject({ fault: 'a fault', behind: false });
    undo();
    await settle();
    desk.views[2]!.answer();
    await settle();
    expect(session()).toMatchObject({ fault: null });
  });

  it('are at risk until the plan is saved', async () => {
    await opened('a.xml');
    expect(atRisk(useDesk.getState())).toBe(false);
    change('one', [leaveOut('/a/b')]);
    expect(atRisk(useDesk.getState())).toBe(true);
    const text = await planText();
    expect(atRisk(useDesk.getState())).toBe(false);
    undo();
    expect(await takePlan(text, 'p.json')).toBeNull();
    expect(useDesk.getState().history.present.plan.decisions).toEqual([leaveOut('/a/b')]);
    expect(await takePlan('{', 'p.json')).toMatchObject({ code: 'plan-not-json' });
  });
});

describe('the new box', () => {
  it('goes along with what is asked about every plan, and changes no decision', async () => {
    const desk = await opened('a.xml');
    const newBox = { receiver: box('b'), from: 'typed', safe: false };
    describeBox(newBox);
    await settle();
    expect(desk.views[1]!.receiver).toBe(newBox.receiver);
    // A description that comes while a view is worked out is asked about next.
    const other = { ...newBox, receiver: box('c') };
    describeBox(other);
    desk.views[1]!.answer();
    await settle();
    expect(desk.views[2]!.receiver).toBe(other.receiver);
    desk.views[2]!.answer();
    await settle();
    expect(session()).toMatchObject({ behind: false });
    expect(useDesk.getState().history.past).toEqual([]);
  });

  it('is at risk until it is saved or forgotten', async () => {
    await opened('a.xml');
    const newBox = { receiver: box('b'), from: 'typed', safe: false };
    describeBox(newBox);
    expect(atRisk(useDesk.getState())).toBe(true);
    expect(JSON.parse(receiverText(newBox.receiver))).toMatchObject({ receiver: 1, name: 'b' });
    expect(atRisk(useDesk.getState())).toBe(false);
    describeBox({ ...newBox, safe: false });
    describeBox(null);
    expect(atRisk(useDesk.getState())).toBe(false);
  });

  it('is read by a worker of its own, which ends', async () => {
    const first = await opened('a.xml');
    const { read } = readReceiver(source('new.xml'));
    expect(await read).toMatchObject({ ok: true, value: { name: 'new.xml' } });
    expect(first.ended).toBe(false);
    expect(desks.filter(({ ended, opens }) => ended && opens.length === 0).length).toBeGreaterThan(0);
    expect(session()).toMatchObject({ phase: 'open', file: { name: 'a.xml' } });
  });

  it('comes by a file of any of its kinds: a saved description, a command’s output, a backup', async () => {
    await opened('a.xml');
    const file = (text: string | Uint8Array<ArrayBuffer>): Source => ({
      ...source('new'),
      bytes: async () => (typeof text === 'string' ? new TextEncoder().encode(text).buffer : text.buffer),
    });
    const saved = receiverText({ ...box('kept'), ports: [] });
    expect(await readBoxFile(file(saved)).read).toMatchObject({ ok: true, value: { receiver: { name: 'kept' } } });
    expect(await readBoxFile(file('{"plan": 1}')).read).toMatchObject({
      ok: false,
      trouble: { code: 'receiver-not-a-receiver' },
    });
    expect(await readBoxFile(file('eth0\neth1\n')).read).toMatchObject({
      ok: true,
      value: { receiver: { name: 'pasted' }, text: { shape: 'typed-list' } },
    });
    expect(await readBoxFile(file('no ports')).read).toMatchObject({ trouble: { code: 'paste-not-devices' } });
    // XML with a byte-order mark, XML in UTF-16, and what only the reader of backups can name.
    const wide = Uint8Array.from([0xff, 0xfe, 0x3c, 0x00, 0x61, 0x00]);
    const packed = Uint8Array.from([0x1f, 0x8b, 0x08, 0x00]);
    for (const backup of ['\uFEFF <box/>', wide, packed])
      expect(await readBoxFile(file(backup)).read).toMatchObject({ ok: true, value: { receiver: { name: 'new' } } });
  });

  it('is forgotten with the plan when another file is opened', async () => {
    await opened('a.xml');
    describeBox({ receiver: box('b'), from: 'typed', safe: false });
    await settle();
    const desk = await opened('b.xml');
    expect(desk.views[0]!.receiver).toBeUndefined();
    expect(useDesk.getState().newBox).toBeNull();
  });
});
