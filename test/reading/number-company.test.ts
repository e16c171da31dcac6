import { describe, expect, test } from 'vitest';
import { linksOf } from './links.ts';

// Made up for the tests, common practice for the values: records of words unlike the fields that name them, counted from ten.

type Record = { readonly [field: string]: string };
const row = (tag: string, fields: Record) =>
  `<${tag}>${Object.entries(fields)
    .map(([name, value]) => `<${name}>${value}</${name}>`)
    .join('')}</${tag}>`;

/** Records of one kind, counted from ten. */
const list = (holder: string, tag: string, records: readonly Record[]) =>
  `<${holder}>${records.map((fields, at) => row(tag, { nr: `${at + 10}`, ...fields })).join('')}</${holder}>`;

const birds = ['gull', 'tern', 'coot', 'loon'];
const shores = list(
  'shores',
  'shore',
  birds.map((bird, at) => ({ bird, lies: `10.20.${at * 8}.1/24` })),
);
const crates = list(
  'crates',
  'crate',
  birds.map((bird, at) => ({ bird: `${bird}s`, colour: ['red', 'blue', 'green', 'white'][at]! })),
);
const towers = list('towers', 'tower', [{ high: 'oak-mast' }, { high: 'fir-mast' }]);

const read = (...lists: readonly string[]) => linksOf(`<quay>${lists.join('')}</quay>`);
const namesIn = (field: string, { names }: ReturnType<typeof linksOf>) =>
  names.filter((name) => new RegExp(`(^|[/ ])${field} `).test(name));

describe('what stands beside numbers', () => {
  test('addresses lie in the networks of the pools that leases are of, whatever pools are called', () => {
    const sloops = [2, 0, 3, 1].map((at, no) => ({
      first: `10.20.${at * 8}.100`,
      last: `10.20.${at * 8}.${150 + no}`,
    }));
    const links = read(
      shores,
      crates,
      towers,
      list('sloops', 'sloop', sloops),
      list(
        'leases',
        'lease',
        [0, 1, 2, 3, 1].map((at, no) => ({
          range_nr: `${at + 10}`,
          mac: `00:00:5e:00:53:2${no}`,
          ip: `10.20.${[2, 0, 3, 1][at]! * 8}.${20 + no}`,
        })),
      ),
    );
    expect(namesIn('range_nr', links)).toEqual([10, 11, 12, 13, 11].map((no) => `lease/range_nr ${no} -> sloop`));
  });

  test('a network that several records have an address in says nothing of any of them', () => {
    const ferries = [1, 2].map((no) => ({ bird: birds[no]!, leads: `10.20.${no}.254`, probes: `192.0.2.${no}` }));
    const hours = [
      { bird: 'early', opens: '07:00' },
      { bird: 'late', opens: '21:00' },
    ];
    const rules = [0, 1, 0, 1].map((at) => ({ act: 'pass', from: `192.0.2.${40 + at}`, when_nr: `${at + 10}` }));
    const links = read(
      crates,
      towers,
      list('ferries', 'ferry', ferries),
      list('tides', 'tide', hours),
      list('rules', 'rule', rules),
    );
    expect(namesIn('when_nr', links).filter((name) => name.endsWith('ferry'))).toEqual([]);
  });

  test('routes lead through records that have an address in the network that they name', () => {
    const ferries = [0, 2].map((at) => ({ bird: birds[at]!, shore_nr: `${at + 10}`, lies: `10.20.${at * 8}.254` }));
    const lamps = [0, 1].map((at) => ({ bird: `lamp-${at}`, shore_nr: '11', lies: `172.16.${at}.9` }));
    const links = read(
      shores,
      crates,
      towers,
      list('lamps', 'lamp', lamps),
      list('ferries', 'ferry', ferries),
      list(
        'courses',
        'course',
        [0, 1].map((at) => ({ to: `198.51.100.${at * 128}/25`, by_nr: `${at + 10}` })),
      ),
    );
    expect(namesIn('by_nr', links)).toEqual([10, 11].map((no) => `course/by_nr ${no} -> ferry`));
  });

  test('what is called as a part of records lists what they have: a prefix beside their number makes no route', () => {
    const ferries = [0, 2].map((at) => ({ bird: birds[at]!, shore_nr: `${at + 10}`, lies: `10.20.${at * 8}.254` }));
    const sloops = [0, 1].map((at) => ({ bird: `sloop-${at}`, sails: `${at + 4}m` }));
    const prefixes = [0, 1, 1].map((at, no) => ({ vessel_nr: `${at + 10}`, prefix: `10.40.${no}.0/24` }));
    const links = read(
      shores,
      crates,
      towers,
      list('ferries', 'ferry', ferries),
      list('sloops', 'sloop', sloops),
      `<sloop-lots>${prefixes.map((fields) => row('one', fields)).join('')}</sloop-lots>`,
    );
    expect(namesIn('vessel_nr', links)).toEqual([10, 11, 11].map((no) => `one/vessel_nr ${no} -> sloop`));
  });

  test('beside ports the number of a service is none, however few of them are named', () => {
    const line = (path: string, value: string) => `<p k="${path}">${value}</p>`;
    const records = (kind: string, all: readonly Record[]) =>
      all
        .flatMap((fields, at) => Object.entries(fields).map(([of, is]) => line(`${kind}.${at + 1}.${of}`, is)))
        .join('');
    const links = read(
      records(
        'shore',
        birds.map((bird, at) => ({ bird, lies: `10.20.${at}.1` })),
      ),
      records('door', [
        { bird: 'web', 'has.1': '443', 'has.2': '8443' },
        { bird: 'lens', 'has.1': '554', 'has.2': '8554' },
      ]),
      records(
        'rule',
        ['1', '1', '443', '1', '22', '1', '9100'].map((sort) => ({ act: 'pass', sort })),
      ),
    );
    expect(namesIn('sort', links)).toHaveLength(4);
  });
});

test('items are called as the list around them, where that is called as numbers of records are', () => {
  const set = (of: string, numbers: readonly (number | string)[]) =>
    numbers.length === 1
      ? `<set of="${of}" is="${numbers[0]}"/>`
      : `<set of="${of}">${numbers.map((no) => `<one>${no}</one>`).join('')}</set>`;
  const thing = (kind: string, at: number, ...sets: readonly string[]) =>
    `<thing kind="${kind}">${set('nr', [at + 10])}${sets.join('')}</thing>`;
  const things = (kind: string, birds: readonly string[], ...sets: ((at: number) => string)[]) =>
    birds.map((bird, at) => thing(kind, at, set('bird', [bird]), ...sets.map((made) => made(at)))).join('');
  const crews = [[10, 14], [12], [15, 13]];
  const from = [[13, 10], [11], [12, 13]];
  const links = read(
    things('shore', birds, (at) => set('lies', [`10.20.${at * 8}.1`])),
    things('sailor', [...birds, 'skua', 'auk'], (at) => set('eats', ['cod', 'ling'].slice(0, (at % 2) + 1))),
    things('crew', birds.slice(1), (at) => set('hand_nr', crews[at]!)),
    things(
      'rule',
      birds.slice(1),
      (at) => set('coast_nr', from[at]!),
      (at) => set('ports', [443, 8443 + at, 993]),
    ),
  );
  expect(namesIn('one', links)).toEqual(
    [10, 14, 15, 13, 13, 10, 12, 13].map((no) => expect.stringContaining(`one ${no} -> thing`)),
  );
});

test('the only record of a kind has a number, too, where fields are called as numbers of records are', () => {
  const table = (kind: string, records: readonly Record[]) =>
    `<table of="${kind}">${records
      .map((fields, at) => {
        const cells = Object.entries({ nr: `${at + 10}`, ...fields }).map(
          ([of, is]) => `<cell of="${of}">${is}</cell>`,
        );
        return `<line>${cells.join('')}</line>`;
      })
      .join('')}</table>`;
  const links = read(
    table(
      'shore',
      birds.map((bird, at) => ({ bird, lies: `10.20.${at * 8}.1` })),
    ),
    table(
      'crate',
      birds.map((bird) => ({ bird: `${bird}s`, colour: 'red' })),
    ),
    table('hours', [{ bird: 'owl', from: '22:00', until: '05:00' }]),
    table(
      'rule',
      [0, 3, 1, 2, 0].map((at) => ({ coast_nr: `${at + 10}`, box_nr: `${13 - at}`, when_nr: '10' })),
    ),
  );
  expect(namesIn('when_nr', links)).toHaveLength(5);
});
