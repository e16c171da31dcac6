import { describe, expect, it } from 'vitest';
import { canSetAside, markOf } from '../../src/core/checks/report/set-aside.ts';
import { build, type Decision, type Finding, loadPlan, planOf, savePlan } from '../../src/core/index.ts';
import { box, boxWith } from './box.ts';
import { findingsOf, opened } from './support.ts';

const aside = (finding: Finding, reason = 'agreed with the harbour office'): Decision => ({
  kind: 'set-aside',
  finding: markOf(finding),
  reason,
});
const withFault = boxWith('pools', 2, ['cards', '10.20.30.100', '10.20.30.255', []]);
const isFault = ({ code }: Finding) => code === 'pool-over-reserved';
const idle = (findings: readonly Finding[]) =>
  findings.filter(({ code }) => code === 'aside-idle').map(({ params }) => params.why);

describe('a finding that is set aside', () => {
  const file = opened(withFault);
  const fault = findingsOf(file).find(isFault)!;
  const plan = planOf([aside(fault)]);

  it('stays, with its reason, and everything else is as it was', () => {
    const after = findingsOf(file, {}, plan);
    expect(after.find(isFault)!.aside?.reason).toBe('agreed with the harbour office');
    expect(after.map(({ aside: _, ...rest }) => rest)).toEqual(findingsOf(file));
  });

  it('changes no byte of the result', () => {
    const built = build(file.backup, file.reading, plan);
    expect(built.ok && new TextDecoder().decode(built.value.bytes)).toBe(withFault);
  });

  it('is saved and loaded with the plan', () => {
    const loaded = loadPlan(savePlan(plan));
    expect(loaded.ok && loaded.value.troubles).toEqual([]);
    expect(loaded.ok && loaded.value.plan.decisions).toEqual(plan.decisions);
    const strange = loadPlan(
      '{"plan": 1, "setAside": [{"code": "pool-outside", "path": null, "about": {}, "reason": " "}]}',
    );
    expect(strange.ok && strange.value.troubles.map(({ params }) => params?.key)).toEqual(['setAside.0']);
  });

  it('is known again in the next backup, where its record has moved', () => {
    const moved = withFault.replace(
      '<lends>',
      '<lends>\n<lend><place>office</place><first>10.20.0.50</first><last>10.20.0.60</last></lend>',
    );
    const after = findingsOf(opened(moved), {}, plan);
    expect(after.find(isFault)!.place!.path).not.toBe(fault.place!.path);
    expect(after.find(isFault)!.aside).toBeDefined();
    expect(idle(after)).toEqual([]);
  });

  it('is reported where it no longer stands, or says more than it did', () => {
    expect(idle(findingsOf(opened(box()), {}, plan))).toEqual(['gone']);
    const other = boxWith('pools', 2, ['cards', '10.20.30.90', '10.20.30.255', []]);
    const after = findingsOf(opened(other), {}, plan);
    expect(after.find(isFault)!.aside).toBeUndefined();
    expect(idle(after)).toEqual(['gone']);
  });

  it('covers as many places as there were, and no more', () => {
    const pools = (fixed: readonly string[]) => boxWith('pools', 0, ['office', '10.20.0.100', '10.20.0.199', fixed]);
    const isHeld = ({ code }: Finding) => code === 'pool-over-lease';
    const two = findingsOf(opened(pools(['10.20.0.150', '10.20.0.151']))).find(isHeld)!;
    const asidePlan = planOf([aside(two)]);
    const fewer = findingsOf(opened(pools(['10.20.0.150'])), {}, asidePlan);
    expect(fewer.find(isHeld)!.aside).toBeDefined();
    const more = findingsOf(opened(pools(['10.20.0.150', '10.20.0.151', '10.20.0.152'])), {}, asidePlan);
    expect(more.find(isHeld)!.aside).toBeUndefined();
    expect(idle(more)).toEqual(['other']);
  });

  it('comes back as another finding when time passes on', () => {
    const days = { code: 'certificate-expiring', severity: 'note', place: null, byPlan: false } as const;
    const then = markOf({ ...days, params: { subject: 'gw', notAfter: '2027-01-01', days: 30 } });
    expect(markOf({ ...days, params: { subject: 'gw', notAfter: '2027-01-01', days: 29 } })).toEqual(then);
    expect(markOf({ ...days, params: { subject: 'gw', notAfter: '2028-01-01', days: 30 } })).not.toEqual(then);
  });
});

describe('what cannot be set aside', () => {
  it('an error stays open, whatever a plan says of it', () => {
    const file = opened(box());
    const plan = planOf([
      { kind: 'rename-port', from: 'eth1', to: 'eth2' },
      { kind: 'leave-out', path: '/box[1]/places[1]/place[2]' },
    ]);
    const grave = findingsOf(file, {}, plan).filter(({ severity }) => severity === 'error');
    expect(grave.length).toBeGreaterThan(0);
    expect(grave.some(canSetAside)).toBe(false);
    const after = findingsOf(file, {}, planOf([...plan.decisions, ...grave.map((finding) => aside(finding))]));
    expect(after.filter(({ severity }) => severity === 'error')).toEqual(grave);
    expect(new Set(idle(after))).toEqual(new Set(['grave']));
  });

  it('an entry of the plan that does not fit still keeps the file from being made', () => {
    const file = opened(box());
    const broken: Decision = { kind: 'leave-out', path: '/box[1]/nothing[1]' };
    const found = findingsOf(file, {}, planOf([broken])).find(({ code }) => code === 'plan-entry')!;
    const plan = planOf([broken, aside(found)]);
    expect(findingsOf(file, {}, plan).find(({ code }) => code === 'plan-entry')!.aside).toBeUndefined();
    expect(build(file.backup, file.reading, plan).ok).toBe(false);
  });
});
