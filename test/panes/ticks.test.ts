import { describe, expect, it } from 'vitest';
import { type Decision, planOf } from '../../src/core/index.ts';
import { Ticks } from '../../src/panes/carry/ticks.ts';

const out = (path: string): Decision => ({ kind: 'leave-out', path });
const keep = (path: string): Decision => ({ kind: 'keep', path });
const ticks = (...decisions: Decision[]) => new Ticks(planOf(decisions));

describe('ticks', () => {
  it('are on where nothing is said', () => {
    expect(ticks().state('/box[1]/routes[1]')).toBe('on');
  });

  it('are off where a place or what is around it is left out, and in part above', () => {
    const some = ticks(out('/box[1]/routes[1]'));
    expect(some.state('/box[1]/routes[1]')).toBe('off');
    expect(some.state('/box[1]/routes[1]/route[2]')).toBe('off');
    expect(some.state('/box[1]')).toBe('some');
    expect(some.state('/box[1]/routes[12]')).toBe('on');
    expect(some.followsOther('/box[1]/routes[1]/route[2]')).toBe(true);
    expect(some.followsOther('/box[1]/routes[1]')).toBe(false);
  });

  it('go by the nearest word, in any order', () => {
    const words = [out('/box[1]/routes[1]'), keep('/box[1]/routes[1]/route[2]')];
    for (const said of [ticks(...words), ticks(...words.reverse())]) {
      expect(said.state('/box[1]/routes[1]')).toBe('some');
      expect(said.state('/box[1]/routes[1]/route[2]')).toBe('on');
      expect(said.state('/box[1]/routes[1]/route[2]/hop[1]')).toBe('on');
      expect(said.state('/box[1]/routes[1]/route[3]')).toBe('off');
    }
  });

  it('know all records of a list by one word', () => {
    const said = ticks(out('/box[1]/routes[1]/route[*]'));
    expect(said.state('/box[1]/routes[1]/route[7]')).toBe('off');
    expect(said.state('/box[1]/routes[1]/default[1]')).toBe('on');
    expect(said.state('/box[1]/routes[1]')).toBe('some');
  });

  it('name what gives way', () => {
    const said = ticks(out('/b[1]/a[1]/x[1]'), keep('/b[1]/a[1]'), out('/b[1]/a[12]'));
    expect(said.subjectsIn('/b[1]/a[1]').sort()).toEqual(['leave-out /b[1]/a[1]', 'leave-out /b[1]/a[1]/x[1]']);
  });
});
