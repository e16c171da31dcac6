import { expect, test } from 'vitest';
import { nameOf } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

test('remarks that stand in two kinds of record are the same stock of remarks, and name nothing', () => {
  const stock = ['season <pass>', 'see logbook, 12 March', 'tills: "closing" report', 'Web pages', 'asked for by Mara'];
  const escaped = stock.map((text) => `<![CDATA[${text}]]>`);
  const rules = [...escaped, ...escaped, 'moves to the pier', 'any to any is not meant here', 'let the office in'];
  const { names, gone } = linksOf(`<box>
${rules.map((memo, at) => `<rule><to>10.20.${at}.0/24</to><memo>${memo}</memo></rule>`).join('\n')}
<fwds>${escaped.map((text, at) => `<fwd><port>${80 + at * 7}</port><in>10.20.0.${at}</in><lbl>${text}</lbl></fwd>`).join('')}</fwds>
</box>`);
  expect(names).toEqual([]);
  expect(gone).toEqual([]);
});

const pages = (cert: string, gate: (name: string, code: string) => string) => `<box>
<web><cert>${cert}</cert><port>8443</port></web>
<certs>
  <pair><name>admin</name><code>1cc4a5b83a6e1cf1</code><about>Admin page 2026</about></pair>
  <pair><name>gate</name><code>9daf7d426dc66a5c</code><about>Remote access 2026</about></pair>
</certs>
<gates>${gate('staff', '1cc4a5b83a6e1cf1')}${gate('winter', 'b554efb19b5265b3')}</gates>
</box>`;

test('the code of one of several records that a page of settings has, too, names the record, not the page', () => {
  const { names, gone } = linksOf(pages('1cc4a5b83a6e1cf1', () => ''));
  expect(names).toEqual(['web/cert 1cc4a5b83a6e1cf1 -> pair']);
  expect(gone).toEqual([]);
});

test('two records under one holder, built alike, are told apart by their tags: what one of them names and is not there is gone', () => {
  const gate = (name: string, code: string) =>
    `<${name}><port>1194</port><group>visitors</group><cert>${code}</cert><net>10.99.0.0/24</net><by>tls</by></${name}>`;
  const { names, gone } = linksOf(pages('1cc4a5b83a6e1cf1', gate));
  expect(names.filter((one) => one.includes('1cc4'))).toEqual([
    'web/cert 1cc4a5b83a6e1cf1 -> pair',
    'cert 1cc4a5b83a6e1cf1 -> pair',
  ]);
  expect(gone).toEqual(['b554efb19b5265b3']);
});

const uuid = (at: number) => `a3c7428${at}-5c47-4049-ab3b-11b8cd94095${at}`;

test.each([uuid(1), 'ca0001'])('a record that stands alone and whose tag is an identifier is named by it: %s', (id) => {
  const box = `<box><anchors><${id}><about>Quay root</about><pem>x</pem></${id}></anchors>
<pairs><pair><by>${id}</by><about>Admin page</about></pair><pair><by>${id}</by><about>Gate</about></pair></pairs></box>`;
  expect(linksOf(box).names).toEqual(Array(2).fill(`pair/by ${id} -> ${id}`));
});

test('a number filled up with zeros is an identifier, though the records go by names, too', () => {
  const crews = ['pier crew', 'night watch'].map(
    (name, at) => `<crew nick="${name}"><code>cr000${at + 1}</code><who>mara</who></crew>`,
  );
  const doors = [1, 2].map((at) => `<door for="cr0001"><on>10.20.${at}.1</on><port>119${at}</port></door>`);
  expect(linksOf(`<box>${crews.join('')}<doors>${doors.join('')}</doors></box>`).names).toEqual(
    Array(2).fill('door/for cr0001 -> crew'),
  );
});

test.each([
  ['attribute', (name: string, value: string) => `<set n="${name}" v="${value}"/>`],
  ['element', (name: string, value: string) => `<set><n>${name}</n><v>${value}</v></set>`],
])('a record that stands alone, written in cells that an %s names as leaves are called elsewhere', (_, cell) => {
  const anchor = ['code', 'about', 'pem'].map((name, at) => cell(name, ['6MA4SENMZ6', 'Quay root', 'x'][at]!));
  const pair = (code: string) => `<pair><code>${code}</code><about>for ${code}</about><by>6MA4SENMZ6</by></pair>`;
  const box = `<box><anchors><one>${anchor.join('')}</one></anchors>
<pairs>${pair('ZMFTP0CEEW')}${pair('E6FMT2K9ZM')}</pairs></box>`;
  expect(linksOf(box).names).toEqual(['pair/by 6MA4SENMZ6 -> one', 'pair/by 6MA4SENMZ6 -> one']);
});

test('identifiers that tell their own records apart, too, name others, and one that is none of theirs is gone', () => {
  const records = (tag: string, from: number) =>
    [from, from + 1]
      .map((at) => `<${tag} name="${tag}${at}"><ident>${uuid(at)}</ident><by>hand</by></${tag}>`)
      .join('');
  const road = (at: number) => `<road via="${uuid(at)}"><to>192.0.2.${at * 16}/28</to></road>`;
  const box = `<box>${records('exit', 0)}${records('zone', 2)}${records('crew', 4)}${records('watch', 6)}
${road(0)}${road(1)}${road(8)}</box>`;
  expect(linksOf(box)).toEqual({
    names: [`road/via ${uuid(0)} -> exit`, `road/via ${uuid(1)} -> exit`],
    gone: [uuid(8)],
  });
});

test('a number under the very name of the records that it would number, beside one of theirs, is gone', () => {
  const made = (tag: string, rows: readonly string[]) =>
    `<${tag}s>${rows.map((row, at) => `<${tag} no="${at + 1}">${row}</${tag}>`).join('')}</${tag}s>`;
  const gates = ['2', '16'].map((cert) => `<gate><cert>${cert}</cert><net>10.99.0.0/24</net><port>1194</port></gate>`);
  const box = `<box>${made('cert', ['<for>page</for>', '<for>gate</for>', '<for>phones</for>'])}
${made('zone', ['<at>10.20.0.1</at>', '<at>10.20.1.1</at>'])}${made('crew', ['<may>all</may>', '<may>some</may>'])}
${gates.join('')}</box>`;
  expect(linksOf(box).gone).toEqual(['16']);
});

test('records of a property list that are told apart by their place are named by what they are called', () => {
  const list = (kind: string, rows: readonly (readonly string[])[], names: readonly string[]) =>
    rows.flatMap((row, at) => row.map((value, i) => `<p k="box.${kind}.${at + 1}.${names[i]}">${value}</p>`)).join('');
  const crews = ['wardens', 'divers', 'riggers'].map((name) => ['all', name, '10.20.0.9']);
  const gates = ['wardens', 'seasonals', 'riggers', 'wardens'].map((name, at) => [String(1194 + at), name, 'udp']);
  const text = `<box>${list('crew', crews, ['may', 'nm', 'host'])}${list('gate', gates, ['port', 'of', 'by'])}</box>`;
  expect(linksOf(text)).toEqual({
    names: ['of wardens -> p', 'of riggers -> p', 'of wardens -> p'],
    gone: ['seasonals'],
  });
});

test('marked names beside addresses are no keys, though each stands once', () => {
  const sets = ['crew', 'tills', 'bank', 'desks', 'cranes'].map(
    (name, at) => `<set><name>${name}</name><has>10.20.0.${at}</has></set>`,
  );
  const both = `<set><name>all</name><has>%crew</has><has>%tills</has><has>%bank</has></set>`;
  const to = ['%crew', '192.0.2.7', '%tills', '192.0.2.9', '%bank'];
  const forwards = to.map((one, at) => `<fwd><in>${one}</in><port>${443 + at * 11}</port><by>tcp</by></fwd>`);
  const rules = ['%crew', '%desks', '%cranes', '%crew'].map((one) => `<rule><to>${one}</to><do>pass</do></rule>`);
  const { names, gone } = linksOf(`<box>${sets.join('')}${both}${forwards.join('')}${rules.join('')}</box>`);
  expect(names.filter((one) => one.includes('%'))).toEqual([]);
  expect(names).toHaveLength(3 + 3 + 4);
  expect(gone).toEqual([]);
});

test('names of well-known services beside an identifier say nothing against it', () => {
  const sets = [1, 2].map((at) => `<set id="${uuid(at)}" says="ports"><has>50${at}0</has><has>22</has></set>`);
  const ports = ['443', uuid(1), 'https', 'domain', '53', uuid(1), 'https', 'ssh', 'ntp'];
  const rules = ports.map((one, at) => `<rule><to>10.20.0.${at}</to><port>${one}</port></rule>`);
  expect(linksOf(`<box>${sets.join('')}${rules.join('')}</box>`)).toEqual({
    names: Array(2).fill(`rule/port ${uuid(1)} -> set`),
    gone: [],
  });
});

test('two letters and a number are no word: what has them elsewhere is named by them', () => {
  const gate = (at: number) => `<gate z="${at}" q="ca1" h="${1194 + at}" v="10.99.${at}.0/24"/>`;
  const { names } = linksOf(`<box><x l="ca1" w="Quay root" i="x"/>${gate(1)}${gate(2)}</box>`);
  expect(names).toEqual(['gate/q ca1 -> x', 'gate/q ca1 -> x']);
});

test('networks are called by their names, not by the devices that they sit on, though others have all of these names', () => {
  const names = ['uplink-net', 'yard-net', 'office-net', 'tower-net', 'backup-net', 'berth-net'];
  const nets = names.map((name, at) => `<r q="${name}" r="em${at}" z="10.20.${at}.1" f="24"/>`);
  const others = [...names, 'nvr', 'tills', 'masts', 'cranes'];
  const marks = others.map((name, at) => `<u z="${name}" q="10.20.${at}.9" f="see it"/>`);
  const pools = [1, 5, 3].map((at) => `<h f="${names[at]}" q="10.20.${at}.100" r="10.20.${at}.120" z="${at}"/>`);
  const rules = [...names, ...names].map((name) => `<a z="si" f="${name}" q="80" r="go on"/>`);
  const { collections } = open(`<d>${[...nets, ...marks, ...pools, ...rules].join('')}</d>`).reading;
  expect(collections.find(({ item }) => item === 'r')!.key).toEqual({ by: 'attribute', name: 'q' });
});

test('networks without an address that codes call are roles, and the rules that name them are none', () => {
  const nets = Array.from({ length: 5 }, (_, at) => `<net><id>n${at}</id><port>eth${at}</port></net>`);
  const rules = Array.from(
    { length: 20 },
    (_, at) => `<rule><nr>${at}</nr><net>n${at % 5}</net><act>pass</act></rule>`,
  );
  const { reading } = open(`<box><nets>${nets.join('')}</nets><rules>${rules.join('')}</rules></box>`);
  expect(reading.roles.map(({ name }) => name)).toEqual(['n0', 'n1', 'n2', 'n3', 'n4']);
});

test('a record of two fields joins what another describes by the same code', () => {
  const codes = ['56c35940', '4926ee72', '1ac9f599', 'ce0f86c5'];
  const zones = codes.map(
    (code, at) =>
      `<z k="${code}" n="${['Office', 'Cards', 'Guests', 'Cameras'][at]}" on="yes" ip="10.20.${at}.1" len="24"/>`,
  );
  const seats = codes.map((code, at) => `<s j="${code}" p="enp${at}s0"/>`);
  const rules = [...codes, ...codes].map((code) => `<r from="${code}" do="pass"/>`);
  const { reading, backup } = open(`<b>${zones.join('')}${seats.join('')}${rules.join('')}</b>`);
  const named = new Set(reading.references.map(({ to }) => nameOf(backup.tree, to)));
  expect([...named]).toEqual(['z']);
  expect(reading.bindings.map(({ port }) => port)).toEqual(['enp0s0', 'enp1s0', 'enp2s0', 'enp3s0']);
});

test('beside a code the first text that tells records apart is their name, the later one a remark', () => {
  const texts = [
    ['Counting house', 'Office'],
    ['Rope store', 'Stores'],
    ['Card desk', 'Tills'],
    ['Summit', 'Radio link'],
  ] as const;
  const zones = texts.map(
    ([title, say], at) =>
      `<z id="o${at + 10}"><title>${title}</title><port>eth${at}</port><ip>10.20.${at}.1</ip><say>${say}</say></z>`,
  );
  const rules = texts.map((_, at) => `<r><id>${at}</id><zone>o${at + 10}</zone></r>`);
  const { reading } = open(`<b><zs>${zones.join('')}</zs><rs>${rules.join('')}</rs></b>`);
  expect(reading.roles.map(({ name }) => name)).toEqual(texts.map(([title]) => title));
});

test('empty elements that are called as records are by their tags name these', () => {
  const zones = ['sea', 'desk', 'tills', 'guest'].map(
    (name, at) => `<${name}><dev>eth${at}</dev><ip>10.20.${at}.1/24</ip></${name}>`,
  );
  const flow = (from: string, to: string) => `<flow><from>${from}</from><to>${to}</to><do>pass</do></flow>`;
  const flows = [
    flow('<tills/>', '<sea/>'),
    flow('<desk/><tills/>', '<sea/>'),
    flow('<guest/>', '<desk/><tills/>'),
    flow('<attic/>', '<sea/>'),
  ];
  const { names, gone } = linksOf(`<box><zones>${zones.join('')}</zones><flows>${flows.join('')}</flows></box>`);
  const named = names.map((text) => text.split(' ').slice(1).join(' '));
  expect(named.sort()).toEqual(
    ['desk', 'desk', 'guest', 'sea', 'sea', 'sea', 'tills', 'tills', 'tills'].map((name) => `${name} -> ${name}`),
  );
  expect(gone).toEqual(['attic']);
});

test('empty elements that are called as sections are switches of these', () => {
  const text = `<box><dhcp><low>10.20.0.10</low><high>10.20.0.90</high></dhcp><dns><server>192.0.2.53</server></dns><run><dhcp/><dns/><web/></run></box>`;
  expect(linksOf(text)).toEqual({ names: [], gone: [] });
});

test('networks called by their tags stand among other sections', () => {
  const nets = ['sea', 'desk', 'yard'].map(
    (name, at) => `<${name}><dev>em${at}</dev><ip>10.20.${at}.1</ip>${at ? '' : '<gate>10.20.0.9</gate>'}</${name}>`,
  );
  const rules = ['desk', 'yard', 'attic'].map((name) => `<allow source="${name}" target="sea"/>`);
  const text = `<box>${nets.join('')}<time><zone>Europe/Dublin</zone></time>${rules.join('')}<refuse source="yard" target="desk"/><dhcp on="desk" low="10.20.1.10" high="10.20.1.90"/></box>`;
  expect(open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'sea em0',
    'desk em1',
    'yard em2',
  ]);
  expect(linksOf(text).gone).toEqual(['attic']);
});

// Common practice, no source: ports have a code of the box beside the name that the operating system gives.
test('ports that nothing names as the system calls them go by the code beside that name', () => {
  const ports = [0, 1, 2, 3].map(
    (at) => `<socket shows="ge1-${at}" mac="00:00:5e:00:53:0${at}"><no>pt${at}</no></socket>`,
  );
  const nets = ['pt0', 'pt1', 'pt3'].map(
    (port, at) =>
      `<seat><net>net${at}</net><card>${port}</card></seat><role name="net${at}"><ip>10.20.${at}.1/24</ip></role>`,
  );
  const tags = [0, 1, 2].map(
    (at) => `<tag on="pt${2 + (at % 2)}" id="10${at}"><shows>ge1-${2 + (at % 2)}v10${at}</shows></tag>`,
  );
  const { names } = linksOf(`<box>${ports.join('')}${nets.join('')}${tags.join('')}</box>`);
  expect(names.filter((name) => name.includes('card'))).toEqual(
    ['pt0', 'pt1', 'pt3'].map((port) => `seat/card ${port} -> socket`),
  );
});

test('codes of a word for the kind and a number, under one name in several kinds of record, are one list of names', () => {
  const ports = [1, 2, 3, 4].map(
    (at) => `<socket><mac>00:00:5e:00:53:0${at}</mac><shows>LAN${at}</shows><no>pt${at}</no></socket>`,
  );
  const one =
    '<join><shows>swgroup1</shows><no>sw1</no></join><call><shows>ppp0</shows><on>pt1</on><no>se1</no></call>';
  const nets = ['se1', 'sw1', 'pt4'].map(
    (seat, at) => `<net><name>n0${at}</name><ip>10.20.${at}.1/24</ip><seat>${seat}</seat></net>`,
  );
  const { names } = linksOf(
    `<box><sockets>${ports.join('')}</sockets><joins>${one.replace('<call>', '</joins><calls><call>')}</calls><nets>${nets.join('')}</nets></box>`,
  );
  expect(names.filter((name) => name.includes('seat'))).toEqual([
    'net/seat se1 -> call',
    'net/seat sw1 -> join',
    'net/seat pt4 -> socket',
  ]);
});

test('what others name networks by is what they are called, also behind one word for their kind and beside a label', () => {
  const names = ['nw-sea', 'nw-office', 'nw-crane', 'nw-berths'];
  const nets = names.map(
    (name, at) =>
      `<net id="${name}"><says>${['Fibre', 'Desks', 'Hoist', 'Guests'][at]}</says><on>em${at}</on><ip>10.20.${at}.1/24</ip></net>`,
  );
  const ports = names.map((_, at) => `<port><is>em${at}</is><mac>00:00:5e:00:53:0${at}</mac></port>`);
  const rules = [0, 1, 2, 3, 1, 2].map((at) => `<rule><from>${names[at]}</from><do>pass</do></rule>`);
  const { reading } = open(`<box><a>${ports.join('')}</a><b>${nets.join('')}</b><c>${rules.join('')}</c></box>`);
  expect(reading.bindings.map(({ role }) => role)).toEqual(names);
});

test('beside a code the one text that tells records apart is their name where others use it, and else a remark', () => {
  const names = ['Sea wall', 'Counters', 'Bosun desk', 'Promenade', 'Berths', 'Moorings'];
  const codes = ['z_4k1hpr', 'z_91za68', 'z_5e77pp', 'z_qwbb9y', 'z_rk5c3x', 'z_zc2s85'];
  const zones = codes.map(
    (code, at) => `<z id="${code}"><name>${names[at]}</name><on>em${at}</on><ip>10.20.${at}.1</ip></z>`,
  );
  const rules = [...codes, ...codes].map((code) => `<rule><from>${code}</from><do>pass</do></rule>`);
  const pools = names.slice(1).map((name, at) => `<pool><zone>${name}</zone><low>10.20.${at + 1}.50</low></pool>`);
  const hops = names.slice(0, 2).map((name, at) => `<hop><zone>${name}</zone><to>10.20.${at}.254</to></hop>`);
  const rolesOf = (...more: string[]) => {
    const text = `<b><zs>${zones.join('')}</zs><rs>${rules.join('')}</rs>${more.join('')}</b>`;
    return open(text).reading.bindings.map(({ role }) => role);
  };
  expect(rolesOf(...pools, ...hops)).toEqual(names);
  expect(rolesOf()).toEqual(codes);
});
