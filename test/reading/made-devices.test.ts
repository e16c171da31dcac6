import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

/**
 * What is made of ports, beside tables of these. Hardware addresses for documentation are those of RFC 7042, 2.1.2, rates those of
 * IEEE 802.3; how networks meet ports is common practice, no source.
 */
const NAMES = ['sea', 'office', 'crane', 'berths'];
const rules = `<rules>${[...NAMES, 'office', 'crane'].map((name) => `<rule><in>${name}</in><do>pass</do></rule>`).join('')}</rules>`;
const mac = (at: number) => `<mac>00:00:5e:00:53:0${at}</mac>`;
const ports = (more: (at: number) => string = () => '', names = ['X1', 'X2', 'X3', 'X4', 'X5']) =>
  `<ports>${names.map((name, at) => `<port><is>${name}</is>${mac(at)}<rate>1000</rate>${more(at)}</port>`).join('')}</ports>`;
const nets = (more: (at: number) => string = () => '') =>
  `<nets>${NAMES.map((name, at) => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip>${more(at)}</net>`).join('')}</nets>`;
const boundIn = (...parts: readonly string[]) =>
  open(`<box>${parts.join('')}${rules}</box>`)
    .reading.bindings.map(({ role, port }) => `${role} ${port}`)
    .sort();

const pair = (more = '') =>
  `<pairs><pair><is>pair0</is><mode>balance</mode><legs><leg><of>X4</of></leg><leg><of>X5</of></leg></legs>${more}</pair></pairs>`;

test('what holds records of ports, and is named by a network, is a device', () => {
  const key = (at: number) => `<id>${at}c832501eab</id>`;
  const on = [0, 1, 9, 2];
  const group = `<pairs><pair>${key(9)}<is>pair0</is><mode>balance</mode><legs><leg><of>3c832501eab</of></leg><leg><of>4c832501eab</of></leg></legs></pair></pairs>`;
  expect(
    boundIn(
      ports(key),
      group,
      nets((at) => `<on>${on[at]}c832501eab</on>`),
    ),
  ).toEqual(['berths X3', 'crane pair0', 'office X2', 'sea X1']);
});

test('what names a network as ports do others is a device, and no second name of the port that it goes over', () => {
  const held = ports((at) => (at === 1 || at === 2 ? `<for>${NAMES[at]}</for>` : ''));
  const line = '<lines><line><is>dial0</is><over>X1</over><login>quay</login><for>sea</for></line></lines>';
  expect(boundIn(held, pair('<for>berths</for>'), line, nets())).toEqual([
    'berths pair0',
    'crane X3',
    'office X2',
    'sea dial0',
  ]);
});

test('what is another kind in the table of the ports, and called under the same word, is a device', () => {
  const it = (sort: string, at: number, more: string) => `<it><id>${at}</id><sort>${sort}</sort>${more}</it>`;
  const docks = [1, 2, 3, 4].map((at) => it('dock', at, `<is>X${at}</is>${mac(at)}<rate>1000</rate>`));
  const lanes = [5, 6].map((at) =>
    it('lane', at, `<over>dock:3</over><tag>${at * 10}</tag><for>${NAMES[at - 5]}</for><note>of ${at}</note>`),
  );
  const bridge = it('bridge', 7, '<is>bridge0</is><for>crane</for><note>joined</note>');
  const line = it('line', 8, '<is>ppp0</is><over>dock:1</over><for>berths</for><login>quay</login>');
  expect(boundIn(`<all>${docks.join('')}${lanes.join('')}${bridge}${line}</all>`, nets())).toEqual([
    'berths ppp0',
    'crane bridge0',
    'office X3.60',
    'sea X3.50',
  ]);
});

test('VLANs that name a network and their port make devices where something else that is a device names networks', () => {
  const keyed = ports((at) => `<id>${at}e991740aa6</id>`);
  const line = `<lines><line><is>ppp0</is><over>0e991740aa6</over><for>sea</for></line></lines>`;
  const vlans = [1, 2, 3].map(
    (at) => `<vlan><id>${at}c832501eab</id><over>2e991740aa6</over><tag>${at + 20}</tag><for>${NAMES[at]}</for></vlan>`,
  );
  expect(boundIn(keyed, line, `<vlans>${vlans.join('')}</vlans>`, nets())).toEqual([
    'berths X3.23',
    'crane X3.22',
    'office X3.21',
    'sea ppp0',
  ]);
});

test('numbers that name a port together name nothing else, each by itself', () => {
  const slots = ports(
    (at) => `<slot>${at >> 2}</slot><jack>${(at % 4) + 1}</jack>`,
    ['0/1', '0/2', '0/3', '0/4', '0/5'],
  )
    .replaceAll('X4', '0/4')
    .replaceAll('X5', '0/5');
  const legs = `<pairs><n1><is>pair0</is><legs><n1><of>0/4</of></n1><n2><of>0/5</of></n2><n3><of>0/3</of></n3></legs></n1></pairs>`;
  const on = (at: number) => (at === 3 ? '<on>pair0</on>' : `<slot>0</slot><jack>${at + 1}</jack>`);
  expect(boundIn(slots, legs, nets(on))).toEqual(['berths pair0', 'crane 0/3', 'office 0/2', 'sea 0/1']);
});

test('devices are made of parts in the record of a port that is called by a letter', () => {
  const lettered = ports(
    (at) => (at === 2 ? '<units><unit><tag>1</tag></unit><unit><tag>2</tag></unit></units>' : ''),
    ['A', 'B', 'C', 'D', 'E'],
  );
  const on = ['A', 'C.v1', 'D', 'C.v2'];
  const joins = NAMES.map(
    (name, at) => `<join><net>${name}</net><nic>${on[at]}</nic><metric>${at + 10}</metric></join>`,
  );
  expect(boundIn(lettered, nets(), `<joins>${joins.join('')}</joins>`)).toEqual([
    'berths C.v2',
    'crane D',
    'office C.v1',
    'sea A',
  ]);
});

const hex = (at: number) => `${at}c832501eab`;

test('any word may stand before identifiers that are known, also one that has digits and says nothing', () => {
  const vlans = [1, 2, 3].map(
    (at) => `<vlan><id>${hex(at + 5)}</id><over>${hex(2)}</over><tag>${at + 20}</tag></vlan>`,
  );
  const on = [`/S007/${hex(0)}`, `/Y57E/${hex(6)}`, `/Y57E/${hex(7)}`, `/Y57E/${hex(8)}`];
  const text = [
    ports((at) => `<id>${hex(at)}</id>`),
    `<vlans>${vlans.join('')}</vlans>`,
    nets((at) => `<on>${on[at]}</on>`),
  ];
  expect(boundIn(...text)).toEqual(['berths X3.23', 'crane X3.22', 'office X3.21', 'sea X1']);
});

test('identifiers that only one kind in a table has are keys of that kind', () => {
  const it = (more: string) => `<it>${more}</it>`;
  const docks = [1, 2, 3].map((at) => it(`<id>${hex(at)}</id><is>X${at}</is>${mac(at)}<rate>1000</rate>`));
  const lanes = [1, 2, 3, 4].map((at) => it(`<over>${hex(3)}</over><tag>${at}</tag><is>X3.${at}</is>`));
  const own = (at: number) => (at < 2 ? `<on>${hex(at + 1)}</on>` : `<nic>X3.${at}</nic>`);
  expect(boundIn(`<all>${docks.join('')}${lanes.join('')}</all>`, nets(own))).toEqual([
    'berths X3.3',
    'crane X3.2',
    'office X2',
    'sea X1',
  ]);
});

test('rows say which ports are parts of what networks name, and hardware addresses may have no marks', () => {
  const keyed = ports((at) => `<id>${hex(at)}</id>`).replaceAll(/00:00:5e:00:53:/g, '00005e0053');
  const group = `<pairs><pair><id>${hex(9)}</id><is>pair0</is><mode>balance</mode></pair></pairs>`;
  const rows = [3, 4].map((at) => `<part><of>${hex(9)}</of><port>${hex(at)}</port></part>`);
  const on = [0, 1, 9, 2];
  expect(
    boundIn(
      keyed,
      group,
      `<parts>${rows.join('')}</parts>`,
      nets((at) => `<on>${hex(on[at]!)}</on>`),
    ),
  ).toEqual(['berths X3', 'crane pair0', 'office X2', 'sea X1']);
});

test('tagged devices are called by a word and the number of a part of their port, which has no other name', () => {
  const units = '<units><unit><tag>20</tag></unit><unit><tag>30</tag></unit><unit><tag>40</tag></unit></units>';
  const on = ['port(X1)', 'lane(vlan20)', 'lane(vlan30)', 'lane(vlan40)'];
  expect(
    boundIn(
      ports((at) => (at === 2 ? units : '')),
      nets((at) => `<on>${on[at]}</on>`),
    ),
  ).toEqual(['berths vlan40', 'crane vlan30', 'office vlan20', 'sea X1']);
});

test('in one table of ports and more VLANs each is called by its name', () => {
  const docks = ['a', 'b', 'c'].map(
    (name, at) => `<it><id>pt${at}</id><is>quay-${name}</is><sort>dock</sort>${mac(at)}<rate>1000</rate></it>`,
  );
  const lanes = [1, 2, 3, 4].map(
    (at) => `<it><id>vn${at}</id><is>vlan${at}00</is><sort>lane</sort><over>dock(pt2)</over><tag>${at}00</tag></it>`,
  );
  const held = [docks[0]!, ...docks.slice(1), ...lanes]
    .join('')
    .replace('<sort>dock', '<for>sea</for><sort>dock')
    .replace('<sort>lane', '<for>office</for><sort>lane')
    .replace('<is>vlan200</is>', '<is>vlan200</is><for>crane</for>')
    .replace('<is>vlan300</is>', '<is>vlan300</is><for>berths</for>');
  expect(boundIn(`<all>${held}</all>`, nets())).toEqual([
    'berths vlan300',
    'crane vlan200',
    'office vlan100',
    'sea quay-a',
  ]);
});

test('a word before names that has digits is none of theirs where several stand behind it', () => {
  const label = (word: string, at: number) => `<title>${word} ${at}</title>`;
  const lanes = [1, 2].map((at) => `<lane>${label('Tagged', at)}<over>f15:Socket 3</over><tag>${at}00</tag></lane>`);
  const on = ['f15:Socket 1', 'f15:Socket 2', 'f20:Tagged 1', 'f20:Tagged 2'];
  const text = [ports((at) => label('Socket', at + 1)), `<lanes>${lanes.join('')}</lanes>`];
  expect(
    boundIn(
      ...text,
      nets((at) => `<on>${on[at]}</on>`),
    ),
  ).toEqual(['berths X3.200', 'crane X3.100', 'office X2', 'sea X1']);
});

test('a column that few ports have is no name of theirs', () => {
  const called = ['n11', 'n12', 'n13', 'n14'];
  const it = (more: string) => `<it>${more}</it>`;
  const docks = [0, 1, 2, 3].map((at) =>
    it(`<is>copper-1/${at}</is>${mac(at)}<rate>1000</rate>${at < 2 ? `<for>${called[at]}</for>` : ''}`),
  );
  const lanes = [2, 3].map((at) =>
    it(`<is>copper-1/3v${at}</is><over>copper-1/3</over><tag>${at}</tag><for>${called[at]}</for>`),
  );
  const own = called.map(
    (name, at) => `<net><name>${name}</name><title>Berth ${at}</title><ip>10.20.${at}.1/24</ip></net>`,
  );
  const uses = [...called, 'n12', 'n13'].map((name) => `<rule><in>${name}</in><do>pass</do></rule>`);
  const text = `<box><all>${docks.join('')}${lanes.join('')}</all><nets>${own.join('')}</nets><uses>${uses.join('')}</uses></box>`;
  expect(open(text).reading.ports.map(({ name }) => name)).not.toContain('n11');
});

test('VLANs on ports and on a bundle that holds ports get the names that the operating system would give', () => {
  const group =
    '<pairs><pair><is>pair0</is><legs><leg><of>LAN8</of></leg><leg><of>LAN9</of></leg></legs></pair></pairs>';
  const over = ['LAN3', 'pair0', 'LAN4'];
  const lanes = over.map((on, at) => `<lane><under>${on}</under><tag>${at + 210}</tag><note>of ${at}</note></lane>`);
  const own = (at: number) => (at < 2 ? `<on>LAN${at + 1}</on>` : `<tag>${at + 208}</tag>`);
  expect(boundIn(group, `<lanes>${lanes.join('')}</lanes>`, nets(own))).toEqual([
    'berths pair0.211',
    'crane LAN3.210',
    'office LAN2',
    'sea LAN1',
  ]);
});

test('numbers that stand instead of a port in networks name VLANs, though they may be counts', () => {
  const lanes = [1, 2, 3, 4].map((at) => `<lane><under>X3</under><no>${at}</no><is>X3_${at}</is></lane>`);
  const own = (at: number) => (at === 0 ? '<on>X1</on>' : `<vn>${at}</vn>`);
  expect(boundIn(ports(), `<lanes>${lanes.join('')}</lanes>`, nets(own))).toEqual([
    'berths X3_3',
    'crane X3_2',
    'office X3_1',
    'sea X1',
  ]);
});

test('tagged devices that have names are called by nothing else, though they name networks as ports do', () => {
  const lanes = [20, 30, 40].map(
    (tag, at) =>
      `<lane><id>vn${at + 1}</id><under>X3</under><tag>${tag}</tag><is>X3-v${tag}</is><for>${NAMES[at + 1]}</for></lane>`,
  );
  const own = ports((at) => (at === 0 ? `<for>${NAMES[0]}</for>` : ''));
  const text = `<box>${own}<lanes>${lanes.join('')}</lanes>${nets()}${rules}</box>`;
  expect(open(text).reading.ports.map(({ name }) => name)).not.toContain('vn1');
});

test('of two words that may be the port below tagged devices, that is one which an operating system would call so', () => {
  const lane = (tag: number) => `<r k="f37"><shows>vlan${tag}</shows><tag>${tag}</tag><under>igb2</under></r>`;
  const net = (name: string, on: string, at: number) =>
    `<r k="f135"><name>${name}</name><on>${on}</on><ip>10.20.${at}.1/24</ip></r>`;
  const lanes = [10, 15, 20, 25].map(lane);
  const own = [
    net('sea', 'igb0', 1),
    net('office', 'vlan10', 2),
    net('crane', 'vlan15', 3),
    net('berths', 'vlan20', 4),
  ];
  const { reading } = open(`<box><a>${lanes.join('')}</a><b>${own.join('')}</b></box>`);
  expect(reading.ports.map(({ name }) => name)).toContain('igb2');
  expect(reading.ports.map(({ name }) => name)).not.toContain('f37');
});

test('what ports have besides their names is no name of what names networks as they do', () => {
  const held = ports((at) => `<id>pt${at}</id>${at === 0 ? '<for>sea</for>' : ''}`);
  const parts = [1, 2, 3].map(
    (at) =>
      `<part><id>vn${at}</id><portid>pt${at < 3 ? 2 : 3}</portid><number>${200 + at * 10}</number><for>${NAMES[at]}</for></part>`,
  );
  expect(boundIn(held, `<parts>${parts.join('')}</parts>`, nets())).toEqual([
    'berths X4.230',
    'crane X3.220',
    'office X3.210',
    'sea X1',
  ]);
});

const swgroup = '<groups><group><nr>1</nr><is>swgroup1</is><memo>joined on the pier</memo></group></groups>';
const members = ['X2', 'X5'].map((is) => `<member><group-nr>1</group-nr><of>${is}</of></member>`).join('');

test('what ports say that they are parts of is a device, where a network says its name and ports are named by nothing else', () => {
  const part = (at: number) => (at === 1 || at === 4 ? '<part-of>bond-a1</part-of>' : '');
  const numbered = ports((at) => `<slot>${at > 2 ? 1 : 0}</slot><place>${(at % 3) + 1}</place>${part(at)}`);
  const on = (at: number) =>
    at === 1 ? '<wire>bond-a1</wire>' : `<slot>${at === 3 ? 1 : 0}</slot><place>${at === 2 ? 3 : 1}</place>`;
  const group = '<groups><group><is>bond-a1</is><memo>joined on the pier</memo></group></groups>';
  expect(boundIn(numbered, group, nets(on))).toEqual(['berths X4', 'crane X3', 'office bond-a1', 'sea X1']);
});

test('two numbers name a port together beside one that counts ports and networks; what ports are called by names no members', () => {
  const numbered = ports((at) => `<nr>${at}</nr><slot>${at > 2 ? 1 : 0}</slot><place>${(at % 3) + 1}</place>`);
  const on = (at: number) =>
    `<nr>${at}</nr>${at === 1 ? '<wire>swgroup1</wire>' : `<slot>${at === 3 ? 1 : 0}</slot><place>${at === 2 ? 3 : 1}</place>`}`;
  expect(boundIn(numbered, swgroup, members, nets(on))).toEqual(['berths X4', 'crane X3', 'office swgroup1', 'sea X1']);
});

test('records in the list of all that nothing names are no devices, though they are counted and name a host', () => {
  const item = (kind: string, id: string, inside: string) => `<item class="${kind}" id="${id}">${inside}</item>`;
  const list = (kind: string, ids: readonly string[], inside: (at: number) => string) =>
    ids.map((id, at) => item(kind, id, inside(at))).join('');
  const hosts = ['till', 'desk', 'printer', 'camera'];
  const { reading } = open(
    `<store>${list('port', ['X1', 'X2', 'X3', 'X4', 'X5'], (at) => `${mac(at)}<rate>1000</rate>`)}
    ${item('pair', 'pair0', '<mode>balance</mode><of>X4</of><of>X5</of>')}
    ${list('net', NAMES, (at) => `<on>${['X1', 'X2', 'X3', 'pair0'][at]}</on><ip>10.20.${at}.1/24</ip>`)}
    ${list('host', hosts, (at) => `<ip>10.20.1.${at + 9}</ip><says>${hosts[at]!}, by the door</says>`)}
    ${list('lease', ['fx1', 'fx2', 'fx3', 'fx4'], (at) => `<mac>00:00:5e:00:53:f${at}</mac><gives>${hosts[at]!}</gives>`)}
    ${list('rule', ['r1', 'r2', 'r3', 'r4', 'r5'], (at) => `<in>${NAMES[at % 4]!}</in><from>${hosts[(at * 3) % 4]!}</from><do>pass</do>`)}</store>`,
  );
  expect(reading.ports.map(({ name }) => name).sort()).toEqual(['X1', 'X2', 'X3', 'X4', 'X5', 'pair0']);
});

test('what ports name as theirs, or lists them by their keys, and networks sit on is a device, whatever its name is called', () => {
  const keyed = (at: number) => `<id>Socket ${at + 1}</id>`;
  const listing = '<pairs><pair><id>Pair 1</id><shows>pair0</shows><legs>Socket 4;Socket 5</legs></pair></pairs>';
  const on = ['Socket 1', 'Socket 2', 'Pair 1', 'Socket 3'];
  const joins = NAMES.map((name, at) => `<join><net>${name}</net><seat>${on[at]}</seat></join>`).join('');
  const bound = ['berths X3', 'crane pair0', 'office X2', 'sea X1'];
  expect(boundIn(ports(keyed), listing, nets(), `<joins>${joins}</joins>`)).toEqual(bound);
  const it = (sort: string, id: string, more: string) => `<it sort="${sort}"><id>${id}</id>${more}</it>`;
  const docks = [1, 2, 3, 4, 5].map((at) =>
    it('dock', `pt${at}`, `<is>X${at}</is>${mac(at)}<rate>1000</rate>${at > 3 ? '<of>bridge(sw9)</of>' : ''}`),
  );
  const bridge = it('bridge', 'sw9', '<is>bridge0</is><note>joined on the pier</note>');
  const seats = ['dock(pt1)', 'dock(pt2)', 'bridge(sw9)', 'dock(pt3)'];
  const held = nets((at) => `<on>${seats[at]}</on>`);
  expect(boundIn(`<all>${docks.join('')}${bridge}</all>`, held)).toEqual([
    'berths X3',
    'crane bridge0',
    'office X2',
    'sea X1',
  ]);
});

test('one field that names ports, bundles and lines by identifiers names each of its kind, and each is called by its numbered name', () => {
  // Single letters call fields: what one kind calls its name another calls its identifier.
  const docks = [0, 1, 2, 3, 4].map((at) => `<o a="${hex(at)}" b="X${at + 1}" v="00:00:5e:00:53:0${at}" c="1000"/>`);
  const pairs = `<p b="${hex(8)}" k="pair0" j="lacp"/><p b="${hex(9)}" k="pair1" j="failover"/>`;
  const parts = [3, 4].map((at) => `<c f="${hex(at + 5)}" m="${hex(at)}"/>`);
  const line = `<l j="${hex(7)}" g="dial0" d="${hex(0)}" r="quay@mainland.example"/>`;
  const on = [7, 1, 8, 2];
  const held = nets((at) => `<s><f>${hex(on[at]!)}</f></s>`);
  expect(boundIn(...docks, pairs, ...parts, line, held)).toEqual([
    'berths X3',
    'crane pair0',
    'office X2',
    'sea dial0',
  ]);
});

test('what joins networks with ports, VLANs and the one bundle by identifiers names these, and is named by none of them', () => {
  const docks = [0, 1, 2, 3, 4].map((at) => `<j a="${hex(at)}" z="X${at + 1}" p="00:00:5e:00:53:0${at}" h="1000"/>`);
  const lanes = [5, 6].map((at) => `<o q="${hex(at)}" p="${hex(2)}" k="10${at}" n="Tag of ${at}"/>`);
  const spare = `<o q="d970e42e5f" p="${hex(2)}" k="108" n="spare"/>`;
  const bundle = `<s><r f="${hex(9)}" h="trunk0" w="balance" d="to the boathouse"/></s>`;
  const parts = [3, 4].map((at) => `<t r="${hex(9)}" b="${hex(at)}"/>`);
  const on = [0, 5, 9, 6];
  const seats = NAMES.map((name, at) => `<v t="${name}" e="${hex(on[at]!)}" b="${at + 10}" o="yes"/>`);
  const text = [...lanes, spare, nets(), ...parts, ...docks, ...seats, bundle];
  expect(boundIn(...text)).toEqual(['berths X3.106', 'crane trunk0', 'office X3.105', 'sea X1']);
  const { names } = linksOf(`<box>${text.join('')}${rules}</box>`);
  expect(names.filter((name) => name.endsWith('-> v'))).toEqual([]);
});
