import { expect, test } from 'vitest';
import { planOf, planView } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

/** Networks of a small marina, and rules that name them. How a network meets its port is common practice, no source. */
const NAMES = ['sea', 'office', 'berths', 'cameras', 'crane'];
const rules = [...NAMES, 'office', 'berths'].map((name) => `<rule><in>${name}</in><do>pass</do></rule>`).join('');
const net = (at: number, inside = '') => `<net><name>${NAMES[at]}</name><ip>10.20.${at}.1/24</ip>${inside}</net>`;
const nets = (inside: (at: number) => string = () => '') => NAMES.map((_, at) => net(at, inside(at))).join('');
/** Sockets with a hardware address each (RFC 7042, 2.1.2: for documentation). */
const port = (at: number, inside = '', id = '') =>
  `<port>${id}<label>${'ABCDE'[at]}</label><mac>00:00:5e:00:53:0${at}</mac>${inside}</port>`;
const ports = (inside: (at: number) => string) =>
  `<ports>${NAMES.map((_, at) => port(at, inside(at))).join('')}</ports>`;
const keyed = `<ports>${NAMES.map((_, at) => port(at, '', `<id>p${at}</id>`)).join('')}</ports>`;
const box = (...parts: string[]) => `<box>${parts.join('')}<rules>${rules}</rules></box>`;
const boundIn = (text: string) => open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`);
const oneEach = ['sea A', 'office B', 'berths C', 'cameras D', 'crane E'];

test('records join networks with ports, which are known by their hardware addresses', () => {
  const joins = NAMES.map((name, at) => `<join><net>${name}</net><port>p${at}</port><weight>${at + 7}</weight></join>`);
  expect(boundIn(box(keyed, `<nets>${nets()}</nets>`, `<joins>${joins.join('')}</joins>`))).toEqual(oneEach);
});

test('ports name their networks, or hold them', () => {
  expect(
    boundIn(
      box(
        ports((at) => `<for>${NAMES[at]}</for>`),
        `<nets>${nets()}</nets>`,
      ),
    ),
  ).toEqual(oneEach);
  const held = (at: number) => (at === 2 ? net(2) + net(3) + net(4) : at < 2 ? net(at) : '');
  expect(boundIn(box(ports((at) => `<nets>${held(at)}</nets>`)))).toEqual([
    ...oneEach.slice(0, 3),
    'cameras C',
    'crane C',
  ]);
});

test('parts of a port name the networks that are tagged on it', () => {
  const units = [3, 4].map((at) => `<unit><tag>${at + 20}</tag><for>${NAMES[at]}</for></unit>`).join('');
  const text = box(
    ports((at) => (at === 2 ? `<for>berths</for><units>${units}</units>` : at < 2 ? `<for>${NAMES[at]}</for>` : '')),
    `<nets>${nets()}</nets>`,
  );
  expect(boundIn(text).sort()).toEqual(['berths C', 'cameras C.23', 'crane C.24', 'office B', 'sea A']);
});

test('networks name VLANs by their numbers, and VLANs their ports', () => {
  const vlans = [2, 3, 4].map(
    (at) => `<vlan><id>v${at}</id><on>igb2</on><tag>${at * 40}</tag><shows>igb2.${at * 40}</shows></vlan>`,
  );
  const text = box(
    `<nets>${nets((at) => (at < 2 ? `<on>igb${at}</on>` : `<tag>${at * 40}</tag>`))}</nets>`,
    `<vlans>${vlans.join('')}</vlans>`,
  );
  expect(boundIn(text)).toEqual(['sea igb0', 'office igb1', 'berths igb2.80', 'cameras igb2.120', 'crane igb2.160']);
});

test('VLANs list their ports, and networks sit on each', () => {
  const vlans = NAMES.map(
    (_, at) => `<vlan><tag>${at + 90}</tag><members>p${at}${at > 2 ? ',p1' : ''}</members></vlan>`,
  );
  const text = box(keyed, `<vlans>${vlans.join('')}</vlans>`, `<nets>${nets((at) => `<tag>${at + 90}</tag>`)}</nets>`);
  expect(boundIn(text)).toEqual(['sea A', 'office B', 'berths C', 'cameras D', 'cameras B', 'crane E', 'crane B']);
});

test('what kind of thing a network sits on is told before its name', () => {
  const kind = (before: string, after: string) =>
    boundIn(box(keyed, `<nets>${nets((at) => `<on>${before}p${at}${after}</on>`)}</nets>`));
  expect(kind('port:', '')).toEqual(oneEach);
  expect(kind('/ports/', '')).toEqual(oneEach);
  expect(kind('port(', ')')).toEqual(oneEach);
});

test('a number behind a word is that of a record of the kind, also where each kind counts by itself', () => {
  const numbered = NAMES.map((_, at) => port(at, '', `<no>${at + 1}</no>`)).join('');
  const vlans = [7, 8].map((tag, at) => `<vlan><no>${at + 1}</no><on>port/3</on><tag>${tag}</tag></vlan>`).join('');
  const bond = '<bond><no>1</no><label>bond0</label><members>port/1 port/2</members></bond>';
  const on = (at: number) => `<on>${['bond/1', 'vlan/1', 'vlan/2', 'port/4', 'port/5'][at]}</on>`;
  const text = box(`<ports>${numbered}</ports>`, `<vlans>${vlans}</vlans>${bond}`, `<nets>${nets(on)}</nets>`);
  expect(boundIn(text)).toEqual(['sea bond0', 'office C.7', 'berths C.8', 'cameras D', 'crane E']);
});

test('VLANs that name ports in two ways have members, and are no devices of one of them', () => {
  const vlan = (at: number) =>
    `<vlan><tag>${at + 90}</tag>${at < 3 ? `<plain>p${at}</plain>` : ''}<tagged>p${4 - (at % 2)}</tagged></vlan>`;
  const text = box(
    keyed,
    `<vlans>${NAMES.map((_, at) => vlan(at)).join('')}</vlans>`,
    // The number is called otherwise than that of the VLAN: it is the same number beside an address.
    `<nets>${nets((at) => `<lies>${at + 90}</lies>`)}</nets>`,
  );
  expect(boundIn(text).sort()).toEqual(
    ['berths C', 'berths E', 'cameras D', 'crane E', 'office B', 'office D', 'sea A', 'sea E'].sort(),
  );
});

test('a record that joins a network with a port makes no device of the port, whatever number stands beside', () => {
  const joins = NAMES.map(
    (name, at) => `<join><net>${name}</net><port>p${Math.min(at, 2)}</port><vlan>${at + 7}</vlan></join>`,
  );
  expect(boundIn(box(keyed, `<nets>${nets()}</nets>`, `<joins>${joins.join('')}</joins>`))).toEqual([
    ...oneEach.slice(0, 3),
    'cameras C',
    'crane C',
  ]);
});

test('numbers that networks have one instead of the other are of different kinds of record', () => {
  const parts = `<parts>${[1, 2, 3].map((no) => `<part><no>${no}</no><tag>${no * 70}</tag></part>`).join('')}</parts>`;
  const numbered = NAMES.map((_, at) => port(at, at === 2 ? parts : '', `<no>${at + 1}</no>`)).join('');
  const on = (at: number) => (at < 2 ? `<portNo>${at + 1}</portNo>` : `<laneNo>${at - 1}</laneNo>`);
  const numberedNets = NAMES.map((_, at) => net(at, `<no>${at + 1}</no>${on(at)}`)).join('');
  const sets = NAMES.map((name, at) => `<set><no>${at + 1}</no><called>${name}-hosts</called></set>`).join('');
  const uses = [4, 2, 5, 1, 3, 2].map((no) => `<rule><netNo>${no}</netNo><setNo>${6 - no}</setNo></rule>`).join('');
  const text = `<box><ports>${numbered}</ports><nets>${numberedNets}</nets><sets>${sets}</sets><rules>${uses}</rules></box>`;
  expect(boundIn(text)).toEqual(['sea A', 'office B', 'berths C.70', 'cameras C.140', 'crane C.210']);
});

test('a network that stands alone in a list in its port is one of several all the same', () => {
  const text = box(ports((at) => `<netList>${net(at)}</netList>`));
  expect(boundIn(text)).toEqual(oneEach);
});

test('a network that its port names stays with it: the port is not renamed by a move', () => {
  const { backup, reading } = open(
    box(
      ports((at) => `<for>${NAMES[at]}</for>`),
      `<nets>${nets()}</nets>`,
    ),
  );
  const role = pathOf(backup.tree, reading.roles[1]!.node);
  const { troubles } = planView(backup, reading, planOf([{ kind: 'move-role', role, to: { on: 'port', port: 'D' } }]));
  expect(troubles.map(({ code }) => code)).toEqual(['plan-role-is-port']);
});

test('slot and socket in two fields name a port together', () => {
  const socket = (at: number) => `<slot>${at >> 1}</slot><socket>${(at % 2) + 1}</socket>`;
  const text = box(
    ports((at) => socket(at)),
    `<nets>${nets(socket)}</nets>`,
  );
  expect(boundIn(text)).toEqual(oneEach);
});

test('slot and socket stand side by side in ports and in networks, whatever both are called', () => {
  const onlyFirst = (at: number) => `<mode>1</mode><card>0</card><jack>${(at % 4) + 1}</jack>`;
  const text = box(
    ports((at) => `<x>${at >> 2}</x><y>${(at % 4) + 1}</y>`),
    `<nets>${nets(onlyFirst)}</nets>`,
  );
  expect(boundIn(text)).toEqual([...oneEach.slice(0, 4), 'crane A']);
});

test('units that lie in their ports and that networks name are tagged devices', () => {
  const units = [2, 3, 4].map((at) => `<unit><id>u${at}</id><tag>${at + 30}</tag></unit>`).join('');
  const text = box(
    `<ports>${NAMES.map((_, at) => port(at, at === 2 ? `<units>${units}</units>` : '', `<id>p${at}</id>`)).join('')}</ports>`,
    `<nets>${nets((at) => `<on>${at < 2 ? 'p' : 'u'}${at}</on>`)}</nets>`,
  );
  expect(boundIn(text)).toEqual(['sea A', 'office B', 'berths C.32', 'cameras C.33', 'crane C.34']);
});

test('zones list devices that have the addresses, a row for each', () => {
  const devices = NAMES.map(
    (_, at) => `<port><label>${'ABCDE'[at]}</label><mac>00:00:5e:00:53:0${at}</mac><ip>10.20.${at}.1/24</ip></port>`,
  );
  const zones = NAMES.map((name) => `<zone><name>${name}</name><mtu>1500</mtu></zone>`);
  const rows = NAMES.map((name, at) => `<row><zone>${name}</zone><port>${'ABCDE'[at]}</port></row>`);
  const text = box(`<ports>${devices.join('')}</ports><zones>${zones.join('')}</zones><rows>${rows.join('')}</rows>`);
  expect(boundIn(text)).toEqual(oneEach);
});

test('bundles and bridges are devices as ports are, where they are called under the same word', () => {
  const pair = (at: number, members: string) => `<pair><id>g${at}</id><label>pair${at}</label>${members}</pair>`;
  const made = `<pairs>${pair(1, '<of>p3</of><of>p4</of>')}${pair(2, '<of>p1</of><of>p2</of>')}</pairs>`;
  const joins = ['p0', 'g1', 'g2'].map((on, at) => `<join><net>${NAMES[at]}</net><on>${on}</on></join>`);
  const text = box(keyed, made, `<nets>${nets()}</nets>`, `<joins>${joins.join('')}</joins>`);
  expect(boundIn(text)).toEqual(['sea A', 'office pair1', 'berths pair2']);
});

test('VLANs are named by small numbers, too, where these are neither round nor count anything', () => {
  const vlans = (inside: (at: number) => string) =>
    `<vlans>${NAMES.map((_, at) => `<vlan><mark>${at + 41}</mark>${inside(at)}</vlan>`).join('')}</vlans>`;
  const lie = `<nets>${nets((at) => `<lies>${at + 41}</lies>`)}</nets>`;
  const members = vlans((at) => `<members>p${at}${at > 2 ? ',p1' : ''}</members>`);
  expect(boundIn(box(keyed, members, lie))).toEqual([...oneEach.slice(0, 4), 'cameras B', 'crane E', 'crane B']);
  const carries = ports((at) => `<carries>${at + 41}</carries>`);
  const { references } = open(
    box(
      carries,
      vlans(() => '<mode>plain</mode>'),
      `<nets>${nets()}</nets>`,
    ),
  ).reading;
  expect(references.filter(({ value }) => Number(value) > 40)).toHaveLength(NAMES.length);
});

test('ports and VLANs in one table are told apart by their kind, not by what is the same in all', () => {
  const lane = (at: number) =>
    `<port><title>v${at}</title><sort>lane</sort><tag>${at + 90}</tag><plain>${'ABCDE'[at]}</plain>${at > 2 ? '<tagged>B</tagged>' : ''}</port>`;
  const things = [
    ...NAMES.map((_, at) => port(at, '<sort>socket</sort><speed>1000</speed>')),
    ...NAMES.map((_, at) => lane(at)),
    '<port><label>dial0</label><sort>line</sort><over>A</over><login>quay</login></port>',
  ].map((text) => text.replace('<port>', '<port><table>port</table>'));
  const text = box(`<things>${things.join('')}</things>`, `<nets>${nets((at) => `<tag>${at + 90}</tag>`)}</nets>`);
  expect(boundIn(text)).toEqual([...oneEach.slice(0, 4), 'cameras B', 'crane E', 'crane B']);
});

test('what joins networks with VLANs by their numbers defines none of these', () => {
  const tag = (at: number) => 70 + at * 9;
  const vlans = [1, 2, 3, 4].map(
    (at) => `<lane><on>C</on><vlanTag>${tag(at)}</vlanTag><shows>C.${tag(at)}</shows><note>lane ${at}</note></lane>`,
  );
  const joins = NAMES.map(
    (name, at) => `<join><net>${name}</net>${at === 0 ? '<port>A</port>' : `<vlanTag>${tag(at)}</vlanTag>`}</join>`,
  );
  const text = box(
    ports(() => ''),
    `<lanes>${vlans.join('')}</lanes>`,
    `<nets>${nets()}</nets>`,
    `<joins>${joins.join('')}</joins>`,
  );
  expect(boundIn(text)).toEqual(['sea A', ...[1, 2, 3, 4].map((at) => `${NAMES[at]} C.${tag(at)}`)]);
  const { references, fields } = open(text).reading;
  const naming = references.filter(({ value }) => value === String(tag(1))).map(({ field }) => fields[field]!.name);
  expect(naming).toEqual(['join/vlanTag']);
});

test('the name of a VLAN is no name of the network that sits on it; a bridge of one port is the bridge', () => {
  const birds = ['heron', 'tern', 'gull', 'swift', 'avocet'];
  const codes = NAMES.map((_, one) => `3fa91c0${one}`);
  const coded = NAMES.map(
    (name, one) =>
      `<net><id>${codes[one]}</id><title>all of the ${name}</title><on>${birds[one]}</on><ip>10.20.${one}.1/24</ip></net>`,
  );
  const vlans = birds.map((bird, one) => `<vlan><name>${bird}</name><mark>${one + 90}</mark></vlan>`).join('');
  const held = ports((one) => `<speed>1000</speed>${one > 0 && one < 4 ? `<plain>${birds[one]}</plain>` : ''}`);
  const bridge = `<bridge><label>br0</label><part>E</part><plain>${birds[4]}</plain></bridge>`;
  const uses = [...codes, ...codes].map((code) => `<rule><in>${code}</in><do>pass</do></rule>`).join('');
  const text = `<box>${held}<bridges>${bridge}</bridges><vlans>${vlans}</vlans><nets>${coded.join('')}</nets><rules>${uses}</rules></box>`;
  expect(boundIn(text)).toEqual([
    'all of the office B',
    'all of the berths C',
    'all of the cameras D',
    'all of the crane br0',
  ]);
});

test('ports whose hardware addresses have no marks hold networks all the same, and so do bundles beside them', () => {
  const held = (at: number) => (at === 2 ? net(2) + net(3) : at < 2 ? net(at) : '');
  const bare = NAMES.map(
    (_, at) =>
      `<port id="p${at}" label="${'ABCDE'[at]}" hw="00005E00530${at}" speed="1000"><nets>${held(at)}</nets></port>`,
  );
  const bundle = `<port id="p5" label="bond0" of="p3,p4"><nets>${net(4)}</nets></port>`;
  expect(boundIn(box(`<ports>${bare.join('')}${bundle}</ports>`))).toEqual([
    ...oneEach.slice(0, 3),
    'cameras C',
    'crane bond0',
  ]);
});
