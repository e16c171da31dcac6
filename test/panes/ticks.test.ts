import { describe, expect, it } from 'vitest';
import { type Decision, decide, emptyPlan, planOf, withPart } from '../../src/core/index.ts';
import { Ticks } from '../../src/panes/carry/ticks.ts';

const out = (path: string): Decision => ({ kind: 'leave-out', path });
const keep = (path: string): Decision => ({ kind: 'keep', path });
const ticks = (...decisions: Decision[]) => new Ticks(planOf(decisions));

describe('ticks', () => {
  it('go by the nearest word, in any order', () => {
    expect(ticks().goes('/box[1]/routes[1]')).toBe(true);
    const words = [out('/box[1]/routes[1]'), keep('/box[1]/routes[1]/route[2]')];
    for (const said of [ticks(...words), ticks(...words.reverse())]) {
      expect(said.goes('/box[1]/routes[1]')).toBe(false);
      expect(said.goes('/box[1]/routes[12]')).toBe(true);
      expect(said.goes('/box[1]/routes[1]/route[2]/hop[1]')).toBe(true);
      expect(said.goes('/box[1]/routes[1]/route[3]')).toBe(false);
    }
  });

  it('know all records of a list by one word', () => {
    const said = ticks(out('/box[1]/routes[1]/route[*]'));
    expect(said.goes('/box[1]/routes[1]/route[7]')).toBe(false);
    expect(said.goes('/box[1]/routes[1]/default[1]')).toBe(true);
  });

  it('of a part are its own, and nothing goes along that is not ticked', () => {
    const whole = planOf([out('/box[1]/routes[1]')]);
    const part = decide(withPart(whole, { result: 'ticked' }), keep('/box[1]/sets[1]'));
    expect(new Ticks(part).goes('/box[1]/sets[1]/set[1]')).toBe(true);
    expect(new Ticks(part).goes('/box[1]/rules[1]')).toBe(false);
    expect(part.decisions).toEqual(whole.decisions);
    expect(new Ticks(withPart(part, { result: 'whole' })).goes('/box[1]/rules[1]')).toBe(true);
    expect(new Ticks(withPart(emptyPlan, { result: 'graft' })).goes('/box[1]')).toBe(false);
  });
});
