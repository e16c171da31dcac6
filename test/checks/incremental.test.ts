import { describe, expect, it } from 'vitest';
import { markOf } from '../../src/core/checks/report/set-aside.ts';
import { type Decision, type Plan, planOf, subjectOf } from '../../src/core/index.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { TAG } from '../../src/core/xml/site.ts';
import { isLeaf } from '../../src/core/xml/tree.ts';
import { generateDialect, isHeldBack } from '../dialects/generate.ts';
import { chance } from './chance.ts';
import { findingsOf, type Opened, opened } from './support.ts';

type Next = ReturnType<typeof chance>;

/** A decision of any kind about something that the file has. */
function someDecision({ backup, reading }: Opened, plan: Plan, next: Next): Decision | null {
  const pick = <T>(list: readonly T[]): T | undefined => list[next(list.length)];
  const { tree } = backup;
  switch (next(6)) {
    case 0: {
      const port = pick(reading.mentions)?.port;
      return port === undefined ? null : { kind: 'rename-port', from: port, to: `ix${next(9)}` };
    }
    case 1:
    case 2: {
      const node = pick(pick(reading.collections)?.records ?? []);
      if (node === undefined || node === tree.root) return null;
      return { kind: next(4) === 0 ? 'keep' : 'leave-out', path: pathOf(tree, node) };
    }
    case 3: {
      const field = pick(reading.values.fields)!;
      const place = next(field.values.length);
      const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
      if (site.attr === TAG || (site.attr < 0 && !isLeaf(tree, site.node))) return null;
      // A value of the same field, or one that is found nowhere.
      const value = next(3) === 0 ? `gull${next(100)}` : pick(field.values)!;
      return { kind: 'set-value', path: sitePath(tree, site), value };
    }
    case 4: {
      const repair = pick(findingsOf({ backup, reading }, {}, plan).flatMap(({ repairs = [] }) => repairs));
      return repair?.decisions[0] ?? null;
    }
    default: {
      const finding = pick(findingsOf({ backup, reading }, {}, plan).filter(({ mark }) => mark));
      return finding ? { kind: 'set-aside', finding: markOf(finding), reason: 'agreed' } : null;
    }
  }
}

// A law of the program itself; nothing outside says what the findings of a random plan are.
describe('findings follow decisions', { timeout: 240_000 }, () => {
  const seeds = Array.from({ length: 8 }, (_, at) => at + 1).filter((seed) => !isHeldBack(seed));

  it.each(seeds)('dialect %i: after each decision they are those of a fresh look', (seed) => {
    const { bytes } = generateDialect(seed);
    const file = opened(bytes);
    const next = chance(seed);
    let plan = planOf([]);
    for (let step = 0; step < 14; step++) {
      if (next(5) === 0 && plan.decisions.length > 0) {
        const gone = subjectOf(plan.decisions[next(plan.decisions.length)]!);
        plan = planOf(plan.decisions.filter((decision) => subjectOf(decision) !== gone));
      } else {
        const decision = someDecision(file, plan, next);
        if (decision) plan = planOf([...plan.decisions, decision]);
      }
      const followed = findingsOf(file, { now: '2026-11-25T12:00:00Z' }, plan);
      if (step % 2 === 1) expect(followed).toEqual(findingsOf(opened(bytes), { now: '2026-11-25T12:00:00Z' }, plan));
      // The order in which decisions were made means nothing.
      const turned = planOf([...plan.decisions].reverse());
      if (step === 13) expect(findingsOf(file, { now: '2026-11-25T12:00:00Z' }, turned)).toEqual(followed);
    }
  });
});

const ruled = (source: string, host: string) => `<box>
<places>
<place><name>office</name><on>eth1</on><address>10.20.0.1</address><prefix>24</prefix></place>
<place><name>guest</name><on>eth2</on><address>10.20.50.1</address><prefix>23</prefix></place>
<place><name>cards</name><on>eth3</on><address>10.20.30.1</address><prefix>24</prefix></place>
</places>
<sets>
<set><name>tills</name><host>10.20.30.11</host></set>
<set><name>boss</name><host>${host}</host></set>
<set><name>crew</name><host>10.20.50.9</host></set>
</sets>
<rules>
${[
  ['office', '10.20.0.0/24', '443'],
  ['guest', 'crew', '80'],
  ['cards', 'tills', '443'],
  ['office', source, '443'],
  ['office', 'boss', '443'],
]
  .map(
    ([at, from, port], rule) =>
      `<rule id="r${rule}"><do>pass</do><at>${at}</at><proto>tcp</proto><source>${from}</source><port>${port}</port><remark>as agreed</remark></rule>`,
  )
  .join('\n')}
</rules>
</box>
`;

// What covers what is read off by eye; common practice: the first rule that fits decides.
describe('a value that is set is looked at by the rules that it is in', () => {
  const covered = (file: Opened, ...decisions: Decision[]) =>
    findingsOf(file, {}, planOf(decisions))
      .filter(({ code }) => code === 'rule-covered')
      .map(({ params }) => params.rule);
  const source: Decision = { kind: 'set-value', path: '/box[1]/rules[1]/rule[4]/source[1]', value: '10.20.0.20' };
  const host: Decision = { kind: 'set-value', path: '/box[1]/sets[1]/set[2]/host[1]', value: '10.20.0.21' };
  const remark: Decision = { kind: 'set-value', path: '/box[1]/rules[1]/rule[1]/remark[1]', value: 'for the season' };

  it('its own, or that of a set that it names; a remark is in none', () => {
    const file = opened(ruled('10.20.9.20', '10.20.9.21'));
    expect(covered(file)).toEqual([]);
    expect(covered(file, source)).toEqual(['r3']);
    expect(covered(file, remark)).toEqual([]);
    expect(covered(file, host)).toEqual(['r4']);
    expect(covered(file, host, source, remark)).toEqual(['r3', 'r4']);
    expect(covered(file)).toEqual([]);
    expect(covered(opened(ruled('10.20.0.20', '10.20.0.21')))).toEqual(['r3', 'r4']);
  });
});
