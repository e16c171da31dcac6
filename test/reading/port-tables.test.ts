import { expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { nameOf } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';

// Common practice, no source: a table of ports, and networks that name its records by keys.
const nets = [
  ['sea', '203.0.113.2/29'],
  ['desk', '10.20.1.1/24'],
  ['till', '10.20.30.1/24'],
  ['lens', '10.20.40.1/24'],
] as const;
const rules = [...nets, ...nets].map(([name]) => `<rule><from>${name}</from><do>pass</do></rule>`).join('');

const boundIn = (text: string) => open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`);

test('ports that tagged devices name by their names are ports of networks, too', () => {
  const ports = ['igc0', 'igc1', 'igc2'].map(
    (device, at) => `<port><name>socket-${'abc'[at]}</name><device>${device}</device></port>`,
  );
  const tagged = [30, 40].map((tag) => `<tagged><name>tag-${tag}</name><on>socket-c</on><vlan>${tag}</vlan></tagged>`);
  const on = ['socket-a', 'socket-b', 'tag-30', 'tag-40'];
  const zones = nets.map(
    ([name, ip], at) => `<zone><name>${name}</name><member>${on[at]}</member><ip>${ip}</ip></zone>`,
  );
  const text = `<box><ports>${ports.join('')}</ports><tags>${tagged.join('')}</tags><zones>${zones.join('')}</zones><rules>${rules}</rules></box>`;
  expect(boundIn(text)).toEqual(['sea igc0', 'desk igc1', 'till igc2.30', 'lens igc2.40']);
});

const cell = (name: string, value: string | number, type: string) =>
  `<cell name="${name}" type="${type}">${value}</cell>`;
const table = (name: string, rows: readonly string[]) => `<table name="${name}">${rows.join('')}</table>`;

test('what is said of every cell makes a record no larger, and ports may name the bundle above them', () => {
  const ports = ['enp1s0', 'enp2s0', 'bond0', 'enp4s0', 'enp5s0'].map(
    (device, at) =>
      `<row>${cell('port_id', at + 1, 'int')}${cell('device', device, 'text')}${at > 2 ? cell('upper_port_ref', 3, 'int') : ''}</row>`,
  );
  const tagged = [30, 40].map(
    (tag, at) =>
      `<row>${cell('tagged_id', at + 11, 'int')}${cell('port_ref', 3, 'int')}${cell('tagno', tag, 'int')}${cell('note', `seen in ${tag}`, 'text')}</row>`,
  );
  const on = [1, 2, 11, 12];
  const zones = nets.map(
    ([name, ip], at) =>
      `<row>${cell('code', name, 'text')}${cell(at < 2 ? 'port_ref' : 'tagged_ref', on[at]!, 'int')}${cell('ip', ip, 'inet')}</row>`,
  );
  const rows = [...nets, ...nets].map(
    ([name], at) => `<row>${cell('rule_id', at + 900, 'int')}${cell('net_ref', name, 'text')}</row>`,
  );
  const text = `<dump>${table('port', ports)}${table('tagged', tagged)}${table('net', zones)}${table('rule', rows)}</dump>`;
  expect(boundIn(text)).toEqual(['sea enp1s0', 'desk enp2s0', 'till bond0.30', 'lens bond0.40']);
});

test('networks that name a card by its hardware address sit on it, and so is the address the box’s own there', () => {
  const mac = (at: number) => `02:00:5e:10:00:0${at}`;
  const cards = nets.map((_, at) => `<card mac="${mac(at)}" system="ens${at + 3}"/>`);
  const lans = nets.map(([name, ip], at) => `<lan id="${name}" card="${mac(at)}" inet="${ip}"/>`);
  const clients = [1, 2].map((at) => `<client mac="00:00:5e:00:53:1${at}" ip="10.20.1.${at}"/>`);
  const text = `<box>${cards.join('')}${lans.join('')}<leases>${clients.join('')}</leases><rules>${rules}</rules></box>`;
  const { reading, backup } = open(text);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'sea ens3',
    'desk ens4',
    'till ens5',
    'lens ens6',
  ]);
  const bound = reading.boxBound.map((one) => sitePath(backup.tree, one));
  expect(bound).toEqual(
    [1, 2, 3, 4]
      .flatMap((at) => [`/box[1]/card[${at}]/@mac`])
      .concat([1, 2, 3, 4].map((at) => `/box[1]/lan[${at}]/@card`)),
  );
});

test('lines and bridges are devices beside ports, and records that networks name', () => {
  const on = ['pppoe0', 'bridge0', 'igb4', 'igb5'];
  const legs = nets.map(([name, ip], at) => `<leg key="${name}" runs-on="${on[at]}" ip="${ip}"/>`);
  const text = `<box><lines><line unit="pppoe0" below="igb0.7" user="quay@isp.example"/></lines><vlan device="igb0.7" parent="igb0" tag="7"/>
    <bridge device="bridge0" ports="igb1 igb2 igb3"/><legs>${legs.join('')}</legs><rules>${rules}</rules></box>`;
  const { reading, backup } = open(text);
  expect(reading.bindings.map(({ port }) => port)).toEqual(on);
  const to = (value: string) =>
    reading.references.filter((one) => one.value === value).map((one) => nameOf(backup.tree, one.to));
  expect([to('pppoe0'), to('bridge0'), to('igb0.7')]).toEqual([['line'], ['bridge'], ['vlan']]);
});

test('ports say by the label of a network that has a code which they are of', () => {
  const labels = ['Fibre to town', 'Harbour office', 'Card terminals', 'Cameras on the quay'];
  const jacks = labels.map((label, at) => `<jack device="eth${at}" of="${label}"/>`);
  const zones = nets.map(([name, ip], at) => `<zone code="${name}" title="${labels[at]}" ip="${ip}"/>`);
  const { reading, backup } = open(`<box>${jacks.join('')}${zones.join('')}<rules>${rules}</rules></box>`);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(
    nets.map(([name], at) => `${name} eth${at}`),
  );
  const named = reading.references.filter(({ value }) => labels.includes(value));
  expect(named.map(({ site, to }) => `${nameOf(backup.tree, site.node)} ${nameOf(backup.tree, to)}`)).toEqual(
    Array(4).fill('jack zone'),
  );
});

test('a word for the kind of a device before its name', () => {
  const on = ['ethernet:eth0', 'vlan:eth1.30', 'vlan:eth1.40', 'wireless:wlan0'];
  const zones = nets.map(([name, ip], at) => `<zone name="${name}" device="${on[at]}" net="${ip}"/>`);
  expect(boundIn(`<box>${zones.join('')}<rules>${rules}</rules></box>`)).toEqual([
    'sea eth0',
    'desk eth1.30',
    'till eth1.40',
    'lens wlan0',
  ]);
});

// RFC 8343, appendix D: `eth1.10` is a part of `eth1`.
test('parts of ports, where no record says their number', () => {
  const faces = ['fibre-1', 'fibre-2', 'copper-1'].map((name) => `<card><face>${name}</face></card>`);
  const on = ['fibre-1:7', 'fibre-2:30', 'fibre-2:40', 'copper-1:20'];
  const legs = nets.map(([name, ip], at) => `<leg name="${name}" unit="${on[at]}" ip="${ip}"/>`);
  const { reading } = open(`<box>${faces.join('')}<legs>${legs.join('')}</legs><rules>${rules}</rules></box>`);
  expect(reading.bindings.map(({ port }) => port)).toEqual(on);
  expect(reading.ports.find(({ name }) => name === 'fibre-2:30')).toMatchObject({ parent: 'fibre-2', tag: 30 });
});

test('numbers behind names make no devices of records without addresses', () => {
  const notes = ['ring1', 'ring2'].map((name) => `<ring><id>${name}</id></ring>`);
  const hosts = ['ring1:10', 'ring2:20'].map(
    (name, at) => `<host><tag>${name}</tag><mail>a${at}@example.net</mail></host>`,
  );
  expect(open(`<box>${notes.join('')}${hosts.join('')}</box>`).reading.ports).toEqual([]);
});

test('of two labels that are the same the first of its record is its own', () => {
  const labels = ['Rear left', 'Rear right', 'Front upper', 'Front lower'];
  const ports = labels.map((label, at) => `<port><position>${label}</position><system>em${at}</system></port>`);
  const lans = nets.map(([name, ip], at) => `<lan name="${name}" socket="${labels[at]}" net="${ip}"/>`);
  const { reading, backup } = open(
    `<box><ports>${ports.join('')}</ports>${lans.join('')}<rules>${rules}</rules></box>`,
  );
  const named = reading.references.filter(({ value }) => labels.includes(value));
  expect(named.map(({ site, to }) => `${nameOf(backup.tree, site.node)} ${nameOf(backup.tree, to)}`)).toEqual(
    Array(4).fill('lan port'),
  );
});

test('bridges need no number where networks sit on them beside ports', () => {
  const bridges = ['house', 'barn'].map(
    (name, at) => `<bridge name="${name}"><leg>ens1${at}</leg><leg>ens2${at}</leg></bridge>`,
  );
  const on = ['ens30', 'house', 'barn', 'ens31'];
  const lans = nets.map(([name, ip], at) => `<lan name="${name}"><via>${on[at]}</via><ip>${ip}</ip></lan>`);
  expect(boundIn(`<box>${bridges.join('')}${lans.join('')}<rules>${rules}</rules></box>`)).toEqual(
    nets.map(([name], at) => `${name} ${on[at]}`),
  );
});

test.each([
  ['one of its kind without a number', ['WAN', 'LAN1', 'LAN2', 'LAN3']],
  ['two kinds, one with a mark inside', ['sfp+1', 'sfp+2', 'copper1', 'copper2']],
  ['words and numbers', ['NIC.Slot.1-1', 'NIC.Slot.1-2', 'NIC.Slot.2-1', 'NIC.Slot.2-2']],
])('names of ports: %s', (_, on) => {
  const lans = nets.map(([name, ip], at) => `<net name="${name}" on="${on[at]}" ip="${ip}"/>`);
  expect(boundIn(`<box>${lans.join('')}<rules>${rules}</rules></box>`)).toEqual(
    nets.map(([name], at) => `${name} ${on[at]}`),
  );
});
