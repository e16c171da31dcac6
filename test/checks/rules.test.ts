import { describe, expect, it } from 'vitest';
import {
  complement,
  type Interval,
  includes,
  meets,
  type Part,
  partOf,
  union,
} from '../../src/core/checks/rules/intervals.ts';
import { covers, coversIn, type RuleParts } from '../../src/core/checks/rules/rule-cover.ts';
import { planOf } from '../../src/core/index.ts';
import { chance } from './chance.ts';
import { examples, findingsOf, fixtures, opened, openedFile, said } from './support.ts';

/** A world small enough to try every packet: 12 senders, 12 receivers, 8 ports, 3 networks, 2 protocols. */
const SENDERS = 12;
const PORTS = 8;
const NETWORKS = ['office', 'guest', 'cards'] as const;
const PROTOCOLS = ['tcp', 'udp'] as const;

interface Packet {
  readonly via: string;
  readonly proto: string;
  readonly from: number;
  readonly to: number;
  readonly port: number;
}

const packets: Packet[] = [];
for (const via of NETWORKS)
  for (const proto of PROTOCOLS)
    for (let from = 0; from < SENDERS; from++)
      for (let to = 0; to < SENDERS; to++)
        for (let port = 0; port < PORTS; port++) packets.push({ via, proto, from, to, port });

/** A rule as a person writes it: plain lists of what matches; null for any. */
interface Plain {
  readonly via: readonly string[];
  readonly proto: string | null;
  readonly from: readonly number[] | null;
  readonly to: readonly number[] | null;
  readonly port: readonly number[] | null;
}

/** The simplest evaluator: looks a packet up in every list. */
const fits = (rule: Plain, packet: Packet): boolean =>
  rule.via.includes(packet.via) &&
  (rule.proto === null || rule.proto === packet.proto) &&
  (rule.from === null || rule.from.includes(packet.from)) &&
  (rule.to === null || rule.to.includes(packet.to)) &&
  (rule.port === null || rule.port.includes(packet.port));

const one = (number: number): Interval => ({ first: BigInt(number), last: BigInt(number) });
const named = (...names: string[]) => partOf([], new Map(names.map((name) => [name, null])));

/** Of a rule that says nothing unknown. */
const understood = { turned: new Set<string>(), unknown: '', odd: { turned: new Set<string>(), unknown: '' } };

function partsOf(rule: Plain): RuleParts {
  const parts = new Map<string, Part>([['via', named(...rule.via)]]);
  if (rule.proto !== null) parts.set('proto', named(rule.proto));
  for (const key of ['from', 'to', 'port'] as const) if (rule[key]) parts.set(key, partOf(rule[key].map(one)));
  return { parts, either: [], scoped: ['via'], ...understood };
}

describe('rules that never match, against trying every packet', { timeout: 120_000 }, () => {
  const sets = Number(process.env.CARRYOVER_CASES ?? 10_000);

  it(`finds exactly the rules that one earlier rule covers, in ${sets} seeded rule sets`, () => {
    const next = chance(20_261_125);
    const some = (below: number): number[] | null => {
      const kind = next(5);
      if (kind === 0 || kind === 3) return null;
      const first = next(below);
      const run = Array.from({ length: 1 + next(kind === 1 ? 2 : below) }, (_, at) => first + at);
      const list = kind === 2 ? [...run, next(below)] : run;
      const distinct = [...new Set(list.filter((number) => number < below))];
      // All there is, written out, is the same as any.
      return distinct.length === below ? null : distinct;
    };
    let found = 0;
    for (let round = 0; round < sets; round++) {
      const rules: Plain[] = Array.from({ length: 2 + next(6) }, () => ({
        via: next(6) === 0 ? ['office', 'guest'] : [NETWORKS[next(3)]!],
        proto: next(3) === 0 ? null : PROTOCOLS[next(2)]!,
        from: some(SENDERS),
        to: some(SENDERS),
        port: some(PORTS),
      }));
      const ours = coversIn(rules.map(partsOf)).covers;
      const theirs: { rule: number; by: number }[] = [];
      for (const [at, rule] of rules.entries()) {
        const by = rules.slice(0, at).findIndex((earlier) => coversByTrying(earlier, rule));
        if (by !== -1) theirs.push({ rule: at, by });
      }
      expect(ours.map(({ rule, by }) => ({ rule, by }))).toEqual(theirs);
      found += ours.length;
    }
    expect(found).toBeGreaterThan(sets / 10);
  });

  /** Tries every packet, one part at a time where the parts do not hang together. */
  function coversByTrying(earlier: Plain, later: Plain): boolean {
    for (const packet of packetsOf(later)) if (!fits(earlier, packet)) return false;
    return true;
  }

  /** All packets of the world that fit a rule; a part that both rules leave open is tried at its ends only. */
  function* packetsOf(rule: Plain): Generator<Packet> {
    const all = (list: readonly number[] | null, below: number) => list ?? Array.from({ length: below }, (_, at) => at);
    for (const via of rule.via)
      for (const proto of rule.proto === null ? PROTOCOLS : [rule.proto])
        for (const from of all(rule.from, SENDERS))
          for (const to of all(rule.to, SENDERS))
            for (const port of all(rule.port, PORTS)) yield { via, proto, from, to, port };
  }

  it('the generator of packets and the evaluator agree', () => {
    const rule: Plain = { via: ['guest'], proto: 'tcp', from: [1, 2], to: null, port: [3] };
    expect([...packetsOf(rule)].length).toBe(packets.filter((packet) => fits(rule, packet)).length);
  });

  it('is true whatever the sets are that only their names are known of', () => {
    const next = chance(7);
    for (let round = 0; round < 2000; round++) {
      // Each name stands for numbers that nobody told the rules, within bounds that they know or do not know.
      const meaning = new Map(
        ['a', 'b', 'c'].map((name) => {
          const first = next(10);
          const outer = { first: BigInt(first), last: BigInt(first + 3) };
          const inside = [0, 1, 2, 3].filter(() => next(2) === 0).map((step) => first + step);
          return [name, { outer: next(2) === 0 ? [outer] : null, numbers: inside }] as const;
        }),
      );
      const part = (): { part: Part; numbers: Set<number> } => {
        const names = [...meaning.keys()].filter(() => next(2) === 0);
        const first = next(10);
        const plain = Array.from({ length: next(8) }, (_, at) => first + at);
        const known = new Map(names.map((name) => [name, meaning.get(name)!.outer]));
        return {
          part: partOf(plain.map(one), known),
          numbers: new Set([...plain, ...names.flatMap((name) => meaning.get(name)!.numbers)]),
        };
      };
      const [a, b] = [part(), part()];
      const rule = ({ part: own }: { part: Part }): RuleParts => ({
        parts: new Map([['from', own]]),
        either: [],
        scoped: [],
        ...understood,
      });
      if (covers(rule(a), rule(b))) for (const number of b.numbers) expect(a.numbers.has(number)).toBe(true);
    }
  });

  // Two fields of which nobody knows whether a packet has to fit both or one of them.
  it('is true for alternatives and for conditions alike', () => {
    const next = chance(11);
    const keys = ['host', 'book'];
    for (let round = 0; round < 4000; round++) {
      const rules = [0, 1].map(() => new Map(keys.filter(() => next(3) > 0).map((key) => [key, [next(4), next(4)]])));
      const [a, b] = rules.map(
        (lists): RuleParts => ({
          parts: new Map([...lists].map(([key, list]) => [key, partOf(list.map(one))])),
          either: [keys],
          scoped: [],
          ...understood,
        }),
      ) as [RuleParts, RuleParts];
      if (!covers(a, b)) continue;
      const any = (lists: Map<string, number[]>, number: number) =>
        lists.size === 0 || [...lists.values()].some((list) => list.includes(number));
      for (let number = 0; number < 4; number++) if (any(rules[1]!, number)) expect(any(rules[0]!, number)).toBe(true);
      // Conditions on two different properties of a packet.
      for (let host = 0; host < 4; host++)
        for (let book = 0; book < 4; book++) {
          const all = (lists: Map<string, number[]>) =>
            (lists.get('host')?.includes(host) ?? true) && (lists.get('book')?.includes(book) ?? true);
          if (all(rules[1]!)) expect(all(rules[0]!)).toBe(true);
        }
    }
  });
});

describe('sets of numbers, against lists', () => {
  it('union, inclusion, meeting and complement', () => {
    const next = chance(3);
    const numbers = (set: Iterable<Interval>) =>
      Array.from({ length: 24 }, (_, at) => at).filter((at) =>
        [...set].some(({ first, last }) => first <= at && last >= at),
      );
    for (let round = 0; round < 5000; round++) {
      const make = () =>
        Array.from({ length: next(4) }, () => {
          const first = next(20);
          return { first: BigInt(first), last: BigInt(first + next(4)) };
        });
      const [left, right] = [make(), make()];
      const [a, b] = [union(left), union(right)];
      expect(numbers(a)).toEqual(numbers(left));
      const [inA, inB] = [new Set(numbers(a)), numbers(b)];
      expect(includes(a, b)).toBe(inB.every((number) => inA.has(number)));
      expect(meets(a, b)).toBe(inB.some((number) => inA.has(number)));
      expect(numbers(complement(a, { first: 0n, last: 23n }))).toEqual(
        Array.from({ length: 24 }, (_, at) => at).filter((at) => !inA.has(at)),
      );
    }
  });
});

const family = /^rules?-/;
const base = [
  'pass office tcp 10.20.0.0/24 any 443',
  'pass office udp 10.20.0.0/24 any 53',
  'pass guest tcp any any web',
  'stop guest any any 10.20.0.0/16 -',
  'pass cards tcp tills bank 443',
  'pass office any boss cameras -',
];

/** A box in a dialect of its own; rules as `action network protocol from to port`, and more as elements. */
function box(rules: readonly string[]): string {
  const set = (name: string, ...entries: string[]) =>
    `<set><name>${name}</name>${entries.map((entry) => `<holds>${entry}</holds>`).join('')}</set>`;
  const rule = (line: string, at: number) => {
    const [head, more = ''] = line.split(' + ');
    const [action, via, proto, from, to, port] = head!.split(' ');
    const part = (name: string, value: string | undefined) => (value === '-' ? '' : `<${name}>${value}</${name}>`);
    return `<rule id="r${at}">${part('do', action)}${part('at', via)}${part('proto', proto)}${part('source', from)}${part('destination', to)}${part('port', port)}${more.includes('<enabled>') ? '' : '<enabled>yes</enabled>'}${more}</rule>`;
  };
  return `<box>
<places>
<place><name>office</name><on>eth1</on><address>10.20.0.1</address><prefix>24</prefix></place>
<place><name>guest</name><on>eth2</on><address>10.20.50.1</address><prefix>23</prefix></place>
<place><name>cards</name><on>eth3</on><address>10.20.30.1</address><prefix>24</prefix></place>
</places>
<sets>
${set('tills', '10.20.30.11', '10.20.30.12')}
${set('bank', '192.0.2.80/28')}
${set('boss', '10.20.0.20')}
${set('cameras', '10.20.40.0/24')}
${set('inside', 'tills', 'boss', 'cameras')}
</sets>
<services>
<service><name>web</name><port>80</port><port>443</port></service>
<service><name>film</name><port>554</port><port>8554</port></service>
</services>
<times><time><name>season</name><hours>08:00-20:00</hours></time><time><name>night</name><hours>20:00-08:00</hours></time></times>
<rules>
${rules.map(rule).join('\n')}
</rules>
</box>
`;
}

const say = (...rules: string[]) =>
  findingsOf(opened(box([...base, ...rules])))
    .filter(({ code }) => family.test(code))
    .map(({ code, params }) => `${code} ${params.rule ?? ''} by ${params.by ?? ''}`);

// Which rule covers which is read off by eye; common practice: the first rule that fits decides.
describe('rules as files write them', () => {
  it('a healthy list: nothing', () => {
    expect(say()).toEqual([]);
  });

  it.each([
    ['the same rule again', 'pass office tcp 10.20.0.0/24 any 443', ['rule-covered r6 by r0']],
    ['a narrower sender', 'pass office tcp 10.20.0.128/25 any 443', ['rule-covered r6 by r0']],
    ['a sender from a set', 'pass office tcp boss bank 443', ['rule-covered r6 by r0']],
    ['a port from a service', 'pass guest tcp 10.20.50.9 bank 80', ['rule-covered r6 by r2']],
    ['the opposite, narrower', 'stop office tcp boss any 443', ['rule-shadowed r6 by r0']],
    ['the opposite of the same', 'stop cards tcp tills bank 443', ['rule-contradicted r6 by r4']],
    ['a time of its own', 'pass cards tcp tills bank 443 + <when>season</when>', ['rule-covered r6 by r4']],
  ])('%s', (_, rule, wanted) => {
    expect(say(rule)).toEqual(wanted);
  });

  it.each([
    ['a wider sender', 'pass office tcp 10.20.0.0/23 any 443'],
    ['another network', 'pass cards tcp 10.20.0.0/24 any 443'],
    ['another protocol', 'pass office udp 10.20.0.0/24 any 443'],
    ['no protocol', 'pass office any 10.20.0.0/24 any 443'],
    ['more ports', 'pass office tcp 10.20.0.0/24 any web'],
    ['a set that is larger', 'pass cards tcp inside bank 443'],
    ['a network by name, which may mean the box itself', 'pass cards tcp cards bank 443'],
    ['a sender turned round', 'pass cards tcp !tills bank 443'],
    ['a switch that nobody knows', 'pass cards tcp tills bank 443 + <crossed>yes</crossed>'],
    [
      'an earlier rule that is off',
      'pass office tcp any any 9100 + <enabled>no</enabled>\npass office tcp boss any 9100',
    ],
    ['an earlier rule with a time', 'pass office tcp any any 9100 + <when>night</when>\npass office tcp boss any 9100'],
    ['an earlier rule turned round', 'pass office tcp !boss any 9100\npass office tcp boss any 9100'],
    ['a rule that is off itself', 'pass office tcp 10.20.0.0/24 any 443 + <enabled>no</enabled>'],
  ])('%s: nothing is said', (_, rules) => {
    expect(say(...rules.split('\n'))).toEqual([]);
  });

  it('sets of sets are looked into', () => {
    expect(say('pass office tcp inside any 22', 'pass office tcp tills any 22')).toEqual(['rule-covered r7 by r6']);
  });

  it('forgets a rule that the plan leaves out', () => {
    const file = opened(box([...base, 'pass office tcp boss bank 443']));
    const plan = planOf([{ kind: 'leave-out', path: '/box[1]/rules[1]/rule[1]' }]);
    expect(said(findingsOf(file, {}, plan), family)).toEqual([]);
  });

  // Read by eye: card_hosts (10.20.30.11 to .13) lie in 10.20.30.0/24, 443 is of the web ports, and the rule before says any.
  it('the corpus: one rule in each file that writes its networks as addresses or as `cards:net`, none in the others', () => {
    const found = Object.fromEntries(
      Array.from({ length: 12 }, (_, at) => `a${String(at + 1).padStart(2, '0')}`).map((name) => [
        name,
        said(findingsOf(openedFile(`${fixtures}corpus/${name}.xml`)), family),
      ]),
    );
    const lines = { a01: 399, a03: 338, a04: 603, a07: 415, a08: 579, a09: 315 } as Record<string, number>;
    for (const [name, findings] of Object.entries(found))
      expect([name, findings]).toEqual([name, lines[name] ? [`rule-covered ${lines[name]}`] : []]);
  });

  it('the marina and the plain example: nothing', () => {
    for (const file of [`${fixtures}site/marina-netconf.xml`, `${examples}kestrel-quay-plain.xml`])
      expect(said(findingsOf(openedFile(file)), family)).toEqual([]);
  });
});
