import { expect, test } from 'vitest';
import { areMadeOf } from '../../src/core/reading/names/words.ts';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

const row = (tag: string, cells: Record<string, string>) =>
  `<${tag}>${Object.entries(cells)
    .map(([name, value]) => `<${name}>${value}</${name}>`)
    .join('')}</${tag}>`;

/** Records of one kind, counted from 0. */
const list = (holder: string, tag: string, key: string, records: readonly Record<string, string>[]) =>
  `<${holder}>${records.map((cells, at) => row(tag, { [key]: `${at}`, ...cells })).join('')}</${holder}>`;

const named = (tag: string) => ['gull', 'tern', 'coot', 'loon'].map((name) => ({ name: `${name}-${tag}` }));

test('one word is made of the beginnings of several, perhaps without their vowels', () => {
  expect(areMadeOf(['ugrp'], ['user', 'group'])).toBe(true);
  expect(areMadeOf(['trusanc'], ['trust', 'anchor'])).toBe(true);
  expect(areMadeOf(['wert'], ['weiterleitung', 'tabelle'])).toBe(false);
  expect(areMadeOf(['ug'], ['user', 'group'])).toBe(false);
  expect(areMadeOf(['grp'], ['group'])).toBe(false);
});

test('kinds of record called by parts of words are named by the whole words', () => {
  const text = [
    ...['bcrw', 'mast', 'flag'].map((tag) => list(`${tag}s`, tag, 'ref_no', named(tag))),
    list(
      'trips',
      'trip',
      'ref_no',
      [3, 0, 3].map((no) => ({ boat_crew_ref_no: `${no}`, depth: '4' })),
    ),
  ];
  expect(linksOf(`<quay>${text.join('')}</quay>`).names).toEqual(
    [3, 0, 3].map((no) => expect.stringMatching(new RegExp(`boat_crew_ref_no ${no} -> bcrw`))),
  );
});

test('one ideograph is a word', () => {
  const text = [
    ...['舟', '網', '旗'].map((tag) => list(`${tag}一覧`, '行', '識別子', named(tag))),
    `<組>${[3, 1, 2].map((no, at) => row('列', { 舟識別子: `${no}`, 旗識別子: `${at}` })).join('')}</組>`,
  ];
  const { names } = linksOf(`<港>${text.join('')}</港>`);
  expect(names.filter((name) => name.includes('舟'))).toHaveLength(3);
  expect(names.filter((name) => name.includes('旗'))).toHaveLength(3);
});

test('what is called as the numbers of records are, less their ending, names the same', () => {
  const sets = [...named('a'), ...named('b')].map(({ name }, at) => ({
    name,
    ...(at > 5 ? { built_from_host: at === 6 ? '1' : '4' } : { ip: `10.20.0.${at}` }),
  }));
  const rules = [7, 1, 4, 2, 5].map((no) => ({ host_ref_no: `${no}`, mast_ref_no: `${no % 4}`, flag_ref_no: '1' }));
  const text = [
    list('asets', 'aset', 'ref_no', sets),
    list('masts', 'mast', 'ref_no', named('mast')),
    list('flags', 'flag', 'ref_no', named('flag')),
    list('rules', 'rule', 'ref_no', rules),
  ];
  const { names } = linksOf(`<quay>${text.join('')}</quay>`);
  expect(names.filter((name) => name.includes('built_from_host'))).toEqual([
    'aset/built_from_host 1 -> aset',
    'aset/built_from_host 4 -> aset',
  ]);
});

test('words that all names of numbers share before the last one belong to the ending', () => {
  const kinds = ['berth', 'mast', 'flag', 'rope', 'hull'];
  const line = (path: string, value: string) => `<p k="${path}">${value}</p>`;
  const records = kinds.flatMap((kind, of) =>
    ['gull', 'tern', 'coot', 'loon'].flatMap((boat, at) => [
      line(`${kind}.${at + 10}.name`, `${boat}${of}`),
      line(`${kind}.${at + 10}.ground`, `10.20.${of}.${at}`),
    ]),
  );
  const trips = [3, 1, 2, 2].flatMap((no, trip) =>
    kinds.map((kind, at) => line(`trip.${trip + 10}.${kind}.object.id`, `${10 + ((no + at) % 4)}`)),
  );
  const { reading } = open(`<quay>${[...records, ...trips].join('')}</quay>`);
  const sure = reading.references.filter(({ tier, value }) => tier !== 'possible' && /^1\d$/.test(value));
  expect(sure).toHaveLength(trips.length);
});

test('what stands instead of numbers says whose these are, though one record says both', () => {
  const rules = [
    '53',
    '0',
    '443',
    '1',
    '8554',
    '2',
    '80',
    '0',
    '631',
    '1',
    '9100',
    '2',
    '22',
    '1',
    '25',
    '0',
    '993',
    '2',
    '587',
    '1',
  ];
  const text = [
    list('crews', 'crew', 'ref_no', [{ name: 'ebb' }, { name: 'flood' }, { name: 'slack' }]),
    list('doors', 'door', 'ref_no', [
      { name: 'print', has: '631,9100' },
      { name: 'film', has: '554,8554' },
      { name: 'web', has: '80,443' },
    ]),
    list('masts', 'mast', 'ref_no', [{ name: 'fore' }, { name: 'main' }, { name: 'aft' }]),
    list(
      'rules',
      'rule',
      'ref_no',
      rules.map((value, at) => ({
        l4: 'tcp',
        ...(at % 2 ? { gate_ref_no: value } : { sort: value }),
        ...(at === 19 ? { sort: '8080' } : {}),
      })),
    ),
  ];
  const { names } = linksOf(`<quay>${text.join('')}</quay>`);
  expect(names.filter((name) => /gate_ref_no \d -> door$/.test(name))).toHaveLength(10);
});

test('a list of records called by numbers is no record, though a text has its name in it', () => {
  const records = [10, 11, 12, 13].flatMap((no) =>
    ['kestrel.links', 'quay.hosts', 'quay.crews', 'harbour.sets'].flatMap((path) => [
      `<p k="${path}.${no}.name">${path.slice(-5)}${no}</p>`,
      `<p k="${path}.${no}.note">site links</p>`,
    ]),
  );
  const { reading } = open(`<box>${records.join('')}</box>`);
  expect(reading.collections.map(({ list }) => list)).toContain('/box/kestrel/links/*');
});

test('networks go by numbers that nothing is called alike, where a field that is called as they are has only these', () => {
  const numbers = [716, 717, 718, 720, 721];
  const nets = numbers.map((no, at) => row('zone', { guid: `${no}`, ip: `10.20.${at}.1`, called: `Z${'abcde'[at]}` }));
  const rules = [...numbers, ...numbers].map((no, at) =>
    row('rule', { do: 'pass', zone: `${no}`, to: `192.0.2.${at}` }),
  );
  const exits = [716, 720].map((no, at) =>
    row('exit', { name: `gw${'ab'[at]}`, iface: `${no}`, ip: `192.0.2.${90 + at}` }),
  );
  const { names } = linksOf(
    `<box><zones>${nets.join('')}</zones><rules>${rules.join('')}</rules><exits>${exits.join('')}</exits></box>`,
  );
  expect(names.filter((name) => name.startsWith('exit/'))).toEqual([
    'exit/iface 716 -> zone',
    'exit/iface 720 -> zone',
  ]);
});

test('a list that is called as another and what it lists has the numbers of the other', () => {
  const kinds = ['zgr', 'vot', 'mil', 'dak'].map((kind) => list(`${kind}set`, 'r', 'no', named(kind)));
  const lists = [
    list(
      'zgrhost',
      'r',
      'at',
      [0, 1, 1, 2].map((no) => ({ crew_no: `${no}`, host: `192.0.2.${10 + no}` })),
    ),
    list(
      'milport',
      'r',
      'at',
      [0, 2, 2, 3].map((no) => ({ trade_no: `${no}`, port: `${8080 + no}` })),
    ),
  ];
  const { names } = linksOf(`<box>${kinds.join('')}${lists.join('')}</box>`);
  expect(names.filter((name) => name.includes('_no'))).toHaveLength(8);
});
