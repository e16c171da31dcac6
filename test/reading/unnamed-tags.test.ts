import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

// What each document says is read off by eye: no value names the tagged devices, or only their own records do.

const boundIn = (text: string) => open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`);
const mac = (at: number) => `<mac>00:00:5e:00:53:9${at}</mac><rate>${at % 2 ? '1000' : 'auto'}</rate>`;
const names = ['uplink', 'office', 'tills', 'piers', 'lamps', 'guests'];
const net = (name: string, at: number, more = '') => `<net><name>${name}</name><ip>10.20.${at}.1</ip>${more}</net>`;
const rules = [...names, ...names].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`).join('');

test('parts of ports that networks name have VLAN IDs, though these count from one', () => {
  const on = ['pt1', 'pt2', 'vn1', 'vn2', 'vn3', 'vn4'];
  const unit = (at: number) => `<part><id>vn${at}</id><tag>${at}</tag></part>`;
  const port = (at: number, more = '') =>
    `<socket><id>pt${at}</id><called>0/${at}</called>${mac(at)}<parts>${more}</parts></socket>`;
  const text = `<box>${port(1)}${port(2)}${port(3, [1, 2, 3, 4].map(unit).join(''))}${port(4)}
    ${names.map((name, at) => net(name, at, `<on>${on[at]}</on>`)).join('')}${rules}</box>`;
  expect(boundIn(text)).toEqual([
    'uplink 0/1',
    'office 0/2',
    'tills 0/3.1',
    'piers 0/3.2',
    'lamps 0/3.3',
    'guests 0/3.4',
  ]);
});

test('of two numbers of records that join a port with a network, that which is called so is the VLAN ID', () => {
  const sockets = [1, 2, 3].map(
    (at) => `<socket no="${at}"><called>quay${at}</called>${mac(at)}${at > 1 ? '' : '<net>uplink</net>'}</socket>`,
  );
  const tagged = [1, 2, 3, 4].map(
    (at) => `<part no="${at}"><socket-no>3</socket-no><tag>${at}</tag><net>${names[at]}</net></part>`,
  );
  const text = `<box>${sockets.join('')}${tagged.join('')}${names.map((name, at) => net(name, at)).join('')}${rules}</box>`;
  expect(boundIn(text)).toEqual(['uplink quay1', ...[1, 2, 3, 4].map((at) => `${names[at]} quay3.${at}`)]);
});

test('a tagged device is called by its port, though that ends in no number, where a table has the port', () => {
  const sockets = ['a', 'b', 'c'].map(
    (letter, at) => `<socket id="pt${at}"><called>quay-${letter}</called>${mac(at)}</socket>`,
  );
  const tagged = [10, 11, 12, 13].map(
    (tag, at) => `<part><id>vn${at}</id><over>pt2</over><vlan>${tag}</vlan><called>quay-c_${tag}</called></part>`,
  );
  const text = `<box>${sockets.join('')}${tagged.join('')}
    ${names
      .slice(0, 4)
      .map((name, at) => net(name, at, `<on>vn${at}</on>`))
      .join('')}${rules}</box>`;
  expect(boundIn(text)).toEqual(names.slice(0, 4).map((name, at) => `${name} quay-c_${10 + at}`));
});

test('where ports are sure, a word for the kind of record before a number is none', () => {
  const sockets = ['0/0/1', '0/0/2', 'ens1', 'ens2'].map(
    (name, at) => `<socket><id>${at + 1}</id><called>${name}</called><kind>socket</kind>${mac(at)}</socket>`,
  );
  const on = [1, 2, 3, 3, 3, 3];
  const tag = (at: number) => (at < 2 ? '' : `<vlan-number>${at - 1}</vlan-number>`);
  const text = `<box><sockets>${sockets.join('')}</sockets>
    ${names.map((name, at) => net(name, at, `<on>socket/${on[at]}</on>${tag(at)}`)).join('')}${rules}</box>`;
  expect(boundIn(text)).toEqual([
    'uplink 0/0/1',
    'office 0/0/2',
    'tills ens1',
    'piers ens1',
    'lamps ens1',
    'guests ens1',
  ]);
});

test('numbers of rules make no names of tagged devices, though they are those of ports and VLANs, too', () => {
  const sockets = ['0/1', '0/2', '0/3', '0/4'].map(
    (called, at) =>
      `<socket id="${100 + at}" called="${called}" mac="0000.5e00.535${at}" rate="${at % 2 ? 1000 : 10000}"/>`,
  );
  const tagged = [0, 1, 2, 3, 4].map((at) => `<part id="${100 + at}" over="0/3" vlan="${100 + at}"/>`);
  const on = ['0/1', ...[0, 1, 2, 3, 4].map((at) => `0/3:${100 + at}`)];
  const nets = names.map((name, at) => `<net id="${100 + at}" name="${name}" on="${on[at]}" ip="10.20.${at}.1/24"/>`);
  const doors = [0, 1, 2].map(
    (at) => `<door id="${100 + at}" name="${['web', 'mail', 'radio'][at]}" port="${80 + at}"/>`,
  );
  const numbered = [0, 1, 2, 3, 4, 5, 0, 1, 2, 3, 4, 5].map(
    (at, no) => `<rule id="${300 + no}" do="pass" netId="${100 + at}" doorId="${102 - (no % 2)}"/>`,
  );
  const { names: links } = linksOf(`<box>${[...sockets, ...tagged, ...nets, ...doors, ...numbered].join('')}</box>`);
  expect(links.filter((link) => link.startsWith('rule/netId'))).toEqual(
    [0, 1, 2, 3, 4, 5, 0, 1, 2, 3, 4, 5].map((at) => `rule/netId ${100 + at} -> net`),
  );
});

test('one record with a port and a number that names a network, as ports do, is a tagged device', () => {
  const on = ['uplink', 'office', 'piers', 'lamps', 'guests'];
  const sockets = on.map((name, at) =>
    `<k sort="s" for="${at === 2 ? '' : name}"><q>em${at}</q>${mac(at)}</k>`.replace(' for=""', ''),
  );
  const tagged = '<k sort="t" over="em2" w="100" for="piers"><e>Pier lamps</e></k>';
  const nets = on.map((name, at) => net(name, at)).join('');
  const ruled = [...on, ...on].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`).join('');
  expect(boundIn(`<box><all>${sockets.join('')}${tagged}</all>${nets}${ruled}</box>`).sort()).toEqual([
    'guests em4',
    'lamps em3',
    'office em1',
    'piers em2.100',
    'uplink em0',
  ]);
});

// Common practice, no source: a switch has VLANs, whose numbers networks name, and a VLAN has ports, with its number or without.
const docks = names.map((_, at) => `<socket id="pt${at}" q="em${at}">${mac(at)}</socket>`).join('');

test('where each network has the number of a VLAN, VLANs are no devices on the ports that they name', () => {
  const vlans = names.map((_, at) => `<v k="${41 + at}" e="spare ${at}"><a>pt${at}</a></v>`);
  const nets = names.map((name, at) => net(name, at, `<on-vlan>${41 + at}</on-vlan>`));
  expect(boundIn(`<box>${docks}<vlans>${vlans.join('')}</vlans>${nets.join('')}${rules}</box>`)).toEqual(
    names.map((name, at) => `${name} em${at}`),
  );
});

test('networks that have nearly all numbers of the VLANs, in no even steps, are on these, whatever both are called', () => {
  const numbers = [10, 20, 30, 40, 51, 60];
  const vlan = (number: number, at: number) => `<v k="${number}" e="tag ${at}"><a>pt5</a></v>`;
  const nets = names.map((name, at) => net(name, at, `<w>${numbers[at]}</w>`));
  const text = `<box>${docks}<vs>${[...numbers, 50].map(vlan).join('')}</vs>${nets.join('')}${rules}</box>`;
  expect(boundIn(text)).toEqual(names.map((name) => `${name} em5`));
});
