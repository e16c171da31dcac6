import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/core/index.ts';
import { bundlesOf, repairsForAll } from '../../src/panes/findings/bundles.ts';
import { bundleRepairWords, bundleWhy, bundleWords } from '../../src/words/bundles.ts';
import { plain } from '../../src/words/said.ts';

const leave = 'leave-out /box[1]/sets[1]';

/** A reference to a record that the plan leaves out with its section. */
const lost = (name: string, more: Partial<Finding> = {}): Finding => ({
  code: 'reference-left-out',
  severity: 'error',
  place: null,
  params: { value: name, field: 'rule/from', target: name },
  byPlan: true,
  cause: { key: leave, decision: leave, lost: `/box[1]/sets[1]/${name}[1]` },
  repairs: [{ code: 'carry', params: { name }, decisions: [{ kind: 'keep', path: `/box[1]/sets[1]/${name}[1]` }] }],
  ...more,
});
const other: Finding = { code: 'caution-swap', severity: 'note', place: null, params: {}, byPlan: true };
const bundled = (findings: readonly Finding[]) => bundlesOf(findings, (finding) => finding).map(({ items }) => items);

describe('findings of one cause are told as one', () => {
  const [crew, tills, again] = [lost('crew'), lost('tills'), lost('crew')];

  it('where the first of them stood, from three on', () => {
    expect(bundled([other, crew, tills, other, again])).toEqual([[other], [crew, tills, again], [other]]);
    expect(bundled([crew, tills, other])).toEqual([[crew], [tills], [other]]);
  });

  it('apart from those of another decision or code, and from what was set aside', () => {
    const cause = { key: 'leave-out /box[1]/books[1]', decision: 'leave-out /box[1]/books[1]', lost: null };
    const away = lost('desks', { cause });
    const check = lost('crew', { code: 'reference-dangling' });
    const judged = lost('crew', { aside: { reason: 'agreed', decision: 'set-aside x' } });
    expect(bundled([crew, away, tills, check, again, judged])).toEqual([
      [crew, tills, again],
      [away],
      [check],
      [judged],
    ]);
  });

  it('says how many and which, each once', () => {
    const said = (findings: readonly Finding[]) => plain(bundleWords(findings));
    expect(said([crew, tills, again])).toBe(
      '3 references name 2 records that you left out with “sets”: “crew” and “tills”.',
    );
    expect(said([crew, again, again])).toBe('3 references name “crew”, and you left it out.');
    expect(said(['crew', 'tills', 'bank', 'desks', 'masts'].map((name) => lost(name)))).toBe(
      '5 references name 5 records that you left out with “sets”: “crew”, “tills”, “bank” and 2 more.',
    );
    expect(said(['crew', 'tills', 'bank', 'desks'].map((name) => lost(name)))).toContain(
      '“crew”, “tills”, “bank” and “desks”.',
    );
    expect(bundleWhy([crew, tills, again])).toContain('Take along what they name');
  });

  it('certificates whose authority is left out are told so', () => {
    const cause = { key: leave, decision: leave, lost: '/box[1]/sets[1]/ca[1]' };
    const left = (subject: string): Finding => ({
      ...lost('x', { code: 'certificate-issuer-left-out', cause }),
      params: { subject, issuer: 'Kestrel Quay Root' },
    });
    expect(plain(bundleWords(['gate', 'mast', 'lamp'].map(left)))).toBe(
      '3 certificates name “Kestrel Quay Root” as their issuer, which you left out.',
    );
  });

  it('settings bound to the old box are told by what they are', () => {
    const bound = (sign: string): Finding => ({
      code: 'box-bound-travels',
      severity: 'warning',
      place: null,
      params: { reason: 'driver-setting', sign },
      byPlan: false,
      cause: { key: 'driver-setting', decision: null, lost: null },
      repairs: [{ code: 'leave-out', params: {}, decisions: [{ kind: 'leave-out', path: `/box[1]/${sign}[1]` }] }],
    });
    const three = ['a.flow', 'b.flow', 'c.flow'].map(bound);
    expect(plain(bundleWords(three))).toBe(
      '3 settings of a driver or the kernel go along: “a.flow”, “b.flow” and “c.flow”.',
    );
    expect(plain(bundleRepairWords(repairsForAll(three)[0]!, three))).toBe('Leave all 3 out');
    expect(plain(bundleWords(Array(3).fill(bound('a.flow'))))).toBe(
      'These 3 lines are a setting of a driver or the kernel, by “a.flow”, and they go along.',
    );
    // One that is written in two lines is one setting.
    expect(plain(bundleWords([...three, bound('c.flow')]))).toContain('3 settings of a driver');
  });

  it('one repair for all holds what each would decide, once', () => {
    const [repair, ...others] = repairsForAll([crew, tills, again]);
    expect(others).toEqual([]);
    expect(repair).toMatchObject({ code: 'carry', withdraws: [] });
    expect(repair!.decisions.map((decision) => decision.kind === 'keep' && decision.path)).toEqual([
      '/box[1]/sets[1]/crew[1]',
      '/box[1]/sets[1]/tills[1]',
    ]);
    expect(plain(bundleRepairWords(repair!, [crew, tills, again]))).toBe('Take these 2 along, and what they need');
    // What one of them does not have is none for all.
    expect(repairsForAll([crew, tills, { ...again, repairs: [] }])).toEqual([]);
  });
});
