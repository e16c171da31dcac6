import { describe, expect, test } from 'vitest';
import {
  loadReceiver,
  openBackup,
  portsOfBackup,
  readMeaning,
  receiverFromBackup,
  saveReceiver,
  suggest,
} from '../../src/core/index.ts';
import { bytesOf, corpus, corpusBytes, opened } from '../corpus/files.ts';
import { devices } from './support.ts';

const example = new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url).pathname;

function described(bytes: Uint8Array, name = 'kqm-gw2.xml') {
  const { backup, reading } = opened(bytes, name);
  const receiver = receiverFromBackup(backup.tree, reading, name);
  if (!receiver.ok) throw new Error(receiver.trouble.code);
  return { backup, reading, receiver: receiver.value };
}

describe('the new box by its own backup', () => {
  test.each(corpus)('%s: every port of the reading, with its kind and parent', (name) => {
    const { reading, receiver } = described(corpusBytes(name));
    expect(receiver.ports.map((port) => port.name).sort()).toEqual(reading.ports.map((port) => port.name).sort());
    for (const port of receiver.ports) {
      const read = reading.ports.find((other) => other.name === port.name)!;
      expect(port.kind).toBe(read.kind);
      expect(port.parent).toBe(read.kind === 'tagged' ? read.parent : null);
    }
    expect(receiver.sections).toEqual(reading.sections.map((section) => section.name));
    expect(receiver.version).toBe(reading.about.version);
    expect(receiver.source).toBe('backup');
    const loaded = loadReceiver(saveReceiver(receiver));
    expect(loaded.ok && loaded.value.receiver).toEqual(receiver);
  });

  test.each(corpus)('%s: suggestions onto itself by order are all onto themselves', (name) => {
    const { backup, reading, receiver } = described(corpusBytes(name));
    for (const { from, to } of suggest('order', portsOfBackup(backup.tree, reading), receiver)) expect(to).toBe(from);
  });

  test('the example: labels are those of the roles', () => {
    const { reading, receiver } = described(bytesOf(example));
    const bound = reading.bindings.filter(({ port }) => receiver.ports.some(({ name }) => name === port));
    expect(bound.length).toBeGreaterThan(2);
    for (const { port, role } of bound) {
      const label = receiver.ports.find(({ name }) => name === port)!.label;
      const labels = reading.bindings
        .filter((other) => other.port === port)
        .map((other) => reading.roles.find(({ name }) => name === other.role)?.label || other.role);
      expect(labels, `${role} on ${port}`).toContain(label);
    }
  });

  test('the example in YANG: the descriptions are the labels', () => {
    const { receiver } = described(bytesOf(example.replace('plain', 'netconf')));
    const labels = new Map(receiver.ports.map(({ name, label }) => [name, label]));
    expect(labels.get('igc0')).toBe('WAN: fibre to the harbour exchange');
    expect(labels.get('igc3.50')).toBe('Guest Wi-Fi');
    expect(labels.get('igc3')).toBeNull();
  });

  test('an address that the old box sets finds the card that has it', () => {
    const { backup, reading } = opened(corpusBytes('a01'));
    const { receiver } = devices('enp1s0 00:00:5E:00:53:99, enp2s0 00:00:5E:00:53:10');
    expect(suggest('hardware-address', portsOfBackup(backup.tree, reading), receiver)).toEqual([
      { from: 'eth0', to: 'enp2s0', reason: { by: 'hardware-address', mac: '00:00:5e:00:53:10' } },
    ]);
  });

  // An invented dialect, as all of them here.
  const box = (harbour: string, guests: string) =>
    new TextEncoder().encode(`<?xml version="1.0"?>
<box version="7.2">
  <name>kqm-gw2</name>
  <zones>
    <zone><id>quay</id><title>Harbour office</title><socket>igb10</socket><net>10.20.1.1/24</net>${harbour}</zone>
    <zone><id>shore</id><title>Guests</title><socket>igb2</socket><net>10.20.2.1/24</net>${guests}</zone>
    <zone><id>sea</id><title>Uplink</title><socket>igb1</socket><net>192.0.2.2/24</net></zone>
  </zones>
  <rules>
    <rule><n>1</n><in>quay</in><out>sea</out></rule>
    <rule><n>2</n><in>shore</in><out>sea</out></rule>
    <rule><n>3</n><in>sea</in><out>quay</out></rule>
  </rules>
</box>
`);

  test('hardware address and medium of the record that puts a role on the port; names in the order of numbers', () => {
    const { receiver } = described(
      box('<hw>00:00:5E:00:53:0A</hw><medium>1000baseT full-duplex</medium>', '<hw>00:00:00:00:00:00</hw>'),
    );
    expect(receiver.ports.map(({ name, mac, speedMbit, label }) => [name, label, mac, speedMbit])).toEqual([
      ['igb1', 'sea', null, null],
      ['igb2', 'shore', null, null],
      ['igb10', 'quay', '00:00:5e:00:53:0a', 1000],
    ]);
    expect(receiver.version).toBe('7.2');
  });

  test('two hardware addresses in one record tell of none for sure', () => {
    const { receiver } = described(box('<hw>00:00:5e:00:53:0a</hw><peer>00:00:5e:00:53:0b</peer>', ''));
    expect(receiver.ports.map(({ mac }) => mac)).toEqual([null, null, null]);
  });

  test('a backup without ports is said to have none', () => {
    const backup = openBackup(new TextEncoder().encode('<box><name>x</name></box>'), 'x.xml');
    if (!backup.ok) throw new Error(backup.trouble.code);
    const { tree } = backup.value;
    expect(receiverFromBackup(tree, readMeaning(tree), 'x.xml')).toMatchObject({
      ok: false,
      trouble: { code: 'receiver-no-ports', params: { shape: 'backup' } },
    });
  });
});
