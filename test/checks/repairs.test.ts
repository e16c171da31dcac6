import { describe, expect, it } from 'vitest';
import { build, type Decision, type Finding, type Plan, planOf, subjectOf } from '../../src/core/index.ts';
import type { Repair } from '../../src/core/views.ts';
import { repairCodes } from '../../src/words/repairs.ts';
import { box, boxWith } from './box.ts';
import { findingsOf, type Opened, opened } from './support.ts';

interface Case {
  /** The repair, and the finding that it is for. */
  readonly repair: string;
  readonly of: string;
  readonly text: string;
  readonly plan?: readonly Decision[];
  /** Names of the new box's ports. */
  readonly receiver?: readonly string[];
  /** Lines of the result that differ from those without the repair; `-` before and `+` after. */
  readonly changes: readonly string[];
  /** Findings that come with it rightly. */
  readonly after?: readonly string[];
}

const sets = ['crew', 'recorder', 'tills', 'bank', 'desks', 'cranes', 'pumps', 'lamps', 'masts'];
const rule = (name: string) => `<rule><do>pass</do><from>${name}</from></rule>`;
const list = (names: readonly string[], rules: readonly string[], more = '') => `<box>
<sets>
${names.map((name, at) => `<set><name>${name}</name><host>10.20.0.${at + 10}</host></set>`).join('\n')}
</sets>
<rules>
${rules.map(rule).join('\n')}
</rules>
${more}</box>
`;
const twice = [...sets, ...sets];
const whole = list(sets, twice);

const places = `<box>
<places>
<place><name>office</name><on>eth1</on><address>10.20.0.1</address><prefix>24</prefix></place>
<place><name>guest</name><on>eth2</on><address>10.20.50.1</address><prefix>23</prefix></place>
<place><name>cards</name><on>eth3</on><address>10.20.30.1</address><prefix>24</prefix></place>
</places>
`;
const filter = (...rules: readonly string[]) => `${places}<rules>
${[
  ['pass', 'office', '10.20.0.0/24', '443'],
  ['pass', 'guest', '10.20.50.0/23', '80'],
  ['pass', 'cards', '10.20.30.0/24', '443'],
  ['stop', 'guest', '10.20.50.9', '25'],
  ...rules.map((line) => line.split(' ')),
]
  .map(
    ([action, via, from, port], at) =>
      `<rule id="r${at}"><do>${action}</do><at>${via}</at><proto>tcp</proto><source>${from}</source><port>${port}</port></rule>`,
  )
  .join('\n')}
</rules>
</box>
`;
const pool = (first: string, last: string) =>
  `<lend><place>cards</place><first>${first}</first><last>${last}</last></lend>`;
const withPool = (first: string, last: string) => boxWith('pools', 2, ['cards', first, last, []]);
const role = (name: string) => `/box[1]/places[1]/place[${name === 'office' ? 1 : name === 'guest' ? 2 : 3}]`;

const cards = (macs: readonly string[]) => `${places}<cards>
${macs.map((mac, at) => `<card><label>desk ${at}</label><mac>${mac}</mac></card>`).join('\n')}
</cards>
</box>
`;
const macs = ['00:00:5e:00:53:01', '00:00:5e:00:53:02', '00:00:5e:00:53:03', '00:00:5e:00:53:04', '00:00:5e:00:53:05'];
const routes = (networks: readonly string[]) => `${places}<courses>
${networks.map((to, at) => `<course><to>${to}</to><metric>${at + 2}</metric></course>`).join('\n')}
</courses>
</box>
`;
const networks = ['10.61.0.0/16', '10.62.0.0/16', '10.63.0.0/16', '10.64.0.0/16', '10.65.0.0/16'];
const services = (ports: readonly string[]) =>
  `${places}<services>
${ports.map((port, at) => `<service><name>s${at}</name><port>${port}</port></service>`).join('\n')}
</services>
</box>
`;

const hosts = (names: readonly string[]) => `${places}<seats>
${names.map((name, at) => `<seat><name>s${at}</name><host>${name}</host><floor>1</floor></seat>`).join('\n')}
</seats>
</box>
`;

const frames = (ports: readonly string[], tagged: readonly string[]) => `${places}<nics>
${ports.map((mtu, at) => `<nic><port>eth${at + 1}</port><mtu>${mtu}</mtu></nic>`).join('\n')}
</nics>
<vlans>
${tagged.map((mtu, at) => `<vlan><device>eth2.${at * 10 + 30}</device><on>eth2</on><tag>${at * 10 + 30}</tag><mtu>${mtu}</mtu></vlan>`).join('\n')}
</vlans>
</box>
`;

const fitted = (remark: string) => `${places.replace(
  '<prefix>24</prefix></place>\n</places>',
  `<prefix>24</prefix><remark>${remark}</remark></place>\n</places>`,
)}<nics><nic port="eth1" mac="00:00:5e:00:53:01"/><nic port="eth2" mac="00:00:5e:00:53:02"/></nics>
</box>
`;

const cases: readonly Case[] = [
  {
    repair: 'trim',
    of: 'blank-in-value',
    text: whole.replace('<host>10.20.0.12<', '<host> 10.20.0.12<'),
    changes: [
      '<set><name>tills</name><host> 10.20.0.12</host></set>',
      '<set><name>tills</name><host>10.20.0.12</host></set>',
    ],
  },
  {
    repair: 'join-lines',
    of: 'blank-in-value',
    text: whole.replace('<host>10.20.0.12<', '<host>10.20.\n    0.12<'),
    changes: [
      '<set><name>tills</name><host>10.20.\n    0.12</host></set>',
      '<set><name>tills</name><host>10.20.0.12</host></set>',
    ],
  },
  {
    repair: 'remove-unseen',
    of: 'character-unseen',
    text: whole.replace('<host>10.20.0.12<', '<host>\u200b10.20.0.12<'),
    changes: ['<host>\u200b10.20.0.12<', '<host>10.20.0.12<'],
  },
  {
    repair: 'name-as-written',
    of: 'reference-case',
    text: list(sets, [...twice, 'Tills']),
    changes: [rule('Tills'), rule('tills')],
  },
  {
    repair: 'name-nearest',
    of: 'reference-dangling',
    text: list(sets, [...twice, 'recoder']),
    changes: [rule('recoder'), rule('recorder')],
  },
  {
    repair: 'leave-out',
    of: 'key-doubled',
    text: list([...sets, 'crew'], twice),
    changes: ['<set><name>crew</name><host>10.20.0.19</host></set>\n', ''],
  },
  {
    repair: 'rename-record',
    of: 'key-doubled',
    text: list([...sets, 'crew'], twice),
    changes: ['<name>crew</name><host>10.20.0.19<', '<name>crew-2</name><host>10.20.0.19<'],
  },
  {
    repair: 'host-name-plain',
    of: 'host-name-malformed',
    text: hosts(['desk-1', 'desk-2', 'printer', '3com', 'Grün desk']),
    // RFC 1123, 2.1: letters, digits and inner dashes.
    changes: ['<host>Grün desk</host>', '<host>Grun-desk</host>'],
  },
  {
    repair: 'frame-as-parent',
    of: 'frame-over-parent',
    text: frames(['1500', '9000', '1500'], ['9000', '9100']),
    // IEEE 802.1Q, 9, from memory: a tag takes nothing away from a frame.
    changes: ['<tag>40</tag><mtu>9100</mtu>', '<tag>40</tag><mtu>9000</mtu>'],
  },
  {
    repair: 'carry',
    of: 'reference-left-out',
    text: whole,
    plan: [{ kind: 'leave-out', path: '/box[1]/sets[1]/set[3]' }],
    changes: [
      '<set><name>recorder</name><host>10.20.0.11</host></set>\n',
      '<set><name>recorder</name><host>10.20.0.11</host></set>\n<set><name>tills</name><host>10.20.0.12</host></set>\n',
    ],
  },
  {
    repair: 'leave-out',
    of: 'rule-covered',
    text: filter('pass office 10.20.0.20 443'),
    changes: [
      '<rule id="r4"><do>pass</do><at>office</at><proto>tcp</proto><source>10.20.0.20</source><port>443</port></rule>\n',
      '',
    ],
  },
  {
    repair: 'leave-out',
    of: 'client-doubled',
    text: box().replace('00:00:5e:00:53:01', '00:00:5e:00:53:00'),
    changes: ['<kept><card>00:00:5e:00:53:00</card><as>10.20.0.21</as></kept>', ''],
  },
  {
    repair: 'leave-out-other',
    of: 'client-doubled',
    text: box().replace('00:00:5e:00:53:01', '00:00:5e:00:53:00'),
    changes: ['<kept><card>00:00:5e:00:53:00</card><as>10.20.0.20</as></kept>\n', ''],
  },
  {
    repair: 'leave-out-other',
    of: 'rule-contradicted',
    text: filter('stop office 10.20.0.0/24 443'),
    changes: [
      '<rule id="r0"><do>pass</do><at>office</at><proto>tcp</proto><source>10.20.0.0/24</source><port>443</port></rule>\n',
      '',
    ],
  },
  {
    repair: 'swap-ends',
    of: 'pool-reversed',
    text: withPool('10.20.30.150', '10.20.30.100'),
    changes: [pool('10.20.30.150', '10.20.30.100'), pool('10.20.30.100', '10.20.30.150')],
  },
  {
    repair: 'swap-ends',
    of: 'port-range-reversed',
    text: services(['80', '443', '25', '53', '10099-10000']),
    changes: ['10099-10000', '10000-10099'],
  },
  {
    repair: 'shrink-pool',
    of: 'pool-outside',
    text: withPool('10.20.30.100', '10.20.31.20'),
    // RFC 1122, 3.2.1.3: .255 is the broadcast address of 10.20.30.0/24.
    changes: [pool('10.20.30.100', '10.20.31.20'), pool('10.20.30.100', '10.20.30.254')],
  },
  {
    repair: 'shrink-pool',
    of: 'pool-over-reserved',
    text: withPool('10.20.30.100', '10.20.30.255'),
    changes: [pool('10.20.30.100', '10.20.30.255'), pool('10.20.30.100', '10.20.30.254')],
  },
  {
    repair: 'shrink-pool',
    of: 'pool-over-router',
    text: withPool('10.20.30.1', '10.20.30.50'),
    changes: [pool('10.20.30.1', '10.20.30.50'), pool('10.20.30.2', '10.20.30.50')],
  },
  {
    repair: 'spell-usual',
    of: 'address-not-canonical',
    text: boxWith('gateways', 1, ['shed', 'office', '2001:0DB8:0:0::1']),
    // RFC 5952, 4.
    changes: ['2001:0DB8:0:0::1', '2001:db8::1'],
  },
  {
    repair: 'hardware-like-others',
    of: 'mac-form',
    text: cards([...macs, '00-00-5E-00-53-06']),
    changes: ['00-00-5E-00-53-06', '00:00:5E:00:53:06'],
  },
  {
    repair: 'host-bits-off',
    of: 'network-host-bits',
    text: routes([...networks, '10.66.7.5/16']),
    changes: ['10.66.7.5/16', '10.66.0.0/16'],
  },
  {
    repair: 'rename-port',
    of: 'port-not-on-receiver',
    text: `${places}</box>\n`,
    receiver: ['eth1', 'eth2', 'ix0'],
    changes: ['<on>eth3</on>', '<on>ix0</on>'],
  },
  {
    repair: 'take-back',
    of: 'port-doubled',
    text: `${places}</box>\n`,
    plan: [{ kind: 'rename-port', from: 'eth3', to: 'eth2' }],
    changes: ['', ''],
  },
  {
    repair: 'take-back',
    of: 'role-without-port',
    text: `${places}</box>\n`,
    plan: [{ kind: 'move-role', role: role('cards'), to: { on: 'none' } }],
    changes: ['', ''],
  },
  {
    repair: 'take-back',
    of: 'role-shares-device',
    text: `${places}</box>\n`,
    plan: [{ kind: 'move-role', role: role('cards'), to: { on: 'port', port: 'eth2' } }],
    changes: ['<name>cards</name><on>eth2</on>', '<name>cards</name><on>eth3</on>'],
  },
  {
    repair: 'shorten-name',
    of: 'port-name-long',
    text: `${places}<tags>
${[
  ['eth1', 10],
  ['eth1', 20],
  ['eth3', 3001],
]
  .map(([port, tag]) => `<tag><port>${port}</port><number>${tag}</number><device>${port}.${tag}</device></tag>`)
  .join('\n')}
</tags>
</box>
`,
    plan: [{ kind: 'rename-port', from: 'eth3', to: 'enp101s0f3np1' }],
    changes: ['<device>enp101s0f3np1.3001</device>', '<device>enp101s0f3.3001</device>'],
  },
  {
    repair: 'empty-value',
    of: 'box-bound-travels',
    text: fitted('desks of the harbour office'),
    changes: ['mac="00:00:5e:00:53:01"', 'mac=""'],
  },
  {
    repair: 'follow-port',
    of: 'port-in-remark',
    text: fitted('the till cable goes to eth3 in rack two'),
    plan: [{ kind: 'rename-port', from: 'eth3', to: 'ix0' }],
    changes: ['goes to eth3 in', 'goes to ix0 in'],
  },
];

function applied(plan: Plan, { decisions, withdraws = [] }: Repair): Plan {
  const given = new Set(withdraws);
  return planOf([...plan.decisions.filter((decision) => !given.has(subjectOf(decision))), ...decisions]);
}

function resultOf({ backup, reading }: Opened, plan: Plan): string | null {
  const built = build(backup, reading, plan);
  return built.ok ? new TextDecoder().decode(built.value.bytes) : null;
}

const names = (findings: readonly Finding[], but: string) =>
  findings
    .filter(({ code, severity }) => code !== but && severity !== 'note')
    .map(({ code, place }) => `${code} ${place?.path ?? ''}`)
    .sort();

// What each repair does is read off by eye; the second reader is another parser, which shares no code with the first.
describe('a repair: its finding is gone, nothing else changes, both readers agree', () => {
  it.each(cases.map((one) => [`${one.repair} for ${one.of}`, one] as const))('%s', (_, one) => {
    const file = opened(one.text);
    const plan = planOf(one.plan ?? []);
    const circumstances = { receiver: one.receiver ?? null };
    const before = findingsOf(file, circumstances, plan);
    const found = before.find(
      ({ code, repairs }) => code === one.of && repairs?.some(({ code }) => code === one.repair),
    );
    const repair = found?.repairs?.find(({ code }) => code === one.repair);
    expect(before.map(({ code }) => code)).toContain(one.of);
    expect(repair, JSON.stringify(before.filter(({ code }) => code === one.of))).toBeDefined();
    const mended = applied(plan, repair!);
    const after = findingsOf(file, circumstances, mended);
    const isIt = ({ code, place }: Finding) => code === one.of && place?.path === found!.place?.path;
    expect(after.filter(isIt)).toEqual([]);
    expect(names(after, one.of).filter((name) => !names(before, one.of).includes(name))).toEqual([]);
    const result = resultOf(file, mended);
    expect(result).not.toBeNull();
    const base = resultOf(file, plan);
    const [from, to] = one.changes as [string, string];
    if (from !== '' || to !== '') {
      expect(base!.split(from)).toHaveLength(2);
      expect(result).toBe(base!.replace(from, to));
    } else expect(result).toBe(one.text);
    // Read anew, the result has no such finding either.
    expect(findingsOf(opened(result!), circumstances).filter(isIt)).toEqual([]);
  });

  it('every code of a repair is tried', () => {
    expect(new Set(cases.map(({ repair }) => repair))).toEqual(new Set(repairCodes));
  });

  it('none holds a secret: what stands in one is for people to mend', () => {
    const text = `<box><talks>${[
      'gulls over pier 7',
      'Mackerel8LineQz',
      'tide-table-1887x',
      'reef9 knots',
      'halyard55 shore',
    ]
      .map(
        (secret, at) =>
          `<talk><host>192.0.2.${at + 1}</host><password>${at === 3 ? ` ${secret}\u200b` : secret}</password></talk>`,
      )
      .join('')}</talks></box>`;
    const findings = findingsOf(opened(text));
    const odd = findings.filter(({ code }) => code === 'blank-in-value' || code === 'character-unseen');
    expect(odd.length).toBeGreaterThan(0);
    expect(odd.flatMap(({ repairs = [] }) => repairs)).toEqual([]);
    expect(JSON.stringify(findings)).not.toContain('reef9');
  });
});
