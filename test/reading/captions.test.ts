import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { type Decision, planOf, planView } from '../../src/core/index.ts';
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
