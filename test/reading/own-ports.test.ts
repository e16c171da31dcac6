import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

/**
 * Tables of ports that show by themselves what they are. Hardware addresses for documentation are those of RFC 7042, 2.1.2,
 * rates those of IEEE 802.3; how networks meet ports is common practice, no source.
 */
const NAMES = ['n01', 'n02', 'n03', 'n04'];
const rules = [...NAMES, 'n02', 'n03'].map((name) => `<rule><in>${name}</in><do>pass</do></rule>`).join('');
const nets = NAMES.map(
  (name, at) =>
    `<net><name>${name}</name><title>Berth ${at}</title><ip>10.20.${at}.1/24</ip><on>socket(pt${at + 1})</on></net>`,
);
const mac = (at: number) => `<mac>00:00:5e:00:53:0${at}</mac>`;
const portsOf = (text: string) => open(text).reading.ports.map(({ name }) => name);
const box = (...parts: readonly string[]) =>
  `<box>${parts.join('')}<nets>${nets.join('')}</nets><rules>${rules}</rules></box>`;

test('records with a hardware address, a rate and a counted name are ports, and what others name them by is no device', () => {
  for (const names of [
    ['X1', 'X2', 'X3', 'X4'],
    ['A', 'B', 'C', 'D'],
    ['quay-a', 'quay-b', 'deck-a', 'deck-b'],
  ]) {
    const sockets = names.map(
      (name, at) => `<socket><id>pt${at + 1}</id><shows>${name}</shows>${mac(at)}<rate>1000</rate></socket>`,
    );
    const { reading } = open(box(`<sockets>${sockets.join('')}</sockets>`));
    expect(reading.ports.map(({ name }) => name).sort()).toEqual([...names].sort());
    expect(reading.boxBound.filter(({ reason }) => reason === 'hardware-address')).toHaveLength(4);
  }
});

test('in one table with all that is made of ports, those with a hardware address are ports', () => {
  const sockets = [0, 1, 2, 3].map(
    (at) =>
      `<socket><id>pt${at + 1}</id><shows>X${at + 1}</shows><sort>socket</sort>${mac(at)}<rate>auto</rate></socket>`,
  );
  const made = `<socket><id>ag5</id><shows>bond0</shows><sort>bundle</sort><of>pt3 pt4</of></socket>`;
  const ports = open(box(`<sockets>${sockets.join('').replace('auto', '1000')}${made}</sockets>`)).reading.ports;
  expect(ports.filter(({ kind }) => kind === 'physical').map(({ name }) => name)).toEqual(['X1', 'X2', 'X3', 'X4']);
});

test('clients that are counted and have a hardware address are no ports', () => {
  const phones = [1, 2, 3, 4].map((at) => `<phone><name>phone${at}</name>${mac(at)}<owner>office</owner></phone>`);
  const calls = [1, 2, 3, 4].map((at) => `<call><to>phone${at}</to><line>7${at}</line></call>`);
  const text = `<box><phones>${phones.join('')}</phones><calls>${calls.join('')}</calls></box>`;
  expect(portsOf(text)).toEqual([]);
});
