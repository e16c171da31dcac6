import { expect, test } from 'vitest';
import { nameOf } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';

// RFC 1918 addresses. Each port, and each unit of one, holds its network, that its hosts and rules.
let rules = 0;
const rule = (from: string, to: string) =>
  `<rule id="r-${++rules}"><verdict>pass</verdict><from>${from}</from><to>${to}</to></rule>`;
const rulesOf = (name: string) => [
  ...['office', 'cctv', 'office-door'].filter((to) => to !== name).map((to) => rule(name, to)),
  rule(`${name}-desk`, name === 'tills' ? 'yard' : 'tills'),
  rule(`${name}-desk`, 'yard-door'),
];
const network = (name: string, at: number) =>
  `<network><name>${name}</name><address>10.20.${at}.1/24</address><hosts>${['desk', 'door']
    .map((host, n) => `<host><name>${name}-${host}</name><ip>10.20.${at}.${n + 7}</ip></host>`)
    .join('')}</hosts><rules>${rulesOf(name).join('')}</rules></network>`;
const port = (at: number, inside: string) =>
  `<port device="em${at}"><mac>00:00:5e:00:53:1${at}</mac>${inside}<hop><address>192.0.2.${at + 1}</address></hop></port>`;
const unit = (tag: number, inside: string) => `<unit device="em2.${tag}" tag="${tag}">${inside}</unit>`;
const units = [unit(30, network('tills', 30)), unit(40, network('cctv', 40)), unit(50, network('guests', 50))];
const box = `<box><host-name>kq-gw1</host-name><ports>${[
  port(0, network('yard', 0)),
  port(1, network('office', 1)),
  port(2, units.join('')),
].join('')}</ports></box>`;

test('networks that lie in ports and in units of these are roles, the hosts in them are none', () => {
  const { reading } = open(box);
  expect(reading.bindings.map(({ role, port: on }) => `${role} ${on}`).sort()).toEqual([
    'cctv em2.40',
    'guests em2.50',
    'office em1',
    'tills em2.30',
    'yard em0',
  ]);
});

test('what lies once in records of several kinds, and has a name of its own, is what others name', () => {
  const { reading, backup } = open(box);
  const kinds = new Set(reading.references.map(({ to }) => nameOf(backup.tree, to)));
  expect([...kinds].sort()).toEqual(['host', 'network']);
});

test('so are those in some ports of one kind alone', () => {
  const ports = ['office', 'yard', 'tills', 'cctv']
    .map((name, at) => port(at, network(name, at)))
    .concat([4, 5, 6].map((at) => port(at, '')));
  const { reading, backup } = open(`<box><host-name>kq-gw1</host-name><ports>${ports.join('')}</ports></box>`);
  expect(reading.bindings.map(({ role, port: on }) => `${role} ${on}`)).toEqual([
    'office em0',
    'yard em1',
    'tills em2',
    'cctv em3',
  ]);
  const kinds = new Set(reading.references.map(({ to }) => nameOf(backup.tree, to)));
  expect([...kinds].sort()).toEqual(['host', 'network']);
});
