import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Receiver, type ReceiverPort, suggest } from '../../src/core/index.ts';
import { runs } from '../laws/seed.ts';
import { port } from './support.ts';

const box = (...ports: ReceiverPort[]): Receiver => ({
  name: '',
  source: 'typed',
  ports,
  version: null,
  sections: null,
});
const pairs = (list: ReturnType<typeof suggest>) => list.map(({ from, to }) => `${from} ${to}`);

describe('suggestions', () => {
  test('by order: sockets onto sockets, aggregates onto aggregates, nothing else', () => {
    const donor = [
      port('igb0'),
      port('lagg0', { kind: 'aggregate' }),
      port('igb0.30', { kind: 'tagged', parent: 'igb0' }),
      port('igb1'),
      port('bridge0', { kind: 'other' }),
    ];
    const receiver = box(
      port('bond0', { kind: 'aggregate' }),
      port('eth0'),
      port('eth0.30', { kind: 'tagged', parent: 'eth0' }),
      port('br0', { kind: 'other' }),
    );
    expect(suggest('order', donor, receiver)).toEqual([
      { from: 'igb0', to: 'eth0', reason: { by: 'order', place: 1 } },
      { from: 'lagg0', to: 'bond0', reason: { by: 'order', place: 1 } },
    ]);
  });

  test('by speed: equals first, then the next above, never below', () => {
    const donor = [1000, 10_000, 1000, 2500, 25_000].map((speedMbit, at) => port(`old${at}`, { speedMbit }));
    const receiver = box(
      port('new0', { speedMbit: 10_000 }),
      port('new1', { speedMbit: 1000 }),
      port('new2', { speedMbit: 10_000 }),
      port('new3', { speedMbit: 10_000 }),
      port('new4'),
    );
    expect(suggest('speed', donor, receiver)).toEqual([
      { from: 'old0', to: 'new1', reason: { by: 'speed', fromMbit: 1000, toMbit: 1000 } },
      { from: 'old1', to: 'new0', reason: { by: 'speed', fromMbit: 10_000, toMbit: 10_000 } },
      { from: 'old2', to: 'new3', reason: { by: 'speed', fromMbit: 1000, toMbit: 10_000 } },
      { from: 'old3', to: 'new2', reason: { by: 'speed', fromMbit: 2500, toMbit: 10_000 } },
    ]);
  });

  test('by label: without regard to case and marks; a label that two have tells nothing', () => {
    const donor = [
      port('a0', { label: 'Harbour office' }),
      port('a1', { label: 'Quay' }),
      port('a2', { label: 'Uplink 1' }),
      port('a3', { label: '--' }),
      port('a4'),
    ];
    const receiver = box(
      port('b0', { label: 'QUAY' }),
      port('b1', { label: 'quay' }),
      port('b2', { label: 'UPLINK-1' }),
      port('b3', { label: 'harbour_office' }),
      port('b4', { label: '..' }),
      port('b5'),
    );
    expect(suggest('label', donor, receiver)).toEqual([
      { from: 'a0', to: 'b3', reason: { by: 'label', label: 'Harbour office' } },
      { from: 'a2', to: 'b2', reason: { by: 'label', label: 'Uplink 1' } },
    ]);
  });

  test('by hardware address: one that the old box sets and the new one has', () => {
    const donor = [port('a0', { mac: '00:00:5e:00:53:02' }), port('a1')];
    const receiver = box(port('b0', { mac: '00:00:5e:00:53:01' }), port('b1', { mac: '00:00:5e:00:53:02' }));
    expect(suggest('hardware-address', donor, receiver)).toEqual([
      { from: 'a0', to: 'b1', reason: { by: 'hardware-address', mac: '00:00:5e:00:53:02' } },
    ]);
  });

  test('nothing known, nothing said', () => {
    for (const by of ['speed', 'label', 'hardware-address'] as const)
      expect(suggest(by, [port('a0')], box(port('b0')))).toEqual([]);
    expect(suggest('order', [], box(port('b0')))).toEqual([]);
    expect(pairs(suggest('order', [port('a0')], box(port('b0'), port('b1'))))).toEqual(['a0 b0']);
  });

  const some = (prefix: string) =>
    fc.array(
      fc.record({
        name: fc.nat(30).map((at) => `${prefix}${at}`),
        mac: fc.option(fc.nat(9).map((octet) => `00:00:5e:00:53:0${octet}`)),
        speedMbit: fc.option(fc.constantFrom(100, 1000, 10_000)),
        label: fc.option(fc.constantFrom('Quay', 'quay', 'Uplink', 'Office 1', 'office-1', '-')),
        up: fc.constant(null),
        kind: fc.constantFrom('physical' as const, 'aggregate' as const, 'tagged' as const, 'other' as const),
        parent: fc.constant(null),
      }),
      { maxLength: 30 },
    );

  test.each(['order', 'speed', 'label', 'hardware-address'] as const)(
    'law, by %s: never one port twice on either side, like onto like, no link slower',
    (by) => {
      fc.assert(
        fc.property(some('a'), some('b'), (old, fresh) => {
          const list = suggest(by, old, box(...fresh));
          expect(new Set(list.map(({ from }) => from)).size).toBe(list.length);
          expect(new Set(list.map(({ to }) => to)).size).toBe(list.length);
          for (const { from, to, reason } of list) {
            const kinds = old.filter(({ name }) => name === from).map(({ kind }) => kind);
            const target = fresh.filter(({ name }) => name === to);
            expect(target.some(({ kind }) => kinds.includes(kind))).toBe(true);
            expect(target.every(({ kind }) => kind === 'tagged' || kind === 'other')).toBe(false);
            if (reason.by === 'speed') expect(reason.toMbit).toBeGreaterThanOrEqual(reason.fromMbit);
          }
        }),
        runs(300),
      );
    },
  );

  test('500 ports on both sides', () => {
    const many = (prefix: string) =>
      Array.from({ length: 500 }, (_, at) => port(`${prefix}${at}`, { speedMbit: at % 2 ? 1000 : 10_000 }));
    expect(suggest('speed', many('a'), box(...many('b')))).toHaveLength(500);
    expect(suggest('order', many('a'), box(...many('b')))).toHaveLength(500);
  });
});
