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
