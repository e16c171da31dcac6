import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

// IEEE 802.1Q for what a VLAN ID is; common practice, no source, for how ports and networks have them.

const vlans = [
  ['5', 'sea'],
  ['10', 'desk'],
  ['30', 'tills'],
  ['50', 'cafe'],
] as const;
const ports = ['5', '10', '30'].map((id, at) => `<port><name>0/${at + 1}</name><access>${id}</access></port>`);
const faces = vlans.map(
  ([id], at) =>
    `<face><device>vlan${id}</device><vlan>${id}</vlan><network>${['outside', 'staff', 'cards', 'visitors'][at]}</network><ip>10.20.${id}.1/24</ip></face>`,
);
const rules = [
  ['10', 'staff', 'outside'],
  ['20', 'cards', 'outside'],
  ['30', 'visitors', 'outside'],
  ['40', 'staff', 'cards'],
  ['50', 'visitors', 'staff'],
].map(([seq, from, to]) => `<rule><seq>${seq}</seq><in>${from}</in><out>${to}</out></rule>`);
const box = `<box>
  <vlans>${vlans.map(([id, title]) => `<vlan><number>${id}</number><title>${title}</title></vlan>`).join('')}</vlans>
  <ports>${ports.join('')}<port><name>0/4</name><access>10</access><trunk>30 50</trunk></port>
    <port><name>0/5</name><trunk>5 10 77</trunk></port></ports>
  <routing>${faces.join('')}<way><to>0.0.0.0/0</to><hop>10.20.5.9</hop><metric>10</metric></way>
    <way><to>10.40.0.0/24</to><hop>10.20.10.254</hop><metric>30</metric></way></routing>
  <list>${rules.join('')}</list></box>`;

test('ports are in VLANs by their IDs, one alone or a list; routes and rules are not', () => {
  const { names, gone } = linksOf(box);
  expect(names.filter((name) => name.endsWith('-> vlan')).sort()).toEqual(
    [
      ...['5', '10', '30', '10'].map((id) => `port/access ${id} -> vlan`),
      ...['30', '50', '5', '10'].map((id) => `port/trunk ${id} -> vlan`),
      ...vlans.map(([id]) => `face/vlan ${id} -> vlan`),
    ].sort(),
  );
  expect(names.filter((name) => /metric|seq|-> rule/.test(name))).toEqual([]);
  expect(gone).toEqual(['77']);
});

test('a network that tells its own VLAN device is a network, and its ports are told by their sockets', () => {
  const { reading } = open(box);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'outside vlan5',
    'staff vlan10',
    'cards vlan30',
    'visitors vlan50',
  ]);
  expect(reading.mentions.map(({ value }) => value)).toEqual(
    expect.arrayContaining(['0/1', '0/2', '0/3', '0/4', '0/5', 'vlan5', 'vlan50']),
  );
});

test('VLANs that are called as networks are, and that these name by their IDs, name no network', () => {
  const nets = vlans.map(([id, title]) => `<net><name>${title}</name><vlan>${id}</vlan><ip>10.20.${id}.1</ip></net>`);
  const tags = vlans.map(([id, title]) => `<vlan><name>${title}</name><id>${id}</id><on>em0</on></vlan>`);
  const list = ['desk', 'tills', 'desk', 'cafe'].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`);
  const { names } = linksOf(
    `<box><vlans>${tags.join('')}</vlans><nets>${nets.join('')}</nets><rules>${list.join('')}</rules></box>`,
  );
  expect(names.filter((name) => name.startsWith('vlan/name'))).toEqual([]);
  expect(names.filter((name) => name.startsWith('net/vlan'))).toHaveLength(4);
});

test('tables that have a number and a title are called by the title', () => {
  const table = (no: number, title: string, rows: readonly string[]) =>
    `<branch no="${no}" title="${title}">${rows.map((row, at) => `<node at="${no}.${at + 1}">${row}</node>`).join('')}</branch>`;
  const cell = (title: string, text: string) => `<par title="${title}">${text}</par>`;
  const { reading } = open(
    `<box>${[
      table(
        1,
        'Networks',
        vlans.map(([id, name]) => cell('Name', name) + cell('Address', `10.20.${id}.1`)),
      ),
      table(
        2,
        'Rules',
        ['desk', 'tills', 'cafe'].map((name) => cell('Arrives on', name) + cell('Verdict', 'pass')),
      ),
      table(
        3,
        'Users',
        ['mboyle', 'watch'].map((name) => cell('Login', name) + cell('Shell', 'no')),
      ),
    ].join('')}</box>`,
  );
  expect(reading.fields.map(({ template }) => template)).toContain('/box/branch{Rules}/node/par[Arrives on]');
});

test('lengths of prefixes are no VLANs, though these have such IDs', () => {
  const lengths = ['24', '25', '23', '24'];
  const nets = ['sea', 'desk', 'tills', 'cafe'].map(
    (name, at) => `<net><name>${name}</name><on>em${at}</on><ip>10.20.${at}.1</ip><size>${lengths[at]}</size></net>`,
  );
  const tags = ['20', '23', '24', '25', '31'].map((id) => `<vlan><on>em5</on><id>${id}</id></vlan>`);
  const list = ['desk', 'tills', 'desk', 'cafe'].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`);
  const text = `<box><vlans>${tags.join('')}</vlans><nets>${nets.join('')}</nets><rules>${list.join('')}</rules></box>`;
  expect(linksOf(text).names.filter((name) => name.endsWith('-> vlan'))).toEqual([]);
  expect(open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'sea em0',
    'desk em1',
    'tills em2',
    'cafe em3',
  ]);
});

test('a number that all kinds of record are counted by is no VLAN ID of a line that is dialled', () => {
  const counted = (list: string, records: readonly string[]) =>
    `<${list}>${records.map((inner, at) => `<row><no>${100 + at}</no>${inner}</row>`).join('')}</${list}>`;
  const lines = counted('lines', ['<device>ppp0</device><over>eth0</over><login>quay@mainland.example</login>']);
  const sockets = ['eth0', 'eth1', 'eth2'].map((name) => `<device>${name}</device><speed>auto</speed>`);
  const nets = [
    ['sea', 'ppp0'],
    ['office', 'eth1'],
    ['guests', 'eth2'],
  ].map(([name, device], at) => `<name>${name}</name><on>${device}</on><ip>10.20.${at}.1</ip>`);
  const passes = ['office', 'guests', 'sea', 'office'].map((name) => `<from>${name}</from><do>pass</do>`);
  const kinds = [counted('sockets', sockets), lines, counted('nets', nets), counted('rules', passes)];
  const { reading } = open(`<box>${kinds.join('')}</box>`);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toContain('sea ppp0');
  expect(reading.ports.filter(({ tag }) => tag !== null)).toEqual([]);
  expect(reading.tagging).toEqual([]);
});

test('what joins networks with ports has no VLAN IDs where records of many kinds are counted so', () => {
  const table = (tag: string, count: number, rest: (at: number) => string) =>
    `<${tag}s>${Array.from({ length: count }, (_, at) => `<${tag}><num>${100 + at}</num>${rest(at)}</${tag}>`).join('')}</${tag}s>`;
  const names = ['uplink', 'office', 'tills', 'cctv', 'slip', 'fuel'];
  const nets = table('net', 6, (at) => `<name>${names[at]}</name><ip>10.20.${at}.1/24</ip>`);
  const joins = table('join', 6, (at) => `<at>${100 + at}</at><dev>bge${at}</dev>`);
  const pools = table('pool', 3, (at) => `<net-num>${101 + at}</net-num><first>10.20.${at + 1}.100</first>`);
  const groups = table('group', 3, (at) => `<title>crew${at}</title>`);
  const people = table('person', 3, (at) => `<login>kq${at}</login><group-num>${100 + at}</group-num>`);
  const { reading } = open(`<box>${nets}${joins}${pools}${groups}${people}</box>`);
  expect(reading.fields.filter(({ name }) => name.endsWith('/num'))).toEqual([]);
});

test('numbers that tell apart networks on one port are VLAN IDs, though rules are counted with the same', () => {
  const nets = ['', '', '', '', '30', '40', '50', '60', '99'].map(
    (tag, at) => `<net id="n${at}" on="yes" dev="igb${Math.min(at, 4)}" tag="${tag}" ip="10.20.${at}.1/24"/>`,
  );
  const list = Array.from(
    { length: 29 },
    (_, at) => `<rule no="${at * 10 + 10}" on="yes" act="pass" in="n${at % 9}"/>`,
  );
  const hides = [1, 2].map((no) => `<hide no="${no}" on="yes" out="n${no - 1}" from="n${no + 1} n${no + 2}"/>`);
  const sends = [200, 210].map((rule, at) => `<send no="${at + 3}" on="yes" in="n0" port="2222" rule="${rule}"/>`);
  const swap = [...hides, ...sends].join('');
  const { names, gone } = linksOf(
    `<box><nets>${nets.join('')}</nets><rules>${list.join('')}</rules><swap>${swap}</swap></box>`,
  );
  expect(names.filter((name) => name.startsWith('net'))).toEqual([]);
  expect(names.filter((name) => name.startsWith('send/rule'))).toHaveLength(2);
  expect(gone).toEqual([]);
});
