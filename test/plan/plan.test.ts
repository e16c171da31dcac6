import { describe, expect, test } from 'vitest';
import {
  type Decision,
  decide,
  emptyPlan,
  loadPlan,
  newHistory,
  planOf,
  redo,
  savePlan,
  step,
  subjectOf,
  undo,
  withdraw,
} from '../../src/core/index.ts';

const swap: Decision[] = [
  { kind: 'rename-port', from: 'igb0', to: 'igb1' },
  { kind: 'rename-port', from: 'igb1', to: 'igb0' },
  { kind: 'leave-out', path: '/unit[1]/boot[1]' },
  { kind: 'correct', correction: { correct: 'port', value: 'wlan0' } },
];

function loaded(json: string) {
  const result = loadPlan(json);
  if (!result.ok) throw new Error(result.trouble.code);
  return result.value;
}

describe('a plan', () => {
  test('keeps the later of two decisions about one thing', () => {
    const plan = decide(planOf(swap), { kind: 'rename-port', from: 'igb0', to: 'ix0' });
    expect(plan.decisions).toHaveLength(4);
    expect(plan.decisions.at(-1)).toEqual({ kind: 'rename-port', from: 'igb0', to: 'ix0' });
    expect(withdraw(plan, subjectOf(swap[1]!)).decisions).toHaveLength(3);
  });

  test('saved and loaded is the same plan', () => {
    const plan = planOf(swap, { name: 'kqm-gw1.xml', hash: '0123456789abcdef' });
    expect(loaded(savePlan(plan))).toEqual({ plan, troubles: [] });
  });

  test('a port may be called what JavaScript calls its own', () => {
    const plan = planOf([{ kind: 'rename-port', from: '__proto__', to: 'constructor' }]);
    expect(loaded(savePlan(plan)).plan).toEqual(plan);
  });

  test('every key but the version may be missing', () => {
    expect(loaded('{"plan": 1}')).toEqual({ plan: emptyPlan, troubles: [] });
  });

  test('an entry that is not understood is reported, not dropped in silence', () => {
    const json =
      '{"plan": 1, "ports": {"a": 3, "b": "c"}, "leaveOut": [7, "/x[1]"], "colour": "red", "corrections": [{"correct": "x"}]}';
    const { plan, troubles } = loaded(json);
    expect(plan.decisions).toHaveLength(2);
    expect(troubles.map(({ params }) => params?.key)).toEqual(['ports.a', 'leaveOut.0', 'corrections.0', 'colour']);
  });

  test.each([
    ['plan-not-json', '<plan/>'],
    ['plan-not-a-plan', '[]'],
    ['plan-not-a-plan', '{"ports": {}}'],
    ['plan-newer', '{"plan": 2}'],
  ])('%s', (code, json) => {
    expect(loadPlan(json)).toMatchObject({ ok: false, trouble: { code } });
  });
});

describe('history', () => {
  test('undo and redo go back and forth, and a new decision gives up what was undone', () => {
    const first = step(newHistory(), planOf(swap.slice(0, 1)), 'Put igb0 on igb1');
    const second = step(first, planOf(swap.slice(0, 2)), 'Put igb1 on igb0');
    expect(undo(second).present).toEqual(first.present);
    expect(redo(undo(second))).toEqual(second);
    expect(undo(undo(undo(second))).present.plan).toEqual(emptyPlan);
    expect(redo(second)).toEqual(second);
    const other = step(undo(second), planOf(swap.slice(2, 3)), 'Leave out boot');
    expect(other.future).toEqual([]);
    expect(other.past.map(({ name }) => name)).toEqual(['', 'Put igb0 on igb1']);
  });
});
