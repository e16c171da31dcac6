import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

// What each document says is read off by eye: a network sits on a port, or on a VLAN, and names the one or the other by a number.

const boundIn = (text: string) => open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`);
const mac = (at: number) => `<mac>00:00:5e:00:53:9${at}</mac><rate>${at % 2 ? '1000' : 'auto'}</rate>`;
const names = ['uplink', 'office', 'tills', 'piers', 'lamps', 'guests'];
const net = (name: string, at: number, more = '') =>
  `<net><nr>${at + 1}</nr><name>${name}</name><ip>10.20.${at}.1</ip>${more}</net>`;
const rules = [...names, ...names].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`).join('');
const sockets = [1, 2, 3, 4].map((at) => `<socket><nr>${at}</nr><called>eth${at}</called>${mac(at)}</socket>`);
const expected = ['uplink eth1', 'office eth4', ...names.slice(2).map((name, at) => `${name} eth3.${201 + at}`)];

test('what records have that join networks with ports, where others of them have the number of a VLAN, numbers ports', () => {
  const tagged = [201, 202, 203, 204].map(
    (id, at) => `<socket><nr>${at + 5}</nr><called>eth3.${id}</called><over>3</over><vid>${id}</vid></socket>`,
  );
  const joins = names.map(
    (_, at) =>
      `<join><of>${at + 1}</of>${at < 2 ? `<nc>${[1, 4][at]}</nc>` : `<vid>${199 + at}</vid>`}<rank>${at + 10}</rank></join>`,
  );
  const text = `<box><devs>${sockets.join('')}${tagged.join('')}</devs>
    <nets>${names.map((name, at) => net(name, at)).join('')}</nets><joins>${joins.join('')}</joins>${rules}</box>`;
  expect(boundIn(text).sort()).toEqual([...expected].sort());
});

test('what networks have that name no port numbers the VLANs that name ports', () => {
  const keyed = ['a', 'b', 'c', 'd'].map(
    (key, at) =>
      `<m><k>s${key}</k><c>0/0/${at + 1}</c><l>00:00:5e:00:53:9${at}</l><h>${at % 2 ? '1000' : 'auto'}</h></m>`,
  );
  const parts = [1, 2, 3, 4, 5].map((id) => `<t><y>m:sc</y><z>${id}</z></t>`);
  const on = (at: number) => (at < 2 ? `<x>m:s${'ad'[at]}</x>` : `<f>${at - 1}</f>`);
  const text = `<box><e>${keyed.join('')}</e><e2>${parts.join('')}</e2>
    <g>${names.map((name, at) => net(name, at, on(at))).join('')}</g>${rules}</box>`;
  expect(boundIn(text)).toEqual([
    'uplink 0/0/1',
    'office 0/0/4',
    ...names.slice(2).map((name, at) => `${name} 0/0/3.${at + 1}`),
  ]);
});

test('parts of ports that are counted as ports are, are told from these by what their number is called', () => {
  const port = (at: number, inner = '') =>
    `<socket><nr>${at}</nr><called>ge1-${at}</called>${mac(at)}${inner}</socket>`;
  const part = (at: number) => `<part><nr>${at}</nr><mark>${19 + at}</mark></part>`;
  const on = ['<card_nr>1</card_nr>', '<vlan_nr>1</vlan_nr>', '<vlan_nr>2</vlan_nr>'];
  const text = `<box>${port(1)}${port(2)}${port(3, part(1) + part(2))}
    ${names
      .slice(0, 3)
      .map((name, at) => net(name, at, on[at]))
      .join('')}${rules}</box>`;
  expect(boundIn(text)).toEqual(['uplink ge1-1', 'office ge1-3.20', 'tills ge1-3.21']);
});
