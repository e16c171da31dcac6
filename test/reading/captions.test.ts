import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { type Decision, planOf, planView } from '../../src/core/index.ts';
import { keyValue } from '../../src/core/reading/keys/record-name.ts';
import { elementsOf, nameOf } from '../../src/core/xml/tree.ts';
import { fixtures, opened, result } from '../corpus/files.ts';

const file = opened(readFileSync(`${fixtures}schools/keyrack.xml`), 'keyrack.xml');
const after = (...decisions: Decision[]) => Buffer.from(result(file, planOf(decisions))).toString('utf8');
const nets = '/keyrack[1]/group[1]/series[2]';

test('a series is called what its caption says', () => {
  expect(file.reading.sections.map(({ name }) => name)).toContain('net');
  expect(file.reading.captions.size).toBeGreaterThan(100);
});

test('every element of a caption stands before another', () => {
  for (const [named, caption] of file.reading.captions) {
    const children = [...elementsOf(file.backup.tree, file.backup.tree.parent[named]!)];
    expect(children[children.indexOf(caption) + 1]).toBe(named);
    expect(nameOf(file.backup.tree, caption)).toBe('title');
  }
});

test.each([
  ['a value', { kind: 'leave-out', path: `${nets}/group[2]/text[4]` }],
  ['a caption', { kind: 'leave-out', path: `${nets}/group[2]/title[4]` }],
] as const)('leaving out %s leaves out both', (_, decision) => {
  const left = '<title>remark</title><text>harbour office</text>';
  const before = Buffer.from(readFileSync(`${fixtures}schools/keyrack.xml`)).toString('utf8');
  expect(before.split(left).length).toBe(2);
  expect(after(decision)).toBe(before.replace(left, ''));
});

test('a section goes with its caption, and a record kept in it keeps both', () => {
  const leave: Decision = { kind: 'leave-out', path: nets };
  expect(after(leave)).not.toContain('<title>net</title>');
  const kept = after(leave, { kind: 'keep', path: `${nets}/group[2]` });
  expect(kept).toContain('<title>net</title>');
  expect(kept).toContain('<title>label</title><text>quay</text>');
  expect(kept).not.toContain('<title>label</title><text>pontoon</text>');
});

test('the ledger counts no caption', () => {
  const view = planView(file.backup, file.reading, planOf([{ kind: 'leave-out', path: `${nets}/group[2]` }]));
  expect(view.ledger.balances).toBe(true);
  expect(view.ledger.leftOut).toBe(1);
});

const names = ['mole', 'peak', 'front desk', 'coin'];
const dict = (pairs: readonly (readonly [string, string])[]) =>
  `<dict>${pairs.map(([key, value]) => `<key>${key}</key>${value.startsWith('<') ? value : `<string>${value}</string>`}`).join('')}</dict>`;
const net = (at: number) =>
  dict([
    ['device', `eth${at}`],
    ['address', `10.20.${at}.1`],
  ]);
const rule = (at: number, from: string) =>
  dict([
    ['network', names[at]!],
    ['source', dict([['network', from]])],
    ['target', dict([['network', names[(at + 1) % 4]!]])],
  ]);
const text = `<list>${dict([
  ['networks', dict(names.map((name, at) => [name, net(at)]))],
  ['rules', dict([0, 2, 1, 3, 2, 1].map((at, no) => [`${no}`, rule(at, no === 4 ? 'attic' : names[no % 4]!)]))],
  [
    'unit',
    dict([
      ['name', 'kq-list'],
      ['clock', 'Europe/Dublin'],
    ]),
  ],
])}</list>`;

test('records that are called by their captions, fields that come back under theirs, records that are only counted', () => {
  const { backup, reading } = opened(Buffer.from(text));
  const lists = reading.collections.map(({ records, key }) => [records.length, key]);
  expect(lists).toEqual([
    [4, { by: 'leaf', path: ['caption()'] }],
    [6, { by: 'position' }],
  ]);
  const [nets] = reading.collections;
  expect(nets!.records.map((node) => keyValue(backup.tree, nets!.key, node))).toEqual(names);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(
    names.map((name, at) => `${name} eth${at}`),
  );
  expect(reading.references).toHaveLength(17);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['attic']);
});

test('a record that is called by its caption goes with it', () => {
  const one = opened(Buffer.from(text));
  const path = '/list[1]/dict[1]/dict[1]/dict[3]';
  const left = Buffer.from(result(one, planOf([{ kind: 'leave-out', path }]))).toString('utf8');
  expect(left).toBe(text.replace(`<key>front desk</key>${net(2)}`, ''));
});
