import { expect, test } from 'vitest';
import { NameScale } from '../../src/core/reading/names/words.ts';
import { valueAt } from '../../src/core/xml/site.ts';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

// What each document says is read off by eye.

const roles = ['Uplink', 'Harbour office', 'Pier lights', 'Watch tower', 'Card terminals & till', 'Fuel dock'];
const escaped = (text: string) => text.replace('&', '&amp;');
const nets = (about: (name: string, at: number) => string) =>
  `<nets>${roles
    .map(
      (name, at) =>
        `<net><name>${escaped(name)}</name><nic>igb1.${at + 20}</nic><ip>10.20.${at}.1</ip><about>${escaped(about(name, at))}</about></net>`,
    )
    .join('')}</nets>`;
const rules = `<rules>${[...roles, ...roles]
  .map((name) => `<rule><do>pass</do><at>${escaped(name)}</at><to>any</to></rule>`)
  .join('')}</rules>`;

test('a field of labels that also holds sentences longer than any label is one of remarks', () => {
  const tags = roles
    .map(
      (name, at) =>
        `<tag><on>igb1</on><id>${at + 20}</id><memo>${at > 2 ? escaped(name) : 'see the plan of the piers'}</memo></tag>`,
    )
    .join('');
  const { names, gone } = linksOf(
    `<box>${nets(() => '')}<tags>${tags}<tag><on>igb1</on><id>40</id><memo>spare</memo></tag></tags>${rules}</box>`,
  );
  expect(names.filter((one) => one.includes('memo'))).toEqual([]);
  expect(names.filter((one) => one.startsWith('rule/at'))).toHaveLength(12);
  expect(gone).toEqual([]);
});

test('records that go by a label are not named by another label beside it', () => {
  const about = (_name: string, at: number) => `Berth ${201 + at}`;
  const tags = roles.map(
    (name, at) => `<tag><on>igb1</on><id>${at + 20}</id><memo>${about(name, at)} tag</memo></tag>`,
  );
  const { names } = linksOf(`<box>${nets(about)}<tags>${tags.join('')}</tags>${rules}</box>`);
  expect(names.filter((one) => one.includes('memo'))).toEqual([]);
  expect(names.filter((one) => one.startsWith('rule/at'))).toHaveLength(12);
});

test('cells of one record alone whose names count the items of lists are those lists', () => {
  const sets = ['crew', 'tills', 'bank', 'desks', 'cranes', 'pumps'];
  const cells = (write: (name: string, value: string) => string) =>
    [
      ...['crew', 'bank', 'pumps'].map((value, at) => write(`watch${at + 1}`, value)),
      ...['malware', 'scan', 'exploit'].map((value, at) => write(`family${at + 1}`, value)),
    ].join('');
  const box = (list: string) =>
    `<box><sets>${sets.map((name, at) => `<set><name>${name}</name><host>10.20.0.${at + 9}</host></set>`).join('')}</sets><alarm>${list}</alarm></box>`;
  const written = [
    cells((name, value) => `<opt name="${name}" is="${value}"/>`),
    cells((name, value) => `<opt><key>${name}</key><val>${value}</val></opt>`),
  ];
  for (const list of written) {
    const { names, gone } = linksOf(box(list));
    expect(names.map((one) => one.replace(/^\S* /, ''))).toEqual(['crew -> set', 'bank -> set', 'pumps -> set']);
    expect(gone).toEqual([]);
  }
});

test('an identifier beside a name is that of the record, one without a name refers', () => {
  const [north, south, gone] = ['2094019178f53', '24f0d96bdc441', '85512eb4cf9a2'];
  const exits = [
    `<exit name="north"><code>${north}</code><ip>192.0.2.1</ip></exit>`,
    `<exit name="south"><code>${south}</code><ip>192.0.2.9</ip></exit>`,
  ];
  const routes = [north, south, gone].map((code, at) => `<route via="${code}"><net>10.${30 + at}.0.0/16</net></route>`);
  const found = linksOf(`<box><exits>${exits.join('')}</exits><routes>${routes.join('')}</routes></box>`);
  expect(found.names).toEqual([`route/via ${north} -> exit`, `route/via ${south} -> exit`]);
  expect(found.gone).toEqual([gone]);
});

test('tables of two layouts side by side, and two of the one: each of these by what it is called', () => {
  const net = (name: string, nic: string, at: number) =>
    `<obj key="${name}"><opt key="up">yes</opt><opt key="nic">${nic}</opt><opt key="ip">10.20.${at}.1</opt><opt key="bits">24</opt></obj>`;
  const tag = (id: number) => `<obj key="P3-${id}"><opt key="over">P3</opt><opt key="id">${id}</opt></obj>`;
  const peer = (name: string) =>
    `<row><cell name="peer">${name}</cell><cell name="ip">192.0.2.${name.length}</cell></row>`;
  const { reading } = open(`<box><half>
<sheet key="nets">${net('quay', 'P1', 1)}${net('office', 'P2', 2)}${net('tills', 'P3-30', 3)}${net('piers', 'P3-40', 4)}</sheet>
<sheet key="tags">${tag(30)}${tag(40)}</sheet>
<sheet name="peers">${peer('mainland')}${peer('island')}</sheet></half></box>`);
  const lists = new Set(reading.values.fields.map(({ template }) => /sheet[^/]*/.exec(template)?.[0]));
  expect([...lists].sort()).toEqual(['sheet{nets}', 'sheet{peers}', 'sheet{tags}']);
});

test('of labels that are those of other records too, the longer list has the records', () => {
  const zone = (name: string, nic: string, at: number) =>
    `<zone><nic>${nic}</nic><title>${name}</title><ip>10.20.${at}.1</ip></zone>`;
  const names = ['north quay', 'south quay', 'old jetty', 'new jetty', 'fish hall'];
  const pools = names
    .slice(1, 4)
    .map((name, at) => `<pool><for>${name}</for><lo>10.20.${at + 1}.50</lo><hi>10.20.${at + 1}.99</hi></pool>`);
  const { names: found } = linksOf(
    `<box><zones>${names.map((name, at) => zone(name, `igb${at}`, at)).join('')}</zones><pools>${pools.join('')}</pools></box>`,
  );
  expect(found).toEqual(names.slice(1, 4).map((name) => `pool/for ${name} -> zone`));
});

test('letters that stand before many numbers are no word that names have in common', () => {
  const scale = new NameScale();
  for (const name of ['el764', 'el332', 'el12', 'el88', 'el901', 'server1', 'server2']) scale.add(name);
  expect(scale.similarity(['el'], ['el'])).toBe(0);
  expect(scale.similarity(['server'], ['server'])).toBe(1);
});

const sets = ['nvr', 'tills', 'cranes', 'masts', 'pumps', 'desks'];
const book = `<sets>${sets.map((name, at) => `<set><name>${name}</name><has>10.20.0.${at + 9}</has></set>`).join('')}</sets>`;
const ruleBox = (...from: readonly string[]) =>
  `<box>${book}<rules>${from.map((one) => `<rule><do>pass</do><from>${one}</from></rule>`).join('')}</rules></box>`;

test.each(['!', '~', '^', '!!'])('a mark before a name that is gone is no part of it: %s', (mark) => {
  const { backup, reading } = open(ruleBox(...sets, ...sets, `${mark}recorder`));
  const [gone] = reading.dangling;
  expect(reading.dangling).toHaveLength(1);
  expect(gone).toMatchObject({ value: 'recorder', nearest: null });
  expect(valueAt(backup.tree, gone!.site).slice(gone!.from, gone!.to)).toBe('recorder');
});

test('unless names begin with it', () => {
  const { reading } = open(
    ruleBox(...sets, '$pier', '$recorder').replace('</sets>', '<set><name>$pier</name></set></sets>'),
  );
  expect(reading.dangling.map(({ value }) => value)).toEqual(['$recorder']);
});

test('names that differ in numbers alone: one like them that is not there is one of them', () => {
  const certs = [1, 2, 3, 4].map((no) => `<cert><id>cert${no}</id><about>Page ${no}</about></cert>`);
  const doors = ['cert3', 'cert7'].map(
    (id, at) => `<door><name>gate-${'ab'[at]}</name><port>${1194 + at}</port><by>${id}</by></door>`,
  );
  const { names, gone } = linksOf(`<box><certs>${certs.join('')}</certs><doors>${doors.join('')}</doors></box>`);
  expect(names).toEqual(['door/by cert3 -> cert']);
  expect(gone).toEqual(['cert7']);
});

test('a record called as those of another kind are has a name of its own, though one of these has it too', () => {
  const zones = ['uplink', 'office', 'staff', 'piers', 'tills', 'lamps'].map(
    (nick, at) => `<zone nick="${nick}"><ip>10.20.${at}.1</ip></zone>`,
  );
  const doors = ['staff', 'winter'].map(
    (nick, at) => `<door nick="${nick}"><zone>uplink</zone><port>${1194 + at}</port><by>tls</by></door>`,
  );
  const kinds = ['crew', 'plan'].map((kind) =>
    ['mara', 'bram', 'odile'].map((nick) => `<${kind} nick="${kind}-${nick}"><on>x</on></${kind}>`).join(''),
  );
  const rules = ['mara', 'bram', 'odile'].map(
    (nick) => `<rule><for>crew-${nick}</for><in>plan-${nick}</in><do>pass</do></rule>`,
  );
  const { names, gone } = linksOf(
    `<box>${kinds.join('')}<zones>${zones.join('')}</zones><doors>${doors.join('')}</doors>${rules.join('')}</box>`,
  );
  expect(names.filter((one) => one.startsWith('door/@nick'))).toEqual([]);
  expect(gone).toEqual([]);
});

test('lists of names of several words are lists where nearly all of them are known', () => {
  const names = ['north quay', 'old jetty', 'fish hall', 'boat shed'];
  const groups = names.map((name, at) => `<group><name>${name}</name><has>10.20.${at}.7</has></group>`);
  const from = ['10.20.0.0/24;north quay', '10.20.1.0/24;old jetty', 'fish hall', 'boat shed', 'new mole;fish hall'];
  const rows = from.map((one) => `<rule><do>pass</do><from>${one}</from></rule>`);
  const { names: found, gone } = linksOf(
    `<box><groups>${groups.join('')}</groups><rules>${rows.join('')}</rules></box>`,
  );
  expect(found.map((one) => one.replace(/^\S* /, ''))).toEqual(
    ['north quay', 'old jetty', 'fish hall', 'boat shed', 'fish hall'].map((name) => `${name} -> group`),
  );
  expect(gone).toEqual(['new mole']);
});

test('a word joined on to the name of a record, as no name has it, is an operator where it stands twice', () => {
  const { reading } = open(ruleBox('nvr', 'tills', 'cranes', 'desks_network', 'desks_network', 'masts_old'));
  expect(reading.dangling.map(({ value }) => value)).toEqual(['masts_old']);
  expect(reading.references.filter(({ value }) => value === 'desks')).toHaveLength(2);
});
