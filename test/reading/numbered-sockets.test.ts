import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

// Switches number their sockets so, by common practice, no source; rates are those of IEEE 802.3, VLAN IDs those of IEEE 802.1Q.
const socket = (rate: string, at: number) => `<socket nr="${at + 1}"><rate>${rate}</rate></socket>`;
const rates = ['auto', '100-full', 'auto', '1000-full', 'auto', 'auto'];
const vlan = (id: number, plain: string, tagged: string) =>
  `<vlan id="${id}"><plain>${plain}</plain><tagged>${tagged}</tagged></vlan>`;
const lanes = [vlan(11, '1', ''), vlan(20, '2 3', '6'), vlan(30, '4', '2 6'), vlan(40, '5', '6')];
const net = (name: string, id: number) => `<net><name>${name}</name><vlan>${id}</vlan><ip>10.20.${id}.1/24</ip></net>`;
const nets = [net('sea', 11), net('office', 20), net('tills', 30), net('piers', 40)];
const rule = (name: string, at: number) => `<rule nr="${at + 1}"><in>${name}</in><weight>${at % 3}</weight></rule>`;
const rules = ['sea', 'office', 'tills', 'piers', 'office', 'tills'].map(rule);
const box = (sockets: string, vlans: string) =>
  `<box><sockets>${sockets}</sockets><vlans>${vlans}</vlans><nets>${nets.join('')}</nets><rules>${rules.join('')}</rules></box>`;
const mentioned = (text: string) => open(text).reading.mentions.map(({ value }) => value);

test('numbers of sockets that have rates, and that VLANs list, are ports there and nowhere else', () => {
  const found = mentioned(box(rates.map(socket).join(''), lanes.join('')));
  expect(found.slice(0, 6)).toEqual(['1', '2', '3', '4', '5', '6']);
  expect(found.slice(6)).toEqual(['1', '2', '3', '6', '4', '2', '6', '5', '6']);
});

test('numbers of sockets that have names are no ports', () => {
  const named = rates.map((rate, at) => socket(rate, at).replace('<rate>', `<is>X${at + 1}</is><rate>`));
  expect(mentioned(box(named.join(''), lanes.join('')))).toEqual(['X1', 'X2', 'X3', 'X4', 'X5', 'X6']);
});

test('numbers of records without rates are no ports, nor those of queues, nor what no VLAN lists', () => {
  const plain = rates.map((_, at) => `<socket nr="${at + 1}"><title>by the door</title></socket>`);
  expect(mentioned(box(plain.join(''), lanes.join('')))).toEqual([]);
  const queues = ['10', '100', '1000', '100', '10', '100'].map(socket).join('');
  expect(mentioned(box(queues, lanes.join('')))).toEqual([]);
  const counted = lanes.map((one, at) => one.replace(/id="\d+"/, `id="${at + 1}"`));
  expect(mentioned(box(rates.map(socket).join(''), counted.join('')))).toEqual([]);
});
