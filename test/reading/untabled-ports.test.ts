import { describe, expect, test } from 'vitest';
import { open } from '../carry/files.ts';

// What each document says is read off by eye: none has a table of its ports.

function read(text: string) {
  const { reading } = open(text);
  return {
    bound: reading.bindings.map(({ role, port }) => `${role} ${port}`),
    ports: reading.mentions.map(({ value }) => value),
  };
}

const names = ['uplink', 'office', 'tills', 'piers', 'lamps', 'guests', 'crane', 'fuel'];
const net = (name: string, at: number, more = '') => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip>${more}</net>`;
const rules = [...names, ...names].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`).join('');

test('what small records join with networks is a port, though nothing else tells where these are', () => {
  const joins = names.map((name, at) => `<pair><of>${name}</of><card>X${[1, 2, 4, 3][Math.min(at, 3)]}</card></pair>`);
  const { bound, ports } = read(
    `<box>${names.map((name, at) => net(name, at)).join('')}${joins.join('')}${rules}</box>`,
  );
  expect(bound.slice(0, 5)).toEqual(['uplink X1', 'office X2', 'tills X4', 'piers X3', 'lamps X3']);
  expect(ports).toHaveLength(names.length);
});

test('what the one record in each network names is a port, beside a bridge that is known by its name', () => {
  const seat = (device: string) => `<seats><seat device="${device}"/></seats>`;
  const on = ['Port 1', 'br0', 'Port 4', 'Port 3', 'Port 3', 'Port 3', 'Port 4', 'Port 3'];
  const { bound } = read(
    `<box>${names.map((name, at) => net(name, at, seat(on[at]!))).join('')}
      <bridge><called>br0</called><memo>joined on the pier</memo></bridge>${rules}</box>`,
  );
  expect(bound).toEqual(names.map((name, at) => `${name} ${on[at]}`));
});

describe('a word for the kind before the names of ports', () => {
  test('is none of the name', () => {
    const on = ['dial_line:dial0', 'card:X2', 'card:X5', 'card:X6', 'card:X3', 'card:X3', 'card:X3', 'card:X3'];
    const { bound } = read(
      `<box>${names.map((name, at) => net(name, at, `<on>${on[at]}</on>`)).join('')}
        <dial_line><called>dial0</called><lower>card:X1</lower></dial_line>${rules}</box>`,
    );
    expect(bound).toEqual(names.map((name, at) => `${name} ${on[at]!.split(':')[1]}`));
  });

  test('is none of the name beside names of records behind a word of their own', () => {
    const on = ['jack:Dock 1', 'jack:Dock 2', 'pair:pair0', ...names.slice(3).map(() => 'jack:Dock 3')];
    const seat = (at: number) => `<seats><seat><on>${on[at]}</on>${at > 2 ? `<tag>20${at}</tag>` : ''}</seat></seats>`;
    const legs = ['Dock 4', 'Dock 5'].map((dock) => `<leg><of>pair:pair0</of><is>jack:${dock}</is></leg>`);
    const { bound, ports } = read(
      `<box>${names.map((name, at) => net(name, at, seat(at))).join('')}
        <pair><called>pair0</called><mode>lacp</mode></pair>${legs.join('')}${rules}</box>`,
    );
    expect(bound).toEqual(names.map((name, at) => `${name} ${on[at]!.split(':')[1]}`));
    expect(ports).toEqual(expect.arrayContaining(['Dock 1', 'Dock 2', 'Dock 3', 'Dock 4', 'Dock 5']));
  });

  test('stands in lists of members, too', () => {
    const on = ['enp1s0', 'enp4s0', 'enp5s0'];
    const { ports } = read(
      `<box>${on.map((device, at) => net(names[at]!, at, `<on>card:${device}</on>`)).join('')}
        <team><called>lagg0</called><legs>card:enp6s0;card:enp7s0</legs></team>${rules}</box>`,
    );
    expect(ports).toEqual(expect.arrayContaining([...on, 'enp6s0', 'enp7s0']));
  });

  test('stands before the port of a tagged device that is called by the port alone', () => {
    const vlan = (tag: number) =>
      `<vlan><below>card/sfp3</below><number>${tag}</number><called>sfp3.${tag}</called></vlan>`;
    const { bound, ports } = read(
      `<box>${names.map((name, at) => net(name, at, `<number>${100 + 10 * at}</number>`)).join('')}
        ${names.map((_, at) => vlan(100 + 10 * at)).join('')}${rules}</box>`,
    );
    expect(bound).toEqual(names.map((name, at) => `${name} sfp3.${100 + 10 * at}`));
    expect(ports.filter((port) => port === 'sfp3')).toHaveLength(names.length);
  });
});

test('what VLANs have beside the IDs that networks name them by is their port, the same for all', () => {
  const on = ['dial0', 'X2', 'X4'];
  const vlans = names.slice(3).map((_, at) => `<tag><over>X3</over><id>${100 + at}</id></tag>`);
  const { bound } = read(
    `<box>${names.map((name, at) => net(name, at, at < 3 ? `<on>${on[at]}</on>` : `<id>${97 + at}</id>`)).join('')}
      ${vlans.join('')}<dial><called>dial0</called><lower>X1</lower></dial>${rules}</box>`,
  );
  expect(bound.sort()).toEqual(names.map((name, at) => `${name} ${at < 3 ? on[at] : `X3.${97 + at}`}`).sort());
});
