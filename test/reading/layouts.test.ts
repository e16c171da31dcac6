import { expect, test } from 'vitest';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

/** References of a document, as the places that they stand at and the records that they name. */
function links(text: string): string[] {
  const { backup, reading } = open(text);
  return reading.references
    .filter(({ tier }) => tier !== 'possible')
    .map(({ site, value, to }) => `${sitePath(backup.tree, site)} ${value} ${pathOf(backup.tree, to)}`);
}

const people = ['gull', 'tern', 'skua', 'plover'];
const crews: readonly (readonly [name: string, member: string])[] = [
  ['desk', 'tern'],
  ['dock', 'skua'],
  ['pier', 'gull'],
  ['yard', 'plover'],
];

test('elements that lie in each other and are called by an attribute: parts of the structure, and records with a key', () => {
  const user = (name: string) =>
    `<p n="${name}"><p n="mail" v="${name}@kestrelquay.example"/><p n="desk" v="10.20.1.${name.length}"/></p>`;
  const crew = ([name, member]: (typeof crews)[number]) =>
    `<p n="${name}"><p n="head" v="${member}"/><p n="text" v="Crew of the ${name}"/></p>`;
  const text = `<store><p n="staff"><p n="users">${people.map(user).join('')}</p><p n="crews">${crews.map(crew).join('')}</p></p></store>`;
  const { reading, backup } = open(text);
  const lists = reading.collections.map(({ parent, records, key }) => [
    pathOf(backup.tree, parent),
    records.length,
    key,
  ]);
  expect(lists).toEqual(
    expect.arrayContaining([
      ['/store[1]/p[1]/p[1]', 4, { by: 'attribute', name: 'n' }],
      ['/store[1]/p[1]/p[2]', 4, { by: 'attribute', name: 'n' }],
    ]),
  );
  expect(links(text)).toEqual(
    crews.map(
      ([, member], at) =>
        `/store[1]/p[1]/p[2]/p[${at + 1}]/p[1]/@v ${member} /store[1]/p[1]/p[1]/p[${people.indexOf(member) + 1}]`,
    ),
  );
});

// Common practice, no source: dumps of databases write a table's schema in front of its rows.
test('tables whose schema stands in front, and whose rows lie in an element of their own', () => {
  const table = (name: string, columns: readonly string[], rows: readonly (readonly (string | number)[])[]) =>
    `<table name="${name}"><schema>${columns.map((column) => `<column name="${column}" type="text"/>`).join('')}</schema><data>${rows
      .map((row) => `<tuple>${row.map((cell) => (cell === '' ? '<null/>' : `<v>${cell}</v>`)).join('')}</tuple>`)
      .join('')}</data></table>`;
  const text = `<dump>${[
    table(
      'user_account',
      ['user_id', 'login', 'mail'],
      people.map((name, at) => [at + 11, name, at === 2 ? '' : `${name}@kestrelquay.example`]),
    ),
    table(
      'crew',
      ['crew_id', 'title', 'user_id'],
      crews.map(([name, member], at) => [at + 21, name, people.indexOf(member) + 11]),
    ),
    table(
      'setting',
      ['name', 'value'],
      [
        ['host', 'quay'],
        ['page', '8443'],
      ],
    ),
  ].join('')}</dump>`;
  expect(links(text)).toEqual(
    crews.map(([, member], at) => {
      const to = people.indexOf(member);
      return `/dump[1]/table[2]/data[1]/tuple[${at + 1}]/v[3] ${to + 11} /dump[1]/table[1]/data[1]/tuple[${to + 1}]`;
    }),
  );
});

test('tables whose header names the columns by an attribute, and whose cells are called by their type', () => {
  const head = (...names: string[]) => `<head>${names.map((name) => `<column name="${name}"/>`).join('')}</head>`;
  const text = `<dump><table name="user">${head('user_id', 'name', 'mail')}${people
    .map((name, at) => `<row><int>${at + 11}</int><text>${name}</text><text>${name}@kestrelquay.example</text></row>`)
    .join('')}</table><table name="crew">${head('crew_id', 'title', 'user_id')}${crews
    .map(
      ([name, member], at) =>
        `<row><int>${at + 21}</int><text>${name}</text><int>${people.indexOf(member) + 11}</int></row>`,
    )
    .join('')}</table></dump>`;
  expect(links(text)).toEqual(
    crews.map(([, member], at) => {
      const to = people.indexOf(member);
      return `/dump[1]/table[2]/row[${at + 1}]/int[2] ${to + 11} /dump[1]/table[1]/row[${to + 1}]`;
    }),
  );
});

test('indices in brackets are parts of a dotted key', () => {
  const names = Array.from({ length: 12 }, (_, at) => `${people[at % 4]}-${'abc'[at >> 2]}`);
  const lines = [
    ...names.flatMap((name, at) => [
      [`users[${at}].name`, name],
      [`users[${at}].mail`, `${name}@kestrelquay.example`],
    ]),
    ...names.flatMap((_, at) => [
      [`crews[${at}].title`, `crew${at}`],
      [`crews[${at}].head`, names[(at * 5) % 12]!],
    ]),
    ['page.port', '8443'],
    ['page.title', 'Gate'],
  ];
  const text = `<settings>${lines.map(([key, value]) => `<set key="${key}" to="${value}"/>`).join('')}</settings>`;
  expect(links(text)).toEqual(
    names.map((_, at) => {
      const to = (at * 5) % 12;
      return `/settings[1]/set[${24 + 2 * at + 2}]/@to ${names[to]} /settings[1]/set[${2 * to + 1}]`;
    }),
  );
});

test.each([
  ['', (name: string) => `[${name}]`],
  ['with what they are', (name: string) => `[@name='${name}']`],
])('names in brackets are parts of a path, marks in them, too %s', (_, named) => {
  const names = Array.from({ length: 12 }, (_, at) => `${people[at % 4]}/${'abc'[at >> 2]}`);
  const lines = [
    ...names.flatMap((name) => [
      [`/users/user${named(name)}/mail`, `${name[0]}@kestrelquay.example`],
      [`/users/user${named(name)}/desk`, '3'],
    ]),
    ...names.map((_, at) => [`/crews/crew${named(`c${at}`)}/head`, names[(at * 5) % 12]!]),
  ];
  const text = `<settings>${lines.map(([key, value]) => `<set key="${key}" to="${value}"/>`).join('')}</settings>`;
  expect(links(text)).toEqual(
    names.map((_, at) => {
      const to = (at * 5) % 12;
      return `/settings[1]/set[${24 + at + 1}]/@to ${names[to]} /settings[1]/set[${2 * to + 1}]`;
    }),
  );
});

test('names behind a mark, as fragments are written: none of them is a key by itself', () => {
  const text = `<box>${people
    .map((name, at) => `<user id="${name}"><mail>${name}@kestrelquay.example</mail><desk>${at}</desk></user>`)
    .join('')}${people
    .map((name) => `<pass id="pass-${name}"><of ref="#${name}"/><till>2027-0${name.length}-01</till></pass>`)
    .join('')}${crews
    .map(([name, member]) => `<crew id="${name}"><head ref="#${member}"/><key ref="#pass-${member}"/></crew>`)
    .join('')}</box>`;
  expect(links(text)).toEqual([
    ...people.map((name, at) => `/box[1]/pass[${at + 1}]/of[1]/@ref ${name} /box[1]/user[${at + 1}]`),
    ...crews.flatMap(([, member], at) => [
      `/box[1]/crew[${at + 1}]/head[1]/@ref ${member} /box[1]/user[${people.indexOf(member) + 1}]`,
    ]),
    ...crews.flatMap(([, member], at) => [
      `/box[1]/crew[${at + 1}]/key[1]/@ref pass-${member} /box[1]/pass[${people.indexOf(member) + 1}]`,
    ]),
  ]);
});

/** Two tables as lists of rows, and the references of the second to the first as `links` gives them. */
const rows = {
  users: people.map((name, at) => [name, `10.20.0.${at + 5}`, `${at + 1000}`]),
  crews: crews.map(([name, member], at) => [name, member, `00:00:5e:00:53:0${at}`]),
};

test.each<[title: string, head: readonly string[][] | null, cell: (at: number) => string]>([
  [
    'a first row that names the columns',
    [
      ['Login', 'Address', 'Number'],
      ['Crew', 'Head', 'Badge'],
    ],
    () => 'cell',
  ],
  [
    'a first row that names columns of letters',
    [
      ['Login', 'Address', 'Number'],
      ['Crew', 'Login', 'Badge'],
    ],
    (at) => 'ABC'[at]!,
  ],
  ['cells that their place alone tells apart', null, () => 'cell'],
  ['columns that only count', null, (at) => `c${at + 1}`],
])('tables of one name: %s', (_, head, cell) => {
  const row = (cells: readonly string[]) =>
    `<row>${cells.map((text, at) => `<${cell(at)}>${text}</${cell(at)}>`).join('')}</row>`;
  const sheet = (title: string, at: number, list: readonly string[][]) =>
    `<sheet title="${title}">${[...(head ? [head[at]!] : []), ...list].map(row).join('')}</sheet>`;
  const text = `<book>${sheet('staff', 0, rows.users)}${sheet('shifts', 1, rows.crews)}</book>`;
  const first = head ? 2 : 1;
  const index = cell(0) === cell(1) ? 2 : 1;
  expect(links(text)).toEqual(
    crews.map(
      ([, member], at) =>
        `/book[1]/sheet[2]/row[${at + first}]/${cell(1)}[${index}] ${member} /book[1]/sheet[1]/row[${people.indexOf(member) + first}]`,
    ),
  );
});

test('records of one kind that hold lists of other things are no tables of their own', () => {
  const group = ([name, member]: (typeof crews)[number], at: number) =>
    `<group name="${name}">${[0, 1].map((no) => `<entry><value>${at % 2 ? `10.20.${at}.${no}` : member}</value></entry>`).join('')}</group>`;
  const uses = crews.map(([name]) => `<rule><from>${name}</from><nr>${name.length}</nr></rule>`).join('');
  const { reading } = open(`<book>${crews.map(group).join('')}<rules>${uses}</rules></book>`);
  expect(reading.collections.filter(({ item }) => item === 'group').map(({ records }) => records.length)).toEqual([4]);
});

test('pairs of a name and a value that lie in each other: parts of the structure, records, items of a list', () => {
  const pair = (name: string, value: string) => `<item><name>${name}</name><value>${value}</value></item>`;
  const users = people.map((name) => pair(name, pair('mail', `${name}@kestrelquay.example`) + pair('desk', '3')));
  const teams = crews.map(([name, member]) =>
    pair(name, pair('text', `Crew of the ${name}`) + pair('heads', pair('0', member) + pair('1', people[0]!))),
  );
  const text = `<store>${pair('staff', pair('users', users.join('')) + pair('crews', teams.join('')))}</store>`;
  const value = '/store[1]/item[1]/value[1]';
  expect(links(text)).toEqual(
    crews.flatMap(([, member], at) =>
      [member, people[0]!].map(
        (name, no) =>
          `${value}/item[2]/value[1]/item[${at + 1}]/value[1]/item[2]/value[1]/item[${no + 1}]/value[1] ${name} ${value}/item[1]/value[1]/item[${people.indexOf(name) + 1}]`,
      ),
    ),
  );
});

test('an element that is called by a variable of a driver is bound to the box', () => {
  const part = (name: string, value: string) => `<p n="${name}" v="${value}"/>`;
  const users = people.map((name) => `<p n="${name}">${part('desk', '3')}${part('text', 'On the pier')}</p>`).join('');
  const text = `<store><p n="tunables">${part('dev.igb.0.fc', '0')}${part('net.local.name', 'x')}</p><p n="users">${users}</p></store>`;
  const { backup, reading } = open(text);
  expect(reading.boxBound.map(({ node }) => pathOf(backup.tree, node))).toEqual(['/store[1]/p[1]/p[1]']);
});

test.each<[title: string, head: (kind: string, name: string) => string, before: (kind: string) => string]>([
  [
    'told apart by a leaf in their head',
    (kind, name) => `<head><kind>${kind}</kind><called>${name}</called></head>`,
    () => '',
  ],
  ['told apart by an attribute of it', (kind, name) => `<head kind="${kind}" called="${name}"/>`, () => ''],
  [
    'whose names are named with their kind',
    (kind, name) => `<head><kind>${kind}</kind><called>${name}</called></head>`,
    (kind) => `${kind}:`,
  ],
])('things of one name, %s', (_, head, before) => {
  const thing = (kind: string, name: string, ...body: [key: string, value: string][]) =>
    `<thing>${head(kind, name)}<body>${body.map(([key, value]) => `<prop key="${key}">${value}</prop>`).join('')}</body></thing>`;
  const spans = ['dawn', 'dusk'];
  const things = [
    ...people.map((name) => thing('user', name, ['mail', `${name}@kestrelquay.example`], ['desk', '3'])),
    ...spans.map((name, at) => thing('span', name, ['from', `0${at + 5}:00`], ['till', `1${at + 5}:00`])),
    ...crews.map(([name, member], at) =>
      thing(
        'crew',
        name,
        ['head', before('user') + member],
        ['span', before('span') + (at === 1 ? 'noon' : 'dusk')],
        ['text', 'On the pier'],
      ),
    ),
  ];
  const text = `<stock>${things.join('')}</stock>`;
  const body = (at: number, no: number) => `/stock[1]/thing[${at + 1}]/body[1]/prop[${no}]`;
  expect(links(text)).toEqual(
    [1, 2].flatMap((no) =>
      crews.flatMap(([, member], at) => {
        const name = no === 1 ? member : at === 1 ? null : 'dusk';
        return name === null
          ? []
          : [
              `${body(at + 6, no)} ${name} /stock[1]/thing[${no === 1 ? people.indexOf(name) + 1 : 5 + spans.indexOf(name)}]`,
            ];
      }),
    ),
  );
  expect(open(text).reading.dangling.map(({ value }) => value)).toEqual(['noon']);
});

test('elements whose tags are types, called by an attribute: JSON as XPath functions 3.1 writes it', () => {
  const string = (key: string | null, text: string) => `<string${key ? ` key="${key}"` : ''}>${text}</string>`;
  const users = people.map(
    (name) => `<map key="${name}"><map key="at"><number key="desk">3</number>${string('mail', 'x')}</map></map>`,
  );
  const lists = crews.map(
    ([name, member], at) =>
      `<array key="${name}">${[...new Set([member, people[at]!])].map((one) => string(null, one)).join('')}</array>`,
  );
  const shifts = crews.map(([name], at) => `<map>${string('crew', name)}<number key="from">${at + 5}</number></map>`);
  const text = `<map><map key="users">${users.join('')}</map><map key="crews">${lists.join('')}</map><array key="shifts">${shifts.join('')}</array></map>`;
  expect(links(text)).toEqual(
    expect.arrayContaining([
      ...crews.map(([name], at) => `/map[1]/array[1]/map[${at + 1}]/string[1] ${name} /map[1]/map[2]/array[${at + 1}]`),
      ...crews.map(
        ([, member], at) =>
          `/map[1]/map[2]/array[${at + 1}]/string[1] ${member} /map[1]/map[1]/map[${people.indexOf(member) + 1}]`,
      ),
    ]),
  );
});

test('rules counted by tens are named by their numbers', () => {
  const rules = Array.from(
    { length: 12 },
    (_, at) => `<rule nr="${at * 10 + 10}"><verdict>${at % 3 ? 'pass' : 'drop'}</verdict><say>${at}</say></rule>`,
  );
  const maps = [40, 10, 120, 70].map((rule, at) => `<map><port>${8000 + at}</port><rule>${rule}</rule></map>`);
  expect(links(`<box><rules>${rules.join('')}</rules><maps>${maps.join('')}</maps></box>`)).toEqual(
    [40, 10, 120, 70].map(
      (rule, at) => `/box[1]/maps[1]/map[${at + 1}]/rule[1] ${rule} /box[1]/rules[1]/rule[${rule / 10}]`,
    ),
  );
});

// Forms of names of ports: common practice, no source; slot and socket as RFC 8343, appendix A, numbers them.
test.each([
  ['slot and socket', (at: number) => `${1 + (at >> 1)}/${1 + (at & 1)}`],
  ['a colon between', (at: number) => `${1 + (at >> 1)}:${1 + (at & 1)}`],
  ['a letter and a dash', (at: number) => `p${1 + (at >> 1)}-${1 + (at & 1)}`],
  ['a word', (at: number) => `jack ${at + 1}`],
])('ports beside a VLAN ID, named by %s', (_, port) => {
  const zones = people.map(
    (name, at) =>
      `<zone name="${name}"><jack>${port(at)}</jack><vlan>${at % 2 ? 300 + 37 * at : ''}</vlan><ip>10.20.${at}.1</ip></zone>`,
  );
  const rules = [0, 2, 1, 3, 0].map((at) => `<rule><zone>${people[at]}</zone><verdict>pass</verdict></rule>`);
  const { reading } = open(`<box><zones>${zones.join('')}</zones><rules>${rules.join('')}</rules></box>`);
  expect(reading.bindings.map(({ role, port: on }) => [role, on])).toEqual(people.map((name, at) => [name, port(at)]));
});

/** A dump of tables whose header names the columns, whose cells are called by their type, and whose numbers join them. */
function dump(
  tables: Record<string, readonly [head: readonly string[], rows: readonly (readonly string[])[]]>,
): string {
  const cell = (text: string) =>
    text === '' ? '<null/>' : /^\d+$/.test(text) ? `<int>${text}</int>` : `<text>${text}</text>`;
  const table = (name: string, head: readonly string[], list: readonly (readonly string[])[]) =>
    `<table name="${name}"><head>${head.map((one) => `<column name="${one}"/>`).join('')}</head>${list
      .map((cells) => `<row>${cells.map(cell).join('')}</row>`)
      .join('')}</table>`;
  return `<dump>${Object.entries(tables)
    .map(([name, [head, list]]) => table(name, head, list))
    .join('')}</dump>`;
}

const joined = dump({
  port: [['port_id', 'device', 'remark'], ['em0', 'em1', 'em2'].map((device, at) => [`${at + 1}`, device, 'rack'])],
  lane: [['lane_id', 'port_id', 'tag'], [310, 325].map((tag, at) => [`${at + 1}`, '3', `${tag}`])],
  zone: [
    ['zone_id', 'name', 'port_id', 'lane_id', 'address'],
    [
      ['1', 'sea', '1', '', '203.0.113.2'],
      ['2', 'desk', '2', '', '10.20.2.1'],
      ['3', 'tills', '', '1', '10.20.3.1'],
      ['4', 'guests', '', '2', '10.20.4.1'],
    ],
  ],
  host_set: [['host_set_id', 'title'], people.map((name, at) => [`${at + 1}`, name])],
  host_set_member: [['host_set_id', 'ip'], [1, 1, 2, 3, 4, 4].map((set, at) => [`${set}`, `10.20.4.${at + 20}`])],
  rule: [
    ['rule_id', 'zone_id', 'set_id', 'verdict'],
    [1, 2, 3, 4, 2, 7, 1, 3].map((zone, at) => [`${at + 1}`, `${zone}`, `${(at % 4) + 1}`, 'pass']),
  ],
});

test('tagged devices that no value names have the name that the operating system gives', () => {
  const { reading } = open(joined);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'sea em0',
    'desk em1',
    'tills em2.310',
    'guests em2.325',
  ]);
  expect(
    reading.tagging.flatMap(({ records }) => records.map(({ device, parent, tag }) => [device, parent, tag])),
  ).toEqual([
    ['em2.310', 'em2', 310],
    ['em2.325', 'em2', 325],
  ]);
});

test('a number that is no record of the kind that its field names is gone, also where other records have it', () => {
  expect(open(joined).reading.dangling.map(({ value }) => value)).toEqual(['7']);
});

test('the number of a record itself names no other, also where a table that joins two has it', () => {
  const own = links(joined).filter((one) => /\/(?:table\[4\])\/row\[\d\]\/int\[1\] /.test(one));
  expect(own).toEqual([]);
  expect(links(joined)).toEqual(
    expect.arrayContaining(
      [1, 1, 2, 3, 4, 4].map(
        (set, at) => `/dump[1]/table[5]/row[${at + 1}]/int[1] ${set} /dump[1]/table[4]/row[${set}]`,
      ),
    ),
  );
});

test('the first of plain records is no header, whatever it holds', () => {
  const berth = (name: string, depth: string) => `<b><name>${name}</name><depth>${depth}</depth></b>`;
  const list = [berth('slip', 'shallow'), ...people.map((name, at) => berth(name, `${at + 2}.5`))];
  const { reading } = open(`<quay>${list.join('')}<at>slip</at><by>tern</by></quay>`);
  expect(reading.values.headers.size).toBe(0);
  expect(reading.collections.map(({ records }) => records.length)).toContain(list.length);
});

test('cells called by an attribute, where one row has lists that count their items', () => {
  const proofs = ['Admin page', 'Remote access', 'Access points'].map(
    (title, at) => `<proof><is n="title" v="${title}"/><is n="by" v="Quay root"/><is n="no" v="${at + 7}"/></proof>`,
  );
  const lists = ['zone', 'ignore', 'class'].flatMap((name) =>
    [1, 2, 3].map((no) => `<is n="${name}${no}" v="${name === 'zone' ? people[no] : no * 1000}"/>`),
  );
  const zones = people.map((name, at) => `<zone id="${name}" on="10.20.${at}.1"/>`);
  const text = `<box><proofs>${proofs.join('')}</proofs><watch>${lists.join('')}</watch>${zones.join('')}
    <page shows="Admin page" port="8443"/><tunnel shows="Remote access" port="1194"/></box>`;
  expect(links(text)).toEqual(
    expect.arrayContaining(['/box[1]/tunnel[1]/@shows Remote access /box[1]/proofs[1]/proof[2]']),
  );
});
