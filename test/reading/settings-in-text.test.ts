import { describe, expect, test } from 'vitest';
import { build, type Decision, type Plan, planOf, planView } from '../../src/core/index.ts';
import { recordName } from '../../src/core/reading/keys/record-name.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { type Site, valueAt } from '../../src/core/xml/site.ts';
import { type File, open } from '../carry/files.ts';

const zones = [
  ['office', 'eth1', '10.20.1.1/24'],
  ['guests', 'eth2.30', '10.20.2.1/24'],
  ['quay', 'eth2.40', '10.20.3.1/24'],
  ['sea', 'eth0', '192.0.2.10/28'],
] as const;
const hosts = [
  ['till', '10.20.1.20'],
  ['crane', '10.20.3.9'],
  ['gate', '10.20.3.7'],
] as const;
const rules = [
  ['office', 'office', 'till'],
  ['guests', 'guests', 'gate'],
  ['quay', 'crane', 'sea'],
  ['office', 'any', 'gone'],
  ['sea', 'office', 'crane'],
  ['quay', 'quay', 'till'],
] as const;

type Fields = readonly (readonly [name: string, value: string])[];

/** A box whose records are texts: `write` makes one of its kind and its fields. */
function box(write: (kind: string, fields: Fields) => string): string {
  const list = (kind: string, all: readonly Fields[]) =>
    `<${kind}s>${all.map((fields) => write(kind, fields)).join('')}</${kind}s>`;
  return `<box>${[
    list(
      'zone',
      zones.map(([name, port, address]) => [
        ['zone', name],
        ['port', port],
        ['address', address],
      ]),
    ),
    list(
      'vlan',
      [30, 40].map((tag) => [
        ['vlan', `${tag}`],
        ['on', 'eth2'],
      ]),
    ),
    list(
      'host',
      hosts.map(([name, address]) => [
        ['host', name],
        ['at', address],
      ]),
    ),
    list(
      'rule',
      rules.map(([zone, from, to], at) => [
        ['rule', `${at * 10 + 10}`],
        ['zone', zone],
        ['from', from],
        ['to', to],
      ]),
    ),
    list('person', [
      [
        ['person', 'gull'],
        ['passphrase', 'bollard-seven'],
      ],
      [
        ['person', 'tern'],
        ['passphrase', 'halyard-nine'],
      ],
    ]),
  ].join('')}</box>`;
}

const joined = (fields: Fields, between: string, mark: string) =>
  fields.map(([name, value]) => `${name}${mark}${value}`).join(between);

const rows = (between: string) =>
  box((kind, fields) => `<${kind}>${fields.map(([, value]) => value).join(between)}</${kind}>`);
const heads: Record<string, string> = {
  zone: 'zone|port|address',
  vlan: 'vlan|on',
  host: 'host|at',
  rule: 'rule|zone|from|to',
  person: 'person|passphrase',
};

const manners: readonly (readonly [title: string, text: string])[] = [
  ['words of a command', box((_, fields) => `<line>${joined(fields, ' ', ' ')}</line>`)],
  ['pairs with blanks between', box((kind, fields) => `<${kind}>${joined(fields, ' ', '=')}</${kind}>`)],
  ['pairs with semicolons between', box((kind, fields) => `<${kind}>${joined(fields, '; ', '=')}</${kind}>`)],
  ['pairs in lines', box((kind, fields) => `<${kind}>\n${joined(fields, '\n', ' = ')}\n</${kind}>`)],
  ['pairs in lines, with colons', box((kind, fields) => `<${kind}>\n${joined(fields, '\n', ': ')}\n</${kind}>`)],
  [
    'pairs in lines of CDATA',
    box((kind, fields) => `<${kind}><![CDATA[\n${joined(fields, '\n', ' = ')}\n]]></${kind}>`),
  ],
  [
    'objects of JSON (RFC 8259)',
    box((kind, fields) => `<${kind}>\n ${JSON.stringify(Object.fromEntries(fields), null, 1)}\n</${kind}>`),
  ],
  ['rows of cells', rows('|')],
  ['rows of cells, blanks around them', rows(' ; ')],
  [
    'rows of cells with names above',
    rows('|').replace(/<(\w+)s>(?=<\1>)/g, (all, kind) => `${all}<${kind}>${heads[kind]}</${kind}>`),
  ],
  ['pairs in an attribute', box((kind, fields) => `<${kind} set="${joined(fields, ' ', '=')}"/>`)],
  ['words in an attribute', box((_, fields) => `<line text="${joined(fields, ' ', ' ')}"/>`)],
];

/** The same box in elements of their own. */
const plain = open(
  box((kind, fields) => `<${kind}>${fields.map(([name, value]) => `<${name}>${value}</${name}>`).join('')}</${kind}>`),
);

/** What names what: the record, by its place in the file, the name, and the record that has it. */
const named = ({ reading }: File) => {
  const list = reading.collections.flatMap(({ records: all }) => all).sort((a, b) => a - b);
  const at = (node: number) => list.findLastIndex((record) => record <= node);
  return reading.references.map(({ site, value, to }) => `${at(site.node)} ${value} ${at(to)}`).sort();
};

function result({ backup, reading }: File, plan: Plan): string {
  const built = build(backup, reading, plan);
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return new TextDecoder().decode(built.value.bytes);
}

const records = ({ reading, backup }: File, kind: string) =>
  reading.collections.find(({ parent }) => pathOf(backup.tree, parent) === `/box[1]/${kind}s[1]`)!;

describe.each(manners)('texts of several settings: %s', (_, text) => {
  const file = open(text);
  const { backup, reading } = file;
  const zoneAt = (name: string) => pathOf(backup.tree, reading.roles.find((role) => role.name === name)!.node);

  test('what they name is found, each where it stands in the text', () => {
    expect(named(file)).toEqual(named(plain));
    for (const { site, from, value } of reading.references)
      expect(valueAt(backup.tree, site).slice(from, from + value.length)).toBe(value);
    expect(reading.dangling.map(({ value }) => value)).toEqual(['gone']);
    expect(reading.bindings.map(({ role, port }) => [role, port])).toEqual(zones.map(([name, port]) => [name, port]));
  });

  test('records are called by the setting that tells them apart', () => {
    const list = records(file, 'host');
    expect(list.records.map((node) => recordName(backup.tree, list, node))).toEqual(hosts.map(([name]) => name));
  });

  test('a port is renamed in the texts, and nothing else changes', () => {
    const plan = planOf([
      { kind: 'rename-port', from: 'eth1', to: 'ix3' },
      { kind: 'rename-port', from: 'eth2', to: 'eth1' },
    ]);
    expect(result(file, plan)).toBe(text.replaceAll('eth1', 'ix3').replaceAll('eth2', 'eth1'));
  });

  test('a role moves in its text, and nothing else changes', () => {
    const move: Decision = { kind: 'move-role', role: zoneAt('office'), to: { on: 'port', port: 'eth0' } };
    const sea: Decision = { kind: 'move-role', role: zoneAt('sea'), to: { on: 'tag', port: 'eth2', tag: 40 } };
    expect(result(file, planOf([move, sea]))).toBe(text.replace('eth0', 'eth2.40').replace('eth1', 'eth0'));
  });

  test('one VLAN more is written like the others', () => {
    const move: Decision = { kind: 'move-role', role: zoneAt('office'), to: { on: 'tag', port: 'eth2', tag: 77 } };
    const last = records(file, 'vlan').records[1]!;
    const written = text.slice(backup.tree.start[last]!, backup.tree.end[last]!);
    expect(result(file, planOf([move]))).toBe(
      text.replace('eth1', 'eth2.77').replace(written, written + written.replace('40', '77')),
    );
  });

  test('a role that would leave its port is told, and nothing is done', () => {
    const move: Decision = { kind: 'move-role', role: zoneAt('office'), to: { on: 'none' } };
    const { troubles } = planView(backup, reading, planOf([move]));
    expect(troubles.map(({ code }) => code)).toEqual(['plan-role-in-text']);
  });

  test('a name that is set in its text is followed', () => {
    const [{ site, value }] = reading.dangling as [(typeof reading.dangling)[0]];
    const path = sitePath(backup.tree, site);
    const plan = planOf([{ kind: 'set-value', path, was: value, value: 'gate' }]);
    const codes = (one: Plan) => planView(backup, reading, one).findings.map(({ code }) => code);
    expect(codes(planOf([]))).toContain('reference-dangling');
    expect(codes(plan)).not.toContain('reference-dangling');
    expect(result(file, plan)).toBe(text.replace('gone', 'gate'));
  });

  test.each(['two words', 'a"b', 'a;b', ''])(
    'a value that would end its setting is told and not written: %s',
    (value) => {
      const [{ site, value: was }] = reading.dangling as [(typeof reading.dangling)[0]];
      const plan = planOf([{ kind: 'set-value', path: sitePath(backup.tree, site), was, value }]);
      expect(planView(backup, reading, plan).troubles.map(({ code }) => code)).toEqual(['value-not-in-text']);
    },
  );

  test('secrets are found in their texts where a name says so', () => {
    const held = reading.secrets.map(({ site }) => backup.tree.text.slice(backup.tree.start[site.node]!).slice(0, 80));
    const told = text.includes('passphrase') ? ['bollard-seven', 'halyard-nine'] : [];
    expect(held).toEqual(told.map((secret) => expect.stringContaining(secret)));
  });
});

test('sections of several kinds under one tag have few names in common', () => {
  const section = (kind: string, name: string, ...lines: string[]) =>
    `<section kind="${kind}" name="${name}"><![CDATA[\n${lines.join('\n')}\n]]></section>`;
  const text = [
    ...zones.map(([name, port, address]) => section('zone', name, `on = ${port}`, `address = ${address}`)),
    ...hosts.map(([name, address]) => section('host', name, `ip = ${address}`, 'seen = yes')),
    ...rules.map(([zone, , host], at) => section('rule', String(at), `in = ${zone}`, `to = ${host}`, 'do = pass')),
    section('clock', 'main', 'server = 192.0.2.123', 'every = 64'),
  ];
  const { reading } = open(`<box>${text.join('')}</box>`);
  expect(reading.bindings.map(({ role, port }) => [role, port])).toEqual(zones.map(([name, port]) => [name, port]));
  // Where rules lead to: four hosts, and a zone, which stands in one list of names with them.
  expect(reading.references.filter(({ tier }) => tier !== 'possible')).toHaveLength(rules.length + 4 + 1);
});

test('what one setting of a text names does not unmask the secret in another', () => {
  const hash = (salt: string) => `$6$${salt}$${'Rx7dQe9'.repeat(12)}ab`;
  const crews = ['desk', 'dock', 'pier'].map((name) => `<crew name="${name}">level = 3\nkeys = no</crew>`);
  const users = ['desk', 'pier', 'dock', 'desk'].map(
    (crew, at) => `<user name="u${at}">crew = ${crew}\npassword = ${hash(`salt${at}`)}</user>`,
  );
  const { reading } = open(`<box>${crews.join('')}${users.join('')}</box>`);
  expect(reading.references).toHaveLength(4);
  expect(reading.secrets).toHaveLength(4);
});

test('objects of JSON: lists, objects inside, numbers; what is no JSON is left whole', () => {
  const one = (name: string, more: string) =>
    `<zone>{"name": "${name}", "at": {"port": "eth${name.length}"}, ${more}}</zone>`;
  const text = `<box>${one('sea', '"vlan": 30, "up": true')}${one('quay', '"dns": ["10.0.0.1", "10.0.0.2"]')}${one('office', '"say": "a \\"b\\""')}${one('pier', 'oops')}</box>`;
  const { reading } = open(text);
  const wanted = ['name', 'at.port', 'vlan', 'up', 'dns', 'say'].map((name) => `/box/zone/${name}`);
  // Less than nine of ten texts are objects: then it is no custom.
  expect(reading.values.fields.map(({ template }) => template)).toEqual(['/box/zone']);
  const right = open(text.replace('oops', '"x": null'));
  expect(right.reading.values.fields.map(({ template }) => template)).toEqual(wanted);
  expect(right.reading.values.fields[4]!.values).toEqual(['10.0.0.1', '10.0.0.2']);
});

test('lists of so many things of one kind are no rows', () => {
  const lists = people(10).map(([a, b, c]) => `<set>${a},${b},${c}</set>`);
  const { reading } = open(`<box><sets>${lists.join('')}</sets></box>`);
  expect(reading.values.fields.map(({ template }) => template)).toEqual(['/box/sets/set']);
});

/** So many lists of three names. */
function people(count: number): string[][] {
  const names = ['gull', 'tern', 'skua', 'plover', 'heron'];
  return Array.from({ length: count }, (_, at) => [0, 1, 3].map((more) => names[(at + more) % 5]!));
}

test('remarks and lists are no settings', () => {
  const remarks = ['Crew of the pier', 'Crew of the dock', 'Gate of the yard', 'Gate of the sea'];
  const text = `<box>${remarks.map((one, at) => `<door><name>d${at}</name><text>${one}</text><uses>a=1</uses></door>`).join('')}</box>`;
  const { reading } = open(text);
  expect(reading.values.fields.map(({ template }) => template)).toEqual([
    '/box/door/name',
    '/box/door/text',
    '/box/door/uses',
  ]);
});

test('names of two words are no commands', () => {
  const names = [
    'north pier',
    'south dock',
    'old quay',
    'west berth',
    'long mole',
    'inner yard',
    'fish hall',
    'boat lift',
  ];
  const { reading } = open(`<box>${names.map((name) => `<pool name="${name}"/>`).join('')}</box>`);
  expect(reading.values.fields.map(({ template }) => template)).toEqual(['/box/pool/@name']);
});

test('names of several words that come again and again are no commands', () => {
  const names = ['Fibre to the mainland', 'Slipway gate two', 'Berth 201 west', 'Berth 202 west', 'Chandlery shop one'];
  const places = [...names, ...names, ...names].map((name) => `<seat at="${name}"/>`).join('');
  const { reading } = open(
    `<b><zones>${names.map((name) => `<zone name="${name}"/>`).join('')}</zones><seats>${places}</seats></b>`,
  );
  expect(reading.references).toHaveLength(15);
});

test('lines of pairs with remarks and words of several among them', () => {
  const pool = (name: string, at: number, rest = '') =>
    `<pool><![CDATA[\n# ${name}\nsegment = ${name}\nfirst = 10.20.${at}.40\nlast = 10.20.${at}.90\n${rest}]]></pool>`;
  const hosts = ['till', 'crane', 'gate'].map((name, at) => `<host><name>${name}</name><ip>10.20.${at}.7</ip></host>`);
  const names = zones.map(([name]) => name);
  const segments = names.map(
    (name, at) =>
      `<segment uid="3590db49-2ac0-44c9-ab1b-07bf0e04314${at}"><name>${name}</name><ip>10.20.${at}.1/24</ip></segment>`,
  );
  const pools = names.map((name, at) =>
    pool(name, at, at < 3 ? `reserve 00:00:5e:00:53:1${at} ${['till', 'crane', 'gate'][at]}\n` : ''),
  );
  const file = open(
    `<box><segments>${segments.join('')}</segments><hosts>${hosts.join('')}</hosts><pools>${pools.join('')}</pools></box>`,
  );
  const named = file.reading.references.map(({ value, site }) => `${value} ${sitePath(file.backup.tree, site)}`);
  expect(named).toEqual([
    ...names.map((name, at) => `${name} /box[1]/pools[1]/pool[${at + 1}]`),
    ...['till', 'crane', 'gate'].map((name, at) => `${name} /box[1]/pools[1]/pool[${at + 1}]`),
  ]);
});

// Common practice, no source: pages of lines, as packages have them.
test('pages of lines with sections, each of another package, have no names in common', () => {
  const pages = [
    '\n[look]\nseconds = 300\n; eth9 is not there\n[on]\nports = eth1, eth2.30\nwords = none\n',
    '\n[listen]\nzone = guests\nzone = quay\nexempt = till, crane\n',
    '\n[link 1]\ndevice = eth0\n[link 2]\ndevice = eth2.40\n[push]\nto.first = gate\n',
  ];
  const list = (tag: string, all: readonly string[]) => `<${tag}s>${all.join('')}</${tag}s>`;
  const text = `<box>${list(
    'zone',
    zones.map(([name, port, ip]) => `<zone name="${name}" port="${port}" ip="${ip}"/>`),
  )}${list(
    'vlan',
    [30, 40].map((tag) => `<vlan name="eth2.${tag}" on="eth2" tag="${tag}"/>`),
  )}${list(
    'host',
    hosts.map(([name, ip]) => `<host name="${name}" ip="${ip}"/>`),
  )}${list(
    'rule',
    rules.map(([zone, from, to]) => `<rule in="${zone}" from="${from}" to="${to}"/>`),
  )}<packs>${pages.map((page, at) => `<pack id="p${at}"><page>${page}</page></pack>`).join('')}</packs></box>`;
  const { reading, backup } = open(text);
  const saidIn = (list: readonly { site: Site; value: string }[]) =>
    list.flatMap(({ site, value }) => (sitePath(backup.tree, site).includes('/page') ? [value] : []));
  expect(saidIn(reading.references)).toEqual(
    expect.arrayContaining(['eth2.30', 'guests', 'quay', 'till', 'crane', 'eth2.40', 'gate']),
  );
  expect(saidIn(reading.mentions)).toEqual(['eth1', 'eth2.30', 'eth0', 'eth2.40']);
});
