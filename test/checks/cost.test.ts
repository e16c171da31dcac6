import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Decision, emptyPlan, type Plan, planOf } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { examples, findingsOf, opened } from './support.ts';

/** The plain example with its rules over and over, each time with another port where one is written. */
function withRules(times: number): string {
  const text = readFileSync(`${examples}kestrel-quay-plain.xml`, 'utf8');
  const [from, to] = [text.indexOf('<traffic-rules>'), text.indexOf('</traffic-rules>')];
  const rules = text.slice(from + '<traffic-rules>'.length, to);
  const more = Array.from({ length: times }, (_, at) => rules.replaceAll('>443<', `>${10_000 + at}<`)).join('');
  return text.slice(0, to) + more + text.slice(to);
}

/** Milliseconds of this process alone, since the machine has others. */
function cost(run: () => unknown): number {
  const before = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

const least = (times: number, run: () => number) => Math.min(...Array.from({ length: times }, run));

// Ratios within one run: no number of a machine is expected.
describe('what findings cost', { timeout: 240_000 }, () => {
  it('grows with the file, not with its square', () => {
    const first = (times: number) =>
      least(3, () => {
        const file = opened(withRules(times));
        return cost(() => findingsOf(file));
      });
    first(20);
    const [small, large] = [first(40), first(160)];
    // Four times as much; a square would be sixteen times.
    expect(large / small).toBeLessThan(9);
  });

  it('a decision looks again only at what it touches', () => {
    const file = opened(withRules(160));
    const whole = cost(() => findingsOf(file));
    const { tree } = file.backup;
    const records = file.reading.collections.reduce((a, b) => (a.records.length > b.records.length ? a : b)).records;
    const after = (...decisions: Decision[]) => {
      const plan: Plan = planOf(decisions);
      return least(3, () => cost(() => findingsOf(file, {}, plan)));
    };
    const port = file.reading.mentions[0]!.port;
    expect(least(3, () => cost(() => findingsOf(file, {}, emptyPlan))) / whole).toBeLessThan(0.6);
    expect(after({ kind: 'rename-port', from: port, to: 'ix9' }) / whole).toBeLessThan(0.7);
    expect(after({ kind: 'leave-out', path: pathOf(tree, records[7]!) }) / whole).toBeLessThan(0.8);
  });
});
