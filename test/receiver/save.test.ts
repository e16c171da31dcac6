import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loadReceiver, type Receiver, type ReceiverPort, saveReceiver, withLabel } from '../../src/core/index.ts';
import { runs } from '../laws/seed.ts';
import { devices, port, sample } from './support.ts';

function loaded(json: string) {
  const result = loadReceiver(json);
  if (!result.ok) throw new Error(result.trouble.code);
  return result.value;
}

const label = fc.option(fc.string({ maxLength: 20 }).filter((text) => text !== '' && text.trim() === text));
const anyPort: fc.Arbitrary<ReceiverPort> = fc.record({
  name: fc.oneof(fc.stringMatching(/^[a-z]{1,4}[0-9]{1,2}$/), fc.constantFrom('__proto__', 'constructor', 'ü 1')),
  mac: fc.option(fc.nat(255).map((octet) => `00:00:5e:00:53:${octet.toString(16).padStart(2, '0')}`)),
  speedMbit: fc.option(fc.constantFrom(10, 100, 1000, 2500, 10_000, 25_000)),
  label,
  up: fc.option(fc.boolean()),
  kind: fc.constantFrom('physical', 'aggregate', 'tagged', 'other'),
  parent: fc.option(fc.stringMatching(/^[a-z]{1,4}[0-9]$/)),
});
const anyReceiver: fc.Arbitrary<Receiver> = fc.record({
  name: fc.string(),
  source: fc.constantFrom('backup', 'paste', 'typed'),
  ports: fc.uniqueArray(anyPort, {
    selector: ({ name }) => name.toLowerCase(),
    minLength: 1,
    maxLength: 12,
  }),
  version: fc.option(fc.string()),
  sections: fc.option(fc.array(fc.string(), { maxLength: 4 })),
});

describe('a saved receiver', () => {
  test('law: saved and loaded is the same', () => {
    fc.assert(
      fc.property(anyReceiver, (receiver) => {
        expect(loaded(saveReceiver(receiver))).toEqual({ receiver, troubles: [] });
      }),
      runs(500),
    );
  });

  test('one that was pasted', () => {
    const { receiver } = devices(sample('ifconfig-freebsd.txt'));
    expect(loaded(saveReceiver(receiver)).receiver).toEqual(receiver);
    expect(JSON.parse(saveReceiver(receiver)).receiver).toBe(1);
  });

  test('of a port only the name must be there', () => {
    expect(loaded('{"receiver": 1, "ports": [{"name": "igb0"}]}')).toEqual({
      receiver: { name: '', source: 'typed', ports: [port('igb0')], version: null, sections: null },
      troubles: [],
    });
  });

  test('what has the wrong shape is reported with its key, and the rest is kept', () => {
    const { receiver, troubles } = loaded(
      JSON.stringify({
        receiver: 1,
        name: 7,
        source: 'guess',
        sections: ['a', 2],
        colour: 'red',
        ports: [
          { name: 'igb0', mac: 'zz', speedMbit: -1, label: 4, up: 'yes', kind: 'x', parent: [], slot: 2 },
          { mac: '00:00:5e:00:53:01' },
          'igb1',
          { name: ' ' },
          { name: 'igb2', mac: '00-00-5E-00-53-02', label: ' Quay ' },
          { name: 'igb2' },
          { name: 'IGB2' },
        ],
      }),
    );
    expect(receiver.ports).toEqual([
      port('igb0'),
      port('igb2', { mac: '00:00:5e:00:53:02', label: 'Quay' }),
      port('IGB2'),
    ]);
    expect(troubles.map(({ code, params }) => `${code} ${params?.key ?? params?.port}`)).toEqual([
      'receiver-entry-unknown colour',
      'receiver-entry-unknown ports.0.slot',
      'receiver-entry-unknown ports.0.mac',
      'receiver-entry-unknown ports.0.speedMbit',
      'receiver-entry-unknown ports.0.label',
      'receiver-entry-unknown ports.0.up',
      'receiver-entry-unknown ports.0.kind',
      'receiver-entry-unknown ports.0.parent',
      'receiver-entry-unknown ports.1',
      'receiver-entry-unknown ports.2',
      'receiver-entry-unknown ports.3',
      'receiver-port-doubled igb2',
      'receiver-ports-alike IGB2',
      'receiver-entry-unknown name',
      'receiver-entry-unknown source',
      'receiver-entry-unknown sections',
    ]);
  });

  test('without ports it loads and says so', () => {
    expect(loaded('{"receiver": 1}').troubles.map(({ code }) => code)).toEqual(['receiver-no-ports']);
    expect(loaded('{"receiver": 1, "ports": {}}').troubles.map(({ code }) => code)).toEqual([
      'receiver-entry-unknown',
      'receiver-no-ports',
    ]);
  });

  test.each([
    ['receiver-not-json', 'igb0, igb1'],
    ['receiver-not-json', ''],
    ['receiver-not-a-receiver', '[]'],
    ['receiver-not-a-receiver', 'null'],
    ['receiver-not-a-receiver', '{"plan": 1}'],
    ['receiver-newer', '{"receiver": 2}'],
  ])('%s: %j', (code, json) => {
    expect(loadReceiver(json)).toMatchObject({ ok: false, trouble: { code } });
  });
});

test('a label is put on one port; a blank one takes it off', () => {
  const receiver = devices('igb0, igb1').receiver;
  const labelled = withLabel(receiver, 'igb1', '  Harbour office ');
  expect(labelled.ports.map(({ label }) => label)).toEqual([null, 'Harbour office']);
  expect(withLabel(labelled, 'igb1', ' ')).toEqual(receiver);
  expect(withLabel(receiver, 'igb9', 'x')).toBe(receiver);
});
