import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Reading } from '../../src/core/index.ts';
import { type Decision, emptyPlan, planOf } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { examples, findingsOf, opened } from './support.ts';

/** Every fact that is gathered from a whole reading is named here as it is made. */
const gathered = vi.hoisted(() => [] as string[]);

vi.mock('../../src/core/checks/facts/once.ts', async (original) => {
  const real = await original<typeof import('../../src/core/checks/facts/once.ts')>();
  const once: typeof real.once = (make, by) => {
    // Where it is written tells one fact from another: `checks/networks/networks.ts:78`.
    const from = /checks\/[\w/-]+\.ts:\d+/.exec(new Error().stack!.split('\n')[2]!)?.[0] ?? 'elsewhere';
    return real.once((reading: Reading) => {
      gathered.push(from.replace(/:\d+$/, ''));
      return make(reading);
    }, by);
  };
  return { ...real, once };
});

beforeEach(() => {
  gathered.length = 0;
});

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

describe('what findings cost', { timeout: 240_000 }, () => {
  // A ratio within one run: no number of a machine is expected.
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

  describe('a decision looks again only at what it touches', () => {
    const file = opened(withRules(10));
    const { tree } = file.backup;
    const records = file.reading.collections.reduce((a, b) => (a.records.length > b.records.length ? a : b)).records;
    const port = file.reading.mentions[0]!.port;
    const again = (...decisions: Decision[]) => {
      findingsOf(file);
      gathered.length = 0;
      findingsOf(file, {}, planOf(decisions));
      return [...new Set(gathered)].sort();
    };

    it('a first look gathers facts', () => {
      findingsOf(opened(withRules(1)), {}, emptyPlan);
      for (const fact of ['facts/links', 'networks/networks', 'rules/rule-facts', 'rules/rule-meanings'])
        expect(gathered).toContain(`checks/${fact}.ts`);
    });

    it.each<[string, Decision, string[]]>([
      ['a record left out', { kind: 'leave-out', path: pathOf(tree, records[7]!) }, []],
      ['a record kept', { kind: 'keep', path: pathOf(tree, records[7]!) }, []],
      // Which roles get their address by themselves is asked where a port changes, and once.
      ['a port renamed', { kind: 'rename-port', from: port, to: 'ix9' }, ['checks/networks/automatic-addresses.ts']],
      ['another port renamed', { kind: 'rename-port', from: port, to: 'ix8' }, []],
    ])('%s: what was gathered is kept', (_, decision, anew) => {
      expect(again(decision)).toEqual(anew);
    });

    it('a value set: what is made of references and of where values stand is kept', () => {
      const remark = file.reading.values.fields.find(({ steps }) => /remark|note|label/.test(steps.at(-1)!))!;
      const facts = again({ kind: 'set-value', path: pathOf(tree, remark.nodes[0]!), value: 'Fuel dock' });
      expect(facts).not.toContain('checks/facts/links.ts');
      expect(facts).not.toContain('checks/rules/rule-meanings.ts');
    });
  });
});
