import { describe, expect, it } from 'vitest';
import type { BackupView, PlanView, ReceiverPort } from '../../src/core/index.ts';
import { decisionName, knownNames } from '../../src/words/decisions.ts';
import { nothingBy, reasonOf, speedWords, suggestNames } from '../../src/words/receiver.ts';
import { plain } from '../../src/words/said.ts';

describe('words for moves', () => {
  const backup = {
    roles: [{ name: 'cctv', label: 'Cameras', place: { path: '/box[1]/role[2]' } }],
  } as unknown as BackupView;
  const view = {
    ports: [{ from: 'igb2', to: 'ix0', clashes: [] }],
    ledger: {
      entries: [
        { path: '/box[1]/rule[3]', name: 'To the till' },
        { path: '/box[1]/rule[4]', name: 'rule' },
      ],
    },
  } as unknown as PlanView;
  const known = knownNames(backup, view);
  const role = '/box[1]/role[2]';

  it('call roles by their label and ports by their new names', () => {
    const tag = { kind: 'move-role', role, to: { on: 'tag', port: 'igb2', tag: 40 } } as const;
    expect(decisionName(tag, known)).toBe('Move Cameras to VLAN 40 on ix0');
    expect(decisionName({ kind: 'move-role', role, to: { on: 'port', port: 'xe9' } }, known)).toBe(
      'Move Cameras to xe9',
    );
    expect(decisionName({ kind: 'move-role', role, to: { on: 'none' } }, known)).toBe('Take Cameras off its port');
    expect(decisionName({ kind: 'leave-out', path: role }, known)).toBe('Leave out Cameras');
  });

  it('call a record that is left out by its name, and one without by its place', () => {
    expect(decisionName({ kind: 'leave-out', path: '/box[1]/rule[3]/record()' }, known)).toBe('Leave out To the till');
    expect(decisionName({ kind: 'leave-out', path: '/box[1]/rule[4]' }, known)).toBe('Leave out rule 4');
    expect(decisionName({ kind: 'leave-out', path: '/box[1]/section(a%2Fb)' }, known)).toBe('Leave out a/b');
  });

  it('do without names where none are known', () => {
    expect(decisionName({ kind: 'move-role', role, to: { on: 'tag', port: 'igb2', tag: 40 } })).toBe(
      'Move role 2 to VLAN 40 on igb2',
    );
    expect(decisionName({ kind: 'leave-out', path: '/box[1]/rule[7]' }, known)).toBe('Leave out rule 7');
  });
});

describe('words for the new box', () => {
  const port = (some: Partial<ReceiverPort>): ReceiverPort => ({
    name: 'ix0',
    mac: null,
    speedMbit: null,
    label: null,
    up: null,
    kind: 'physical',
    parent: null,
    ...some,
  });

  it('tell speeds as they stand on the box', () => {
    expect([null, 100, 1000, 2500, 10_000].map(speedWords)).toEqual(['', '100 M', '1 G', '2.5 G', '10 G']);
  });

  it('say on which side nothing is told', () => {
    expect(nothingBy('speed', [port({})], [port({ speedMbit: 1000 })])).toBe('the old backup tells no speed');
    expect(nothingBy('label', [port({ label: 'A' })], [port({})])).toBe('the new box’s description tells no label');
    expect(nothingBy('speed', [port({ speedMbit: 10_000 })], [port({ speedMbit: 1000 })])).toBe(
      'no port of the new box is fast enough',
    );
    expect(nothingBy('label', [port({ label: 'A' })], [port({ label: 'B' })])).toBe(
      'no label is on both sides, once each',
    );
  });

  it('give the reason of each pair', () => {
    const pair = { from: 'igb0', to: 'ix0' };
    const said = (reason: Parameters<typeof reasonOf>[0]['reason']) => plain(reasonOf({ ...pair, reason }));
    expect(said({ by: 'order', place: 2 })).toBe('number 2 on both boxes');
    expect(said({ by: 'speed', fromMbit: 1000, toMbit: 2500 })).toBe('1 G onto 2.5 G');
    expect(said({ by: 'label', label: 'WAN' })).toBe('labelled “WAN”');
    expect(said({ by: 'hardware-address', mac: '02:00:5e:00:53:01' })).toBe('has “02:00:5e:00:53:01” on both');
    expect(Object.keys(suggestNames)).toEqual(['order', 'speed', 'label', 'hardware-address']);
  });
});
