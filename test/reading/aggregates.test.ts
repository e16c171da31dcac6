import { expect, test } from 'vitest';
import { readMeaning } from '../../src/core/index.ts';
import { readXml } from '../../src/core/xml/read.ts';

// Common practice, no source: ports of an expansion card are called in another way than those of the board.
const box = (bundle: string) =>
  `<box><nets>${[
    ['uplink', 'eno1', '203.0.113.10'],
    ['office', 'eno2', '10.20.0.1'],
    ['berths', 'eno3', '10.20.4.1'],
    ['cameras', 'team0', '10.20.8.1'],
  ]
    .map(([name, port, address]) => `<net><name>${name}</name><port>${port}</port><ip>${address}</ip></net>`)
    .join('')}</nets><bundles><bundle>${bundle}</bundle></bundles><rules>${['uplink', 'office', 'berths', 'cameras']
    .map((name, at) => `<rule><no>${at}</no><net>${name}</net><does>pass</does></rule>`)
    .join('')}</rules></box>`;

test.each([
  ['repeated elements', '<name>team0</name><of>1/0/1</of><of>1/0/2</of><way>lacp</way>', ['1/0/1', '1/0/2']],
  ['one text', '<name>team0</name><of>P1 P2</of><way>lacp</way>', ['P1', 'P2']],
  ['one text with commas', '<name>team0</name><of>P1,P2,P3</of><way>lacp</way>', ['P1', 'P2', 'P3']],
  ['words, which are no ports', '<name>team0</name><of>fast slow</of><way>lacp</way>', []],
  ['numbers of two kinds', '<name>team0</name><of>P1 week2</of><way>lacp</way>', []],
])('members of an aggregate are ports, whatever they are called: %s', (_, bundle, members) => {
  const read = readXml(box(bundle));
  if (!read.ok) throw new Error(read.trouble.code);
  const { ports, mentions } = readMeaning(read.value);
  const board = ['eno1', 'eno2', 'eno3', 'team0'];
  expect(ports.map(({ name }) => name).sort()).toEqual([...board, ...members].sort());
  for (const member of members) expect(mentions.filter(({ value }) => value === member)).toHaveLength(1);
});

test('ports that have a record are no aggregates for that: what lists its parts in the same list is one', () => {
  const ports = ['qa0', 'qa1', 'qa2', 'qa3', 'qa4']
    .map((name, at) => `<${name}><mac>00:00:5e:00:53:0${at}</mac><rate>1000</rate></${name}>`)
    .join('');
  const nets = [
    ['uplink', 'qa0', '203.0.113.10'],
    ['office', 'qa1', '10.20.0.1'],
    ['berths', 'qa2.30', '10.20.4.1'],
    ['cameras', 'pair1', '10.20.8.1'],
  ]
    .map(([name, port, ip]) => `<${name}><on>${port}</on><ip>${ip}</ip></${name}>`)
    .join('');
  const made = '<qa2.30><under>qa2</under><tag>30</tag></qa2.30><pair1><parts>qa3,qa4</parts><rate>2000</rate></pair1>';
  const rules = ['uplink', 'office', 'berths', 'cameras']
    .map((name, at) => `<rule><no>${at}</no><net>${name}</net><does>pass</does></rule>`)
    .join('');
  const read = readXml(`<box><ports>${ports}${made}</ports><nets>${nets}</nets><rules>${rules}</rules></box>`);
  if (!read.ok) throw new Error(read.trouble.code);
  const kinds = readMeaning(read.value).ports.map(({ name, kind }) => `${name} ${kind}`);
  expect(kinds).toEqual([
    ...['qa0', 'qa1', 'qa2', 'qa3', 'qa4'].map((name) => `${name} physical`),
    'pair1 aggregate',
    'qa2.30 tagged',
  ]);
});
