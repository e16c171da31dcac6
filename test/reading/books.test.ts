import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

// Common practice, no source: address books and headings, read off the documents by eye.

test('hosts, networks and groups of one book are named in one place, though each is named once', () => {
  const book = `<book>
    <host><name>till-a</name><ip>10.20.3.11</ip></host><host><name>till-b</name><ip>10.20.3.12</ip></host>
    <host><name>recorder</name><ip>10.20.4.5</ip></host>
    <network><name>bank</name><prefix>192.0.2.0/26</prefix></network>
    <group><name>tills</name><items><item>till-a</item><item>till-b</item></items></group>
    <group><name>guarded</name><items><item>tills</item><item>recorder</item><item>workshop</item></items></group></book>`;
  const rule = (to: string) => `<rule><to>${to}</to><do>pass</do></rule>`;
  const { names, gone } = linksOf(
    `<box>${book}<rules>${['bank', 'guarded', 'recorder'].map(rule).join('')}</rules></box>`,
  );
  expect(names.filter((name) => name.startsWith('rule'))).toEqual([
    'rule/to bank -> network',
    'rule/to guarded -> group',
    'rule/to recorder -> host',
  ]);
  expect(names.some((name) => name.endsWith('tills -> group'))).toBe(true);
  expect(gone).toEqual(['workshop']);
});

test('sets of a flat list are records where values name them behind a mark', () => {
  const lines = [
    ['addr.till_a.v', '10.20.3.11'],
    ['addr.till_b.v', '10.20.3.12'],
    ['addr.tills.v', '@till_a,@till_b'],
    ['addr.bank.v', '192.0.2.0/26,192.0.2.128/26'],
    ['addr.inside.v', '@tills,10.20.0.0/24'],
    ['addr.blocked.v', '198.51.100.66,@old_bar'],
    ['rule.010.from', '@tills'],
    ['rule.010.to', '@bank'],
    ['rule.010.do', 'pass'],
    ['rule.020.from', '@inside'],
    ['rule.020.to', '!@bank'],
    ['rule.020.do', 'pass'],
    ['rule.030.from', '@blocked'],
    ['rule.030.do', 'drop'],
    ...['mboyle', 'desk', 'watch'].flatMap((name) => [
      [`user.${name}.may`, 'read'],
      [`user.${name}.shell`, 'no'],
    ]),
  ];
  const text = `<list>${lines.map(([key, value]) => `<set name="${key}">${value}</set>`).join('')}</list>`;
  const { reading } = open(text);
  expect(reading.references.map(({ value }) => value).sort()).toEqual(
    ['bank', 'bank', 'blocked', 'inside', 'till_a', 'till_b', 'tills', 'tills'].sort(),
  );
  expect(reading.dangling.map(({ value }) => value)).toEqual(['old_bar']);
});

test('cells may be called by headings of some words', () => {
  const node = (at: string, cells: readonly (readonly [string, string])[]) =>
    `<node no="${at}">${cells.map(([title, text], n) => `<par no="${n + 1}" title="${title}">${text}</par>`).join('')}</node>`;
  const names = ['uplink', 'office', 'cards'];
  const nets = names.map((name, at) =>
    node(`1.${at + 1}`, [
      ['Name', name],
      ['Attached to', `em${at}`],
      ['IP address', `10.20.${at}.1`],
    ]),
  );
  const rules = ['office', 'cards', 'office', 'uplink'].map((name, at) =>
    node(`2.${at + 1}`, [
      ['Arrives on', name],
      ['What to do', 'pass'],
    ]),
  );
  const { reading } = open(
    `<box><branch title="Networks">${nets.join('')}</branch><branch title="Filter rules">${rules.join('')}</branch></box>`,
  );
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'uplink em0',
    'office em1',
    'cards em2',
  ]);
  expect(reading.references.map(({ value }) => value)).toEqual(['office', 'cards', 'office', 'uplink']);
});
