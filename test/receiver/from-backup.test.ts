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

  // An invented dialect, as all of them here.
  const box = (harbour: string, guests: string) =>
    new TextEncoder().encode(`<?xml version="1.0"?>
<box version="7.2">
  <name>kqm-gw2</name>
  <zones>
    <zone><id>office</id><title>Harbour office</title><socket>igb10</socket><net>10.20.1.1/24</net>${harbour}</zone>
    <zone><id>guests</id><title>Guests</title><socket>igb2</socket><net>10.20.2.1/24</net>${guests}</zone>
    <zone><id>uplink</id><title>Uplink</title><socket>igb1</socket><net>192.0.2.2/24</net></zone>
  </zones>
  <rules>
    <rule><n>1</n><in>office</in><out>uplink</out></rule>
    <rule><n>2</n><in>guests</in><out>uplink</out></rule>
    <rule><n>3</n><in>uplink</in><out>office</out></rule>
  </rules>
</box>
`);

  test('hardware address and medium of the record that puts a role on the port; names in the order of numbers', () => {
    const { receiver } = described(
      box('<hw>00:00:5E:00:53:0A</hw><medium>1000baseT full-duplex</medium>', '<hw>00:00:00:00:00:00</hw>'),
    );
    expect(receiver.ports.map(({ name, mac, speedMbit, label }) => [name, label, mac, speedMbit])).toEqual([
      ['igb1', 'Uplink', null, null],
      ['igb2', 'Guests', null, null],
      ['igb10', 'Harbour office', '00:00:5e:00:53:0a', 1000],
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
