import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

const example = readFileSync(new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url), 'utf8');

test('names that tell their own records apart, of which two of three are names elsewhere, too: the third is not amiss', () => {
  const { reading } = open(example);
  expect(reading.dangling.map(({ value }) => value)).not.toContain('tide-board');
});

test('a rule that names a set which is not there is amiss all the same', () => {
  const { reading } = open(example);
  expect(reading.dangling.map(({ value }) => value)).toContain('old-card-gateway');
});

const names = ['crew', 'recorder', 'tills', 'bank', 'desks', 'cranes', 'pumps', 'lamps', 'masts'];
const wide = ['Till desks', 'Old crew', 'North pumps', 'Mast lamps', 'Crane yard'];
const ruleBox = (rules: readonly string[]) =>
  `<box><sets>${[...names, ...wide].map((name, at) => `<set><name>${name}</name><host>10.20.0.${at + 10}</host></set>`).join('')}</sets>
<rules>${rules.map((from) => `<rule><do>pass</do><from>${from}</from></rule>`).join('')}</rules></box>`;
const box = (rules: readonly string[]) =>
  open(ruleBox(rules)).reading.dangling.map(({ value, nearest }) => `${value} ${nearest}`);

// Read off by eye: what comes back and is nearly the name of a record that nothing names was meant for that record.
test.each([
  ['one letter off a name that nothing uses', ['recorder', 'recoder'], 4, 4],
  ['in other capitals', ['tills', 'Tills'], 4, 4],
  ['one letter off a name in use: a word of its own', ['recorder', 'recoder'], 3, 0],
  ['far from all names: a word of its own', ['recorder', 'nobody'], 4, 0],
])('a word that comes back, %s', (what, [name, word], times, amiss) => {
  const used = [...names, ...names].filter((one) => what.includes('in use') || one !== name);
  expect(box([...used, ...Array(times).fill(word)])).toHaveLength(amiss);
});

// What is deleted may have been in use in many places; a word for any one is used more than each of the names.
test.each([
  ['no more often than names are', 4, ['possible', 'possible', 'possible', 'possible']],
  ['more often', 6, []],
])('a word far from all names that comes back %s', (_, times, tiers) => {
  const { reading } = open(ruleBox([...names, ...names, ...names, ...names, ...Array(times).fill('lagoon')]));
  expect(reading.dangling.map(({ tier }) => tier)).toEqual(tiers);
});

const quays = ['quay', 'slip', 'berths', 'yard'];
const ports = ['web', 'mail', 'radio', 'print'];
const sets = names.map((name) => `<set><name>${name}</name><host>10.20.0.9</host></set>`).join('');
/** Rules from sets to anywhere, then those given; and other records behind them. */
const gone = (rules: readonly (readonly [from: string, to: string])[], more: string) => {
  const nets = quays.map((name, at) => `<net><name>${name}</name><on>igb${at}</on><ip>10.20.${at}.1/24</ip></net>`);
  const services = ports.map((name, at) => `<svc><name>${name}</name><port>${80 + at}</port><proto>tcp</proto></svc>`);
  const all = [...names, ...names].map((name) => [name, '10.20.0.0/16']).concat(rules.map((rule) => [...rule]));
  const lines = all.map(
    ([from, to], at) =>
      `<rule><in>${quays[at % 4]}</in><svc>${ports[(at >> 1) % 4]}</svc><from>${from}</from><to>${to}</to></rule>`,
  );
  const { dangling } = open(
    `<box>${nets.join('')}${services.join('')}<sets>${sets}</sets><rules>${lines.join('')}</rules>${more}</box>`,
  ).reading;
  return dangling.filter(({ tier }) => tier !== 'possible').map(({ value }) => value);
};

// Common practice, no source: a word for the box itself, which stands where names of hosts do.
test('a word that comes back is none where it mostly stands in a field that hardly names records', () => {
  const ends = [
    'crew',
    'masts',
    'lagoon',
    'harbour',
    'basin',
    'old quay',
    'north pier',
    'the-box',
    'the-box',
    'the-box',
  ];
  const guards = names.slice(0, 6).map((name) => `<guard><to>${name}</to><rate>9</rate></guard>`);
  const rules = ends.map((to) => ['crew', to] as const);
  expect(gone([...rules, ['the-box', '10.20.0.0/16']], `<guards>${guards.join('')}</guards>`)).not.toContain('the-box');
  expect(gone([['the-box', '10.20.0.0/16']], '')).toEqual(['the-box']);
});

test('records of another kind may have names as these do without naming them, where both are called alike', () => {
  const tunnel = (net: string, name: string) => `<tunnel><in>${net}</in><name>${name}</name><port>1194</port></tunnel>`;
  const tunnels = [tunnel('quay', 'quay'), tunnel('quay', 'yard'), tunnel('slip', 'pilots')];
  expect(gone([], `<tunnels>${tunnels.join('')}</tunnels>`)).toEqual([]);
});

test('words for any, in other languages, are not amiss', () => {
  expect(box([...names, ...names, 'alle'])).toEqual([]);
  expect(box([...names, ...names, 'aale'])).toHaveLength(1);
});

test('a list none of whose items is there, beside lists of known names, is a list of something else', () => {
  const list = (tag: string, items: readonly string[]) =>
    `<${tag}>${items.map((item) => `<i>${item}</i>`).join('')}</${tag}>`;
  const watch = (...items: readonly string[]) => `<watch>${list('what', items)}</watch>`;
  const known = [watch('crew', 'tills'), watch('desks', 'bank', 'masts'), watch('lamps', 'pumps', 'cranes')];
  const gone = (...more: readonly string[]) =>
    open(`<box><sets>${sets}</sets>${[...known, ...more].join('')}</box>`).reading.dangling.map(({ value }) => value);
  expect(gone(watch('malware', 'scan', 'exploit'))).toEqual([]);
  expect(gone(watch('crew', 'buoys', 'masts'))).toEqual(['buoys']);
});

test('pairs whose names count are lists, each by itself', () => {
  const pairs = (fields: readonly (readonly [string, string])[]) =>
    fields.map(([k, v]) => `<has><k>${k}</k><v>${v}</v></has>`).join('');
  const crews = ['crew', 'tills'].map(
    (name) =>
      `<team>${pairs([
        ['nick', `${name}-team`],
        ['set', name],
      ])}</team>`,
  );
  const watch = pairs([
    ...['crew', 'tills', 'bank'].map((name, at) => [`at${at + 1}`, name] as const),
    ['sort1', 'malware'],
    ['sort2', 'scan'],
  ]);
  const { reading } = open(`<box><sets>${sets}</sets>${crews.join('')}<watch>${watch}</watch></box>`);
  expect(reading.values.fields.filter(({ steps }) => steps.includes('watch')).map(({ steps }) => steps.at(-1))).toEqual(
    ['has[at]', 'has[sort]'],
  );
  expect(reading.dangling).toEqual([]);
});

test('a list by blanks of known names and addresses, where most values are single names or lists by another mark', () => {
  const from = [...names, ...names].map((name) => `%${name}`).concat('any', '%crew,192.0.2.15', '%bank 10.20.0.9');
  const rules = from.map((one) => `<rule><do>pass</do><from>${one}</from></rule>`).join('');
  const { reading } = open(`<box><sets>${sets}</sets><rules>${rules}</rules></box>`);
  expect(reading.dangling).toEqual([]);
  expect(reading.references.filter(({ value }) => value === 'bank')).toHaveLength(3);
});

test('records that have a code by which nothing names them are named by what they are called', () => {
  const code = (at: number) => `${at}b9b6344${at}98ce61d`;
  const nets = ['Uplink', 'Yard', 'Phones', 'Tower'].map(
    (name, at) => `<a><b>${code(at)}</b><c>${name}</c><d>10.20.${at}.1</d></a>`,
  );
  const exits = ['fibre', 'lte'].map((name, at) => `<e><b>${code(at + 4)}</b><c>${name}</c><f>203.0.113.${at}</f></e>`);
  const roads = ['fibre', 'fibre', 'fibre'].map(
    (name, at) => `<g><b>${code(at + 6)}</b><h>${name}</h><k>10.${at}.0.0/16</k></g>`,
  );
  const box = `<box><n>${nets.join('')}</n><o>${exits.join('')}</o><p>${roads.join('')}</p></box>`;
  const sure = open(box).reading.references.filter(({ tier }) => tier !== 'possible');
  expect(sure.map(({ value }) => value)).toEqual(['fibre', 'fibre', 'fibre']);
});

test('a name of which a part is the name of another record, a mark as names have it between: gone as a whole', () => {
  const papers = ['front', 'far'].map((name) => `<paper><name>${name}</name><of>berth</of></paper>`);
  const ropes = [
    ['lamp', 'far'],
    ['yard', 'yard-old'],
  ].map(([name, paper]) => `<rope><name>${name}</name><to>198.51.100.7</to><paper>${paper}</paper></rope>`);
  const { reading } = open(`<box><papers>${papers.join('')}</papers><ropes>${ropes.join('')}</ropes></box>`);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['yard-old']);
});

test('leaves that are called by their tags are records that others name', () => {
  const bags = names.map((name, at) => `<${name}>10.20.0.${at + 10} 10.20.0.${at + 30}</${name}>`);
  const rules = [...names, 'crew', 'buoys'].map((from) => `<rule><do>pass</do><from>${from}</from></rule>`);
  const { reading } = open(`<box><bags>${bags.join('')}</bags><rules>${rules.join('')}</rules></box>`);
  expect(reading.references.map(({ value }) => value)).toEqual([...names, 'crew']);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['buoys']);
});

// Common practice, no source: names behind a word for their kind, in fields that may name records of several.
test('names behind words for their kinds are no names of their own, though each comes once', () => {
  const { reading } = open(
    `<box><hosts><till1 ip="10.17.0.11" seen="yes"/><till2 ip="10.17.0.12" seen="no"/><nvr ip="10.17.2.9" seen="yes"/></hosts>
<groups><tills of="host:till1 host:till2"/><all of="group:tills host:nvr"/><old of="host:till1 host:till2"/></groups>
<services><web tcp="80"/><video tcp="554"/><clock udp="123"/></services>
<rules><rule n="1" src="group:tills" svc="svc:web"/><rule n="2" src="any" svc="svc:web svc:clock"/><rule n="3" src="host:nvr" svc="svc:video"/><rule n="4" src="group:all" svc="svc:clock"/><rule n="5" src="group:old" svc="svc:web"/></rules></box>`,
  );
  const named = reading.references.filter(({ tier }) => tier !== 'possible').map(({ value }) => value);
  const rules = ['tills', 'nvr', 'all', 'old', 'web', 'web', 'clock', 'video', 'clock', 'web'];
  const groups = ['till1', 'till2', 'nvr', 'till1', 'till2'];
  expect(named.filter((name) => name !== 'tills').sort()).toEqual(
    [...rules, ...groups].filter((name) => name !== 'tills').sort(),
  );
});

const ends = (from: readonly string[]) => {
  const rules = names.map(
    (to, at) => `<rule><do>pass</do>${from[at] ? `<src>${from[at]}</src>` : ''}<dst>${to}</dst></rule>`,
  );
  return ruleBox([]).replace('<rules>', `<rules>${rules.join('')}`);
};

test('beside a field that names the same records, one known name of three is enough', () => {
  const { reading } = open(ends(['crew', 'old-crew', 'quay-hands']));
  expect(reading.references.filter(({ tier, value }) => tier !== 'possible' && value === 'crew')).toHaveLength(2);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['old-crew', 'quay-hands']);
});

// RFC 9562: identifiers that no two things share.
test('an identifier that is no record, in a field called like others that name records', () => {
  const id = (at: number) => `e2c4b600-3333-4b4b-a0a0-00000000040${at}`;
  const seals = [1, 2].map((at) => `<item uuid="${id(at)}" label="seal ${at}"/>`).join('');
  const { reading } = open(
    `<box><seals>${seals}</seals><page seal="${id(2)}" port="8443"/><tunnel uuid="${id(7)}" seal="${id(9)}" peer="198.51.100.7"/></box>`,
  );
  expect(reading.dangling.map(({ value }) => value)).toEqual([id(9)]);
});

test('the name of a host among addresses and names of records is not gone', () => {
  const host = (name: string, value: string) => `<set><name>${name}</name><value>${value}</value></set>`;
  const sets = [
    host('nas', '10.40.5.10'),
    host('plotter', '10.40.45.30'),
    host('crew', 'nas,plotter'),
    host('inside', 'crew,nas,slipway-pc'),
    host('bookings', 'booking.kestrelquay.example'),
  ];
  expect(linksOf(`<box><sets>${sets.join('')}</sets></box>`).gone).toEqual(['slipway-pc']);
});

test('a number that is like those of the groups is gone where a field is called as their number is', () => {
  const group = (gid: number, name: string) => `<group><gid>${gid}</gid><name>${name}</name></group>`;
  const person = (name: string, gid: number) => `<person><login>${name}</login><gid-ref>${gid}</gid-ref></person>`;
  const people = [person('harbour', 500), person('gate', 501), person('relief', 501), person('clerk', 507)];
  const area = (name: string, at: number) =>
    `<area><name>${name}</name><ip>10.20.${at}.1</ip></area><path><to>10.9${at}.0.0/16</to><area-ref>${name}</area-ref></path>`;
  const areas = ['docks', 'voice', 'yard'].map(area).join('');
  const text = `<box>${areas}${group(500, 'bosun')}${group(501, 'hand')}${people.join('')}</box>`;
  const { names, gone } = linksOf(text);
  expect(names.filter((name) => name.startsWith('person'))).toEqual([
    'person/gid-ref 500 -> group',
    'person/gid-ref 501 -> group',
    'person/gid-ref 501 -> group',
  ]);
  expect(gone).toEqual(['507']);
});

test('of two kinds of record that are called the same, that is meant which others name', () => {
  const line = (key: string, value: string) => `<s k="${key}" v="${value}"/>`;
  const nets = ['clubhouse', 'moorings', 'workshop', 'storage'];
  const pools = nets
    .slice(0, 3)
    .map((name, at) => line(`dhcp.${name}.from`, `10.40.${at}.100`) + line(`dhcp.${name}.to`, `10.40.${at}.200`));
  const lans = nets.map((name, at) => line(`lan.${name}.ip`, `10.40.${at}.1/24`) + line(`lan.${name}.on`, `igb${at}`));
  const rules = [...nets, 'clubhouse'].map(
    (name, at) => line(`rule.${at}.enter`, name) + line(`rule.${at}.does`, 'pass'),
  );
  const all = [...lans, ...pools, ...rules, line('admin.listen', 'clubhouse'), line('admin.port', '4443')];
  const { reading, backup } = open(`<box>${all.join('')}</box>`);
  const listen = reading.references.filter(({ field }) => reading.fields[field]!.name.endsWith('listen'));
  expect(listen.map(({ to }) => sitePath(backup.tree, { node: to, attr: -1 }))).toEqual(['/box[1]/s[1]']);
});

// Common practice, no source: `! name` for all but that, `name address` for what it has of its own.
test('a mark or a word apart from the name, in a list by blanks: no name by itself', () => {
  const from = [
    ...names,
    ...names,
    '! crew',
    'tills address',
    'bank desks',
    'lamps masts',
    'pumps cranes',
    'harbour-master',
  ];
  const to = ['crew', 'crew address', 'desks address', '! tills', '! bank'];
  const rules = from.map((name, at) => `<rule><from>${name}</from><to>${to[at % to.length]}</to></rule>`);
  const { reading } = open(`<box><sets>${sets}</sets><rules>${rules.join('')}</rules></box>`);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['harbour-master']);
});

test('records called by their tags that are named in brackets alone', () => {
  const groups = names.map((name, at) => `<${name}><has>10.20.0.${at + 10}</has></${name}>`).join('');
  const rules = ['crew', 'bank', 'desks', 'old-crew'].map(
    (name) => `<rule><do>pass</do><to>&lt;${name}&gt;</to></rule>`,
  );
  const { reading } = open(`<box><groups>${groups}</groups><rules>${rules.join('')}</rules></box>`);
  expect(reading.references.map(({ value }) => value)).toEqual(['crew', 'bank', 'desks']);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['old-crew']);
});

// Common practice, no source: identifiers of capitals and digits, of which some have no digit, or nothing else.
test('a route that has nothing but a prefix and an identifier names what has a name beside it', () => {
  const exits = ['439ZV7GG30', 'DTWM3J9MTQ'].map((no, at) => `<exit no="${no}" nom="way ${at}" ip="203.0.113.${at}"/>`);
  const roads = ['439ZV7GG30', 'DTWM3J9MTQ', 'QBEPBTDQZG', '9032417768'];
  const ways = roads.map((no, at) => `<way to="198.51.100.${at * 16}/28" over="${no}"/>`);
  const { reading } = open(`<quay><exits>${exits.join('')}</exits><ways>${ways.join('')}</ways></quay>`);
  expect(reading.references.map(({ value }) => value)).toEqual(roads.slice(0, 2));
  expect(reading.dangling.map(({ value }) => value)).toEqual(roads.slice(2));
});

test('what other kinds of record go by is the key, also of one that stands alone', () => {
  const id = (at: number | string) => `1f4618a5${at}c69${at}`;
  const list = (tag: string, from: number) =>
    [0, 1, 2].map((at) => `<${tag}><no>${id(from + at)}</no><nom>${tag}-${at}</nom></${tag}>`).join('');
  const tunnels = ['a', 'b'].map((crew, at) => `<tunnel><nom>rope-${at}</nom><for>${id(crew)}</for></tunnel>`).join('');
  const text = `<crews><crew><no>${id('a')}</no><nom>hands</nom><who>${id(0)}\n${id(1)}</who></crew></crews>`;
  const { reading } = open(
    `<quay><users>${list('user', 0)}</users><masts>${list('mast', 3)}</masts><lamps>${list('lamp', 6)}</lamps>${text}<tunnels>${tunnels}</tunnels></quay>`,
  );
  expect(reading.references.map(({ value }) => value)).toContain(id('a'));
  expect(reading.dangling.map(({ value }) => value)).toEqual([id('b')]);
});

test('an identifier in a field called like others of which one holds something else is not amiss', () => {
  const id = (at: number) => `e2c4b600-3333-4b4b-a0a0-00000000040${at}`;
  const seals = [1, 2].map((at) => `<item k="${id(at)}" t="seal ${at}"/>`).join('');
  const masts = ['fore', 'aft'].map((name) => `<mast v="${name} of the quay" h="${name.length}"/>`).join('');
  const { reading } = open(
    `<box><seals>${seals}</seals><page v="${id(2)}" port="8443"/><masts>${masts}</masts><team v="${id(9)}" on="igb1"/></box>`,
  );
  expect(reading.dangling).toEqual([]);
});

test('what lists names is no key, though each list is another, and names the records that it lists', () => {
  const service = (name: string, proto: string, port: number) => `<${name}><${proto}>${port}</${proto}></${name}>`;
  const services = [service('pages', 'tcp', 443), service('lookup', 'udp', 53), service('video', 'tcp', 554)];
  const rules = ['pages|lookup', 'video', 'everything', 'pages', 'lookup|video', 'fax'].map(
    (what) => `<rule do="pass"><to>everything</to><what>${what}</what></rule>`,
  );
  const text = `<box><services>${services.join('')}</services><rules>${rules.join('')}</rules></box>`;
  expect(linksOf(text).names).toEqual([
    'rule/what pages -> pages',
    'rule/what lookup -> lookup',
    'rule/what video -> video',
    'rule/what pages -> pages',
    'rule/what lookup -> lookup',
    'rule/what video -> video',
  ]);
});

test('remarks of ports name no networks, though some say what the network is called that names the port', () => {
  const remarks = ['fibre', 'office', 'switch', 'hangar'];
  const ports = remarks.map((remark, at) => `<em${at}><note>${remark}</note><mode>auto</mode></em${at}>`);
  const nets = ['world', 'office', 'guests', 'hangar'].map(
    (name, at) => `<${name}><device>em${at}</device><ip>10.20.${at}.1/24</ip></${name}>`,
  );
  const rules = ['world', 'office', 'guests', 'hangar', 'office'].map((name) => `<rule net="${name}" do="pass"/>`);
  const text = `<box><ports>${ports.join('')}</ports><nets>${nets.join('')}</nets>${rules.join('')}</box>`;
  const { names, gone } = linksOf(text);
  expect(names.filter((name) => name.includes('note'))).toEqual([]);
  expect(gone).toEqual([]);
});

test('one list that has all names is meant rather than several that have them together, since they name it themselves', () => {
  const nets = ['uplink', 'phones', 'tower'].map(
    (name, at) => `<segment><name>${name}</name><port>axp${at}</port><addr>10.20.${at * 16}.1</addr></segment>`,
  );
  const pools = ['tower', 'phones'].map((via, at) => `<pool><via>${via}</via><first>10.20.${at * 16}.9</first></pool>`);
  const dial = '<nets-name><via>uplink</via><to>https://names.example.net/update</to></nets-name>';
  const rules = ['uplink', 'phones', 'phones', 'tower', 'tower', 'uplink'].map(
    (name, at) => `<rule><code>94cb0fc7f3d5${at}</code><does>drop</does><nets>${name}</nets></rule>`,
  );
  const text = `<box><a>${nets.join('')}</a><b>${dial}${pools.join('')}</b><c>${rules.join('')}</c></box>`;
  const { names } = linksOf(text);
  expect(names.filter((name) => name.startsWith('rule/nets')).map((name) => name.split(' -> ')[1])).toEqual(
    Array(6).fill('segment'),
  );
});

// RFC 9542, 2.1: the first half of an address is its maker's. Addresses of RFC 9542, 2.1.2 (documentation), from memory.
test('hardware addresses without marks name nothing and are no secrets, where several begin with one maker', () => {
  const jacks = ['52', 'FE', 'CC'].map(
    (end, at) => `<jack><dev>ix${at}</dev><station>00005E0053${end}</station></jack>`,
  );
  const pins = ['CC', 'F7'].map((end, at) => `<pin ip="10.20.24.2${at}"><card>00005E0053${end}</card></pin>`);
  const nets = ['uplink', 'office', 'tills'].map(
    (name, at) => `<net><name>${name}</name><on>ix${at}</on><ip>10.20.${at}.1/24</ip></net>`,
  );
  const { reading } = open(
    `<box><jacks>${jacks.join('')}</jacks><nets>${nets.join('')}</nets><pins>${pins.join('')}</pins></box>`,
  );
  expect(reading.dangling).toEqual([]);
  expect(reading.secrets).toEqual([]);
  expect(reading.references.filter(({ value }) => value.startsWith('00005E'))).toEqual([]);
});

test('names that all end alike tell that what ends so, too, is gone', () => {
  const gateways = ['fibre_gw', 'mast_gw'].map((name, at) => `<w k="${name}" q="198.51.100.${at + 5}" o="${at}"/>`);
  const routes = ['mast_gw', 'mast_gw', 'sat_gw'].map((name, at) => `<y d="192.0.2.${at * 64}/26" f="${name}"/>`);
  const rules = ['fibre_gw', 'fibre_gw', 'mast_gw'].map((name, at) => `<u i="${at + 7000}" b="${name}" a="drop"/>`);
  const { names, gone } = linksOf(
    `<p><r>${gateways.join('')}</r><o>${routes.join('')}</o><z>${rules.join('')}</z></p>`,
  );
  expect(names.filter((name) => name.startsWith('y/f'))).toEqual(['y/f mast_gw -> w', 'y/f mast_gw -> w']);
  expect(gone).toEqual(['sat_gw']);
});

test('of two kinds that share names that is named which third records name, though each of these has one of its own', () => {
  const zones = ['quaynorth', 'quaysouth', 'boatyard', 'fueldock', 'mastpoint', 'pierlamps'];
  const nets = zones.map((name, at) => `<net><ip>10.20.${at}.1</ip><code>${name}</code><bits>24</bits></net>`);
  const pools = zones.slice(1, 5).map((name, at) => `<${name} low="10.20.${at + 1}.100" up="10.20.${at + 1}.199"/>`);
  const ways = ['seaward', 'landward'].map(
    (name, at) => `<way name="${name}" by="10.20.${at}.254"><at>${zones[at * 5]}</at></way>`,
  );
  const rules = [1, 2, 3, 1, 2].map(
    (at) => `<rule><do>pass</do><zone>${zones[at]}</zone><to>10.20.${at}.0</to></rule>`,
  );
  const { names } = linksOf(
    `<box><nets>${nets.join('')}</nets><pools>${pools.join('')}</pools><ways>${ways.join('')}</ways>${rules.join('')}</box>`,
  );
  expect(names.filter((name) => name.startsWith('rule/'))).toEqual(
    [1, 2, 3, 1, 2].map((at) => `rule/zone ${zones[at]} -> net`),
  );
  expect(names.filter((name) => name.startsWith('net/'))).toEqual([]);
});

test('a word for not before a word for the kind', () => {
  const { names, gone } = linksOf(
    ruleBox([
      ...wide.map((name) => `set:${name}`),
      ...wide.map((name) => `set:${name}`),
      ...wide.slice(0, 3).map((name) => `not set:${name}`),
    ]),
  );
  expect(names.filter((name) => name.startsWith('rule/from'))).toHaveLength(2 * wide.length + 3);
  expect(gone).toEqual([]);
});

test('an address beside names by which records are called is none of their names', () => {
  const { names } = linksOf(
    `<q>${['nvr', 'pump', 'desk'].map((name, at) => `<host name="${name}" ip="10.20.0.${at + 20}"/>`).join('')}
    ${['nvr', 'pump', '10.20.0.22'].map((to, at) => `<forward port="${8554 + at}" target="${to}" inner="${at + 22}"/>`).join('')}
    ${['nvr', 'pump', 'desk', 'nvr'].map((to) => `<rule do="pass" to="${to}"/>`).join('')}
    ${[20, 21, 22].map((at) => `<lease mac="00:00:5e:00:53:${at}" ip="10.20.0.${at}"/>`).join('')}</q>`,
  );
  expect(names.filter((name) => name.includes('10.20.0.22'))).toEqual([]);
});
