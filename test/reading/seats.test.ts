import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

// Common practice, no source: where logical networks sit, read off the documents by eye.

const boundIn = (text: string) =>
  open(text)
    .reading.bindings.map(({ role, port }) => `${role} ${port}`)
    .sort();

const rules = (...names: string[]) =>
  `<rules>${[...names, ...names].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`).join('')}</rules>`;

test('networks name ports, aggregates and tagged devices in one place, by the keys of their records', () => {
  const links = `<links>
    <socket key="wan0"><os>eth0</os></socket><socket key="lan0"><os>eth1</os></socket>
    <socket key="lan1"><os>eth2</os></socket><socket key="dmz0"><os>eth3</os></socket>
    <bundle key="trunk"><os>bond0</os><part>lan0</part><part>lan1</part></bundle>
    <tagged key="t-cards"><under>trunk</under><vid>30</vid></tagged>
    <tagged key="t-voice"><under>dmz0</under><vid>70</vid></tagged></links>`;
  const net = (name: string, link: string, at: number) =>
    `<net><name>${name}</name><link>${link}</link><ip>10.20.${at}.1</ip></net>`;
  const nets = [
    net('outside', 'wan0', 1),
    net('office', 'trunk', 2),
    net('cards', 't-cards', 3),
    net('servers', 'dmz0', 4),
    net('voice', 't-voice', 5),
  ];
  expect(
    boundIn(
      `<box>${links}<nets>${nets.join('')}</nets>${rules('outside', 'office', 'cards', 'servers', 'voice')}</box>`,
    ),
  ).toEqual(['cards bond0.30', 'office bond0', 'outside eth0', 'servers eth3', 'voice eth3.70']);
});

test('what is made of ports is a device also where no network sits on it', () => {
  const links = `<links>
    <socket key="wan0"><os>eth0</os></socket><socket key="lan0"><os>eth1</os></socket>
    <socket key="lan1"><os>eth2</os></socket><socket key="dmz0"><os>eth3</os></socket>
    <bundle key="trunk"><os>bond0</os><part>lan0</part><part>lan1</part></bundle>
    <tagged key="t-cards"><under>trunk</under><vid>30</vid></tagged></links>`;
  const on = { outside: 'wan0', servers: 'dmz0', cards: 't-cards' };
  const seats = Object.entries(on).map(
    ([name, link], at) => `<net><name>${name}</name><link>${link}</link><ip>10.20.${at}.1</ip></net>`,
  );
  expect(boundIn(`<box>${links}<nets>${seats.join('')}</nets>${rules(...Object.keys(on))}</box>`)).toEqual([
    'cards bond0.30',
    'outside eth0',
    'servers eth3',
  ]);
});

const nets = ['internet', 'office', 'cards', 'cctv', 'guest'];
const named = nets.map((name, at) => `<net code="${name}" ip="10.20.${at}.1" mask="255.255.255.0"/>`).join('');

test('ports say which network they are, and hold the VLANs that are others', () => {
  const hardware = `<hardware>
    <port sys="em0" net="internet"/><port sys="em1" net="office"/>
    <port sys="em2"><tag vid="30" net="cards"/><tag vid="40" net="cctv"/></port>
    <group sys="lagg0" parts="em3 em4"><tag vid="50" net="guest"/><tag vid="60" net="quay"/></group></hardware>`;
  expect(boundIn(`<box>${hardware}<nets>${named}</nets>${rules(...nets)}</box>`)).toEqual([
    'cards em2.30',
    'cctv em2.40',
    'guest lagg0.50',
    'internet em0',
    'office em1',
  ]);
});

test('a number beside port and network is no VLAN where it tells nothing apart', () => {
  const seat = (port: string, net: string, cost: number) =>
    `<seat><at>${port}</at><net>${net}</net><n>${cost}</n></seat>`;
  const seats = nets.map((name, at) => seat(`em${at}`, name, 100 + at * 7));
  expect(boundIn(`<box><seats>${seats.join('')}</seats><nets>${named}</nets>${rules(...nets)}</box>`)).toEqual(
    nets.map((name, at) => `${name} em${at}`).sort(),
  );
});

test('a network that stands alone in its kind has its address in a part of its own', () => {
  const lan = (name: string, port: string, at: number) =>
    `<inner><handle>${name}</handle><on>${port}</on><v4><fixed><ip>10.20.${at}.1</ip></fixed></v4></inner>`;
  const outer = '<outer><handle>exterior</handle><on>em0</on><v4><fixed><ip>203.0.113.2</ip></fixed></v4></outer>';
  const inner = [lan('desk', 'em1', 1), lan('tills', 'em2', 2), lan('crane', 'em3', 3)];
  const ports = [0, 1, 2, 3].map((at) => `<port><dev>em${at}</dev><media>auto</media></port>`);
  expect(
    boundIn(
      `<box><ports>${ports.join('')}</ports><nets>${outer}${inner.join('')}</nets>${rules('exterior', 'desk', 'tills', 'crane')}</box>`,
    ),
  ).toEqual(['crane em3', 'desk em1', 'exterior em0', 'tills em2']);
});

test('a number of devices is one wherever it stands, and no word for the numbers of records', () => {
  const table = (name: string, columns: readonly string[], rows: readonly (readonly (string | number)[])[]) =>
    `<table name="${name}">${rows
      .map((row) => `<row>${row.map((cell, at) => `<col name="${columns[at]}">${cell}</col>`).join('')}</row>`)
      .join('')}</table>`;
  const tables = [
    table(
      'device',
      ['device_id', 'ifname', 'mtu'],
      [0, 1, 2, 3, 4].map((at) => [at + 1, `em${at}`, 1500]),
    ),
    table(
      'bundle',
      ['bundle_id', 'device_id', 'seq'],
      [
        [1, 4, 0],
        [1, 5, 1],
      ],
    ),
    table(
      'network',
      ['network_id', 'name', 'addr'],
      ['sea', 'desk', 'tills'].map((name, at) => [at + 1, name, `10.20.${at}.1`]),
    ),
    table(
      'network_device',
      ['network_id', 'device_id'],
      [
        [1, 3],
        [2, 1],
        [3, 2],
      ],
    ),
    table(
      'rule',
      ['rule_id', 'network_id', 'verdict'],
      [2, 3, 1, 2, 3].map((net, at) => [at + 1, net, 'pass']),
    ),
    table(
      'service',
      ['service_id', 'name', 'port'],
      [
        [1, 'web', 443],
        [2, 'names', 53],
      ],
    ),
    table(
      'rule_service',
      ['rule_id', 'service_id'],
      [
        [1, 1],
        [2, 2],
        [3, 1],
        [4, 2],
      ],
    ),
  ];
  expect(boundIn(`<dump>${tables.join('')}</dump>`)).toEqual(['desk em0', 'sea em2', 'tills em1']);
});

test('labels that networks name as they name ports are devices by their own names', () => {
  const layers = `<layers>
    <port name="net0" speed="auto"/><port name="net1" speed="auto"/><port name="net2" speed="auto"/><port name="net3" speed="1000"/>
    <bundle name="bond0"><part>net1</part><part>net2</part></bundle>
    <label name="tilltag" on="bond0" number="30"/><label name="guesttag" on="bond0" number="50"/>
    <label name="camtag" on="net3" number="60"/></layers>`;
  const on = { sea: 'net0', desk: 'bond0', tills: 'tilltag', cafe: 'guesttag', cctv: 'camtag' };
  const seats = Object.entries(on).map(
    ([name, layer], at) => `<network name="${name}" layer="${layer}"><ip>10.20.${at}.1/24</ip></network>`,
  );
  expect(boundIn(`<box>${layers}<networks>${seats.join('')}</networks>${rules(...Object.keys(on))}</box>`)).toEqual(
    Object.entries(on)
      .map(([name, layer]) => `${name} ${layer}`)
      .sort(),
  );
});

test('lines to the outside stand apart from networks; some of these list their ports, others name one', () => {
  const outside = ['wan1', 'wan2'].map(
    (name, at) => `<${name}><at>eth${at}</at><ip>203.0.113.${at + 2}</ip></${name}>`,
  );
  const inside = `<desk><bridge><at>eth2</at><at>eth3</at></bridge><ip>192.168.40.1</ip></desk>
    <tills><at>eth4</at><tag>30</tag><ip>192.168.43.1</ip></tills><cafe><at>eth4</at><tag>50</tag><ip>192.168.45.1</ip></cafe>`;
  const passes = [
    ['desk', 'wan1'],
    ['tills', 'wan2'],
    ['cafe', 'wan1'],
    ['desk', 'wan2'],
  ].map(([from, to]) => `<pass from="${from}" to="${to}"/>`);
  expect(
    boundIn(
      `<box><outside>${outside.join('')}</outside><inside>${inside}</inside><list>${passes.join('')}</list></box>`,
    ),
  ).toEqual(['cafe eth4', 'desk eth2', 'desk eth3', 'tills eth4', 'wan1 eth0', 'wan2 eth1']);
});

test('gateways stand beside networks in rules, but sit where these do: they are none', () => {
  const seats = ['sea', 'desk', 'tills'].map(
    (name, at) => `<net><name>${name}</name><on>em${at}</on><ip>10.20.${at}.1</ip></net>`,
  );
  const ways = ['fibre', 'radio'].map(
    (name, at) => `<gateway><name>${name}</name><on>em${at}</on><ip>10.20.${at}.9</ip></gateway>`,
  );
  const list = [
    ['desk', 'fibre'],
    ['tills', 'radio'],
    ['desk', 'radio'],
    ['sea', 'fibre'],
    ['tills', 'fibre'],
  ].map(([from, by]) => `<rule><from>${from}</from><by>${by}</by></rule>`);
  expect(boundIn(`<box>${seats.join('')}${ways.join('')}${list.join('')}</box>`)).toEqual([
    'desk em1',
    'sea em0',
    'tills em2',
  ]);
});

test('where one count goes through all records, a field of numbers may name several kinds of device', () => {
  const rows = (tag: string, list: readonly Record<string, string | number>[]) =>
    `<${tag}s>${list
      .map(
        (row) =>
          `<${tag} ${Object.entries(row)
            .map(([key, value]) => `${key}="${value}"`)
            .join(' ')}/>`,
      )
      .join('')}</${tag}s>`;
  const text = [
    rows(
      'if',
      [0, 1, 2, 3, 4].map((at) => ({ id: at + 1, dv: `ix${at}`, sp: 'auto' })),
    ),
    rows('ag', [{ id: 11, dv: 'lagg0', md: 'lacp' }]),
    rows('am', [
      { ag: 11, if: 3 },
      { ag: 11, if: 4 },
    ]),
    rows('vl', [
      { id: 14, up: 11, tg: 30 },
      { id: 15, up: 11, tg: 50 },
      { id: 16, up: 5, tg: 60 },
    ]),
    rows(
      'nw',
      [1, 2, 14, 15, 16].map((on, at) => ({ id: 21 + at, nm: nets[at]!, on, ip: `10.20.${at}.1/24` })),
    ),
    rows(
      'ru',
      [22, 23, 24, 22, 25, 21].map((nw, at) => ({ id: 51 + at, nw, ac: 'pass' })),
    ),
    rows(
      'ls',
      [22, 25, 23].map((nw, at) => ({ nw, mc: `00:00:5e:00:53:a${at}`, ip: `10.20.${nw - 21}.9` })),
    ),
  ];
  expect(boundIn(`<db>${text.join('')}</db>`)).toEqual([
    'cards lagg0.30',
    'cctv lagg0.50',
    'guest ix4.60',
    'internet ix0',
    'office ix1',
  ]);
});

test('a network that names a dialled line sits on that line, not on what it is dialled over', () => {
  const ports = ['wan0', 'lan1', 'lan2'].map((name) => `<port name="${name}" speed="auto"/>`).join('');
  const hardware = `<ports>${ports}</ports><vlans><vlan name="wan0.7" port="wan0" id="7"/><vlan name="lan2.9" port="lan2" id="9"/></vlans>
    <bridges><bridge name="br-in" of="lan1 lan2"/><bridge name="br-out" of="lan2.9"/></bridges>
    <dial><line name="ppp0" over="wan0.7" user="quay@isp.example" mtu="1492"/></dial>`;
  const net = (name: string, device: string, more: string) => `<net name="${name}" device="${device}" ${more}/>`;
  const nets = [
    net('sea', 'ppp0', 'mode="dial"'),
    net('desk', 'br-in', 'mode="fixed" ip="10.20.1.1"'),
    net('visit', 'br-out', 'mode="fixed" ip="10.20.9.1"'),
  ];
  expect(boundIn(`<box>${hardware}<nets>${nets.join('')}</nets>${rules('sea', 'desk', 'visit')}</box>`)).toEqual([
    'desk br-in',
    'sea ppp0',
    'visit br-out',
  ]);
});

test('a network on a VLAN that lists ports is on each of these, whatever the VLAN is called', () => {
  const ports = ['em0', 'em1', 'em2', 'em3'].map((name) => `<port name="${name}" speed="auto"/>`).join('');
  const vlan = (id: number, name: string, on: string) => `<vlan number="${id}" name="${name}" ports="${on}"/>`;
  const vlans = [vlan(7, 'v-sea', 'em0'), vlan(10, 'v-desk', 'em1 em2 em3'), vlan(20, 'v-visit', 'em3')].join('');
  const net = (name: string, at: number) => `<net name="${name}" vlan="v-${name}" ip="10.20.${at}.1/24"/>`;
  const nets = [net('sea', 1), net('desk', 2), net('visit', 3)].join('');
  expect(
    boundIn(
      `<box><ports>${ports}</ports><vlans>${vlans}</vlans><nets>${nets}</nets>${rules('sea', 'desk', 'visit')}</box>`,
    ),
  ).toEqual(['desk em1', 'desk em2', 'desk em3', 'sea em0', 'visit em3']);
});
