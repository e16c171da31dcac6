import { expect, it } from 'vitest';
import { type Decision, planOf } from '../../src/core/index.ts';
import { findingsOf, opened } from './support.ts';

const names = ['crew', 'recorder', 'tills', 'bank', 'desks', 'cranes', 'pumps', 'lamps', 'masts'];
const file = opened(`<box>
<sets>${names.map((name, at) => `<set><name>${name}</name><host>10.20.0.${at + 10}</host></set>`).join('')}</sets>
<rules>${[...names, ...names].map((name) => `<rule><do>pass</do><from>${name}</from></rule>`).join('')}</rules>
</box>`);
const causes = (...decisions: readonly Decision[]) =>
  findingsOf(file, {}, planOf(decisions))
    .filter(({ code }) => code === 'reference-left-out')
    .map(({ cause }) => cause);

// Read off by eye: each name is used by two rules.
it('what is named and left out has the decision for its cause, the nearest one, and tells the record', () => {
  const whole = causes({ kind: 'leave-out', path: '/box[1]/sets[1]' });
  expect(whole).toHaveLength(2 * names.length);
  expect(new Set(whole.map((cause) => cause?.decision))).toEqual(new Set(['leave-out /box[1]/sets[1]']));
  expect(new Set(whole.map((cause) => cause?.lost)).size).toBe(names.length);
  const two = causes(
    { kind: 'leave-out', path: '/box[1]/sets[1]/set[2]' },
    { kind: 'leave-out', path: '/box[1]/sets[1]/set[3]' },
  );
  expect(new Set(two.map((cause) => `${cause?.key} ${cause?.lost}`))).toEqual(
    new Set([2, 3].map((at) => `leave-out /box[1]/sets[1]/set[${at}] /box[1]/sets[1]/set[${at}]`)),
  );
});
