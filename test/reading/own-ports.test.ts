import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

/**
 * Tables of ports that show by themselves what they are. Hardware addresses for documentation are those of RFC 7042, 2.1.2,
 * rates those of IEEE 802.3; how networks meet ports is common practice, no source.
 */
const NAMES = ['n01', 'n02', 'n03', 'n04'];
const rules = [...NAMES, 'n02', 'n03'].map((name) => `<rule><in>${name}</in><do>pass</do></rule>`).join('');
const nets = NAMES.map(
  (name, at) =>
    `<net><name>${name}</name><title>Berth ${at}</title><ip>10.20.${at}.1/24</ip><on>socket(pt${at + 1})</on></net>`,
);
const mac = (at: number) => `<mac>00:00:5e:00:53:0${at}</mac>`;
const portsOf = (text: string) => open(text).reading.ports.map(({ name }) => name);
const box = (...parts: readonly string[]) =>
  `<box>${parts.join('')}<nets>${nets.join('')}</nets><rules>${rules}</rules></box>`;

test('records with a hardware address, a rate and a counted name are ports, and what others name them by is no device', () => {
  for (const names of [
    ['X1', 'X2', 'X3', 'X4'],
    ['A', 'B', 'C', 'D'],
    ['quay-a', 'quay-b', 'deck-a', 'deck-b'],
    ['Port 1', 'Port 2', 'Port 3', 'Port 4'],
  ]) {
    const sockets = names.map(
      (name, at) => `<socket><id>pt${at + 1}</id><shows>${name}</shows>${mac(at)}<rate>1000</rate></socket>`,
    );
    const { reading } = open(box(`<sockets>${sockets.join('')}</sockets>`));
    expect(reading.ports.map(({ name }) => name).sort()).toEqual([...names].sort());
    expect(reading.boxBound.filter(({ reason }) => reason === 'hardware-address')).toHaveLength(4);
  }
});

test('in one table with all that is made of ports, those with a hardware address are ports', () => {
  const sockets = [0, 1, 2, 3].map(
    (at) =>
      `<socket><id>pt${at + 1}</id><shows>X${at + 1}</shows><sort>socket</sort>${mac(at)}<rate>auto</rate></socket>`,
  );
  const made = `<socket><id>ag5</id><shows>bond0</shows><sort>bundle</sort><of>pt3 pt4</of></socket>`;
  const ports = open(box(`<sockets>${sockets.join('').replace('auto', '1000')}${made}</sockets>`)).reading.ports;
  expect(ports.filter(({ kind }) => kind === 'physical').map(({ name }) => name)).toEqual(['X1', 'X2', 'X3', 'X4']);
});

test('clients that are counted and have a hardware address are no ports', () => {
  const phones = [1, 2, 3, 4].map((at) => `<phone><name>phone${at}</name>${mac(at)}<owner>office</owner></phone>`);
  const calls = [1, 2, 3, 4].map((at) => `<call><to>phone${at}</to><line>7${at}</line></call>`);
  const text = `<box><phones>${phones.join('')}</phones><calls>${calls.join('')}</calls></box>`;
  expect(portsOf(text)).toEqual([]);
});

const sockets = (names: readonly string[], called = 'shows') =>
  `<sockets>${names
    .map((name, at) => `<socket><no>${at + 1}</no><${called}>${name}</${called}>${mac(at)}<rate>1000</rate></socket>`)
    .join('')}</sockets>`;
const netsOn = (on: (at: number) => string) =>
  NAMES.map((name, at) => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip><on>${on(at)}</on></net>`).join('');
const boundIn = (text: string) => open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`);

test('devices are composed of ports that their records name by a number, or behind a word', () => {
  for (const [below, kind] of [
    ['3', 'vlan'],
    ['socket(LAN3)', 'vlan'],
  ]) {
    const vlans = [2, 3].map((at) => `<vlan><below>${below}</below><tag>${at + 200}</tag><note>${at}</note></vlan>`);
    const nets = netsOn((at) => (at < 2 ? `socket(LAN${at + 1})` : `${kind}(LAN3_${at + 200})`));
    const text = `<box>${sockets(['LAN1', 'LAN2', 'LAN3'])}<vlans>${vlans.join('')}</vlans><nets>${nets}</nets><rules>${rules}</rules></box>`;
    expect(boundIn(text)).toEqual(['n01 LAN1', 'n02 LAN2', 'n03 LAN3_202', 'n04 LAN3_203']);
  }
});

test('networks that records of VLANs name are no ports where these are sure', () => {
  const vlans = [2, 3].map(
    (at) => `<vlan><below>3</below><tag>${at + 200}</tag><shows>vlan${at + 200}</shows><for>${NAMES[at]}</for></vlan>`,
  );
  const nets = NAMES.map((name, at) => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip></net>`);
  const text = `<box>${sockets(['X1', 'X2', 'X3'])}<vlans>${vlans.join('')}</vlans><nets>${nets.join('')}</nets><rules>${rules}</rules></box>`;
  expect(portsOf(text).sort()).toEqual(['X1', 'X2', 'X3', 'vlan202', 'vlan203']);
});

test('what one field names beside ports by their names is a device by its own, whatever else is called as these are', () => {
  const bundle = '<bundles><bundle><n>pair0</n><of>quay-c,quay-d</of><d>balance</d></bundle></bundles>';
  const on = ['quay-b', 'pair0', 'quay-b', 'quay-b'];
  const vlans = NAMES.map((_, at) => `<vlan><tag>${at + 40}</tag><over>${on[at]}</over></vlan>`);
  const nets = NAMES.map((name, at) => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip><vid>${at + 40}</vid></net>`);
  const text = `<box>${sockets(['quay-a', 'quay-b', 'quay-c', 'quay-d'], 'd')}${bundle}<vlans>${vlans.join('')}</vlans><nets>${nets.join('')}</nets><rules>${rules}</rules></box>`;
  const ports = portsOf(text);
  expect(ports).toContain('pair0');
  expect(ports).not.toContain('balance');
});

test('a word for the kind and a number in brackets name a record, and the word is no device', () => {
  const numbered = [0, 1, 2, 3].map(
    (at) => `<dock><no>${at + 1}</no><sort>dock</sort><shows>sfp${at + 1}</shows>${mac(at)}<rate>100</rate></dock>`,
  );
  const line = '<dock><no>8</no><sort>dial</sort><shows>pppoe1</shows><over>dock(1)</over></dock>';
  const on = ['dial(8)', 'dock(2)', 'dock(3)', 'dock(4)'];
  const text = `<box><docks>${numbered.join('')}${line}</docks><nets>${netsOn((at) => on[at]!)}</nets><rules>${rules}</rules></box>`;
  expect(portsOf(text).filter((name) => /dock|dial/.test(name))).toEqual([]);
});

test('ports that are parts of one bundle have hardware addresses of their own', () => {
  const parts = ['eno1', 'eno2', 'eno3'].map(
    (name, at) => `<port><is>${name}</is>${mac(at)}<part>${at > 0 ? 'bond0' : ''}</part><ip>10.9.${at}.1</ip></port>`,
  );
  const text = `<box><ports>${parts.join('')}</ports><bundles><bundle><is>bond0</is><mode>lacp</mode></bundle></bundles></box>`;
  const { boxBound } = open(text).reading;
  expect(boxBound.filter(({ reason }) => reason === 'hardware-address')).toHaveLength(3);
});

test('numbers of sockets beside devices are devices, and what lies over such a number is one', () => {
  const line = '<lines><line is="dial1"><over>0/0/1</over><login>quay@mainland.example</login></line></lines>';
  const tagged = '<vlan is="vlan30" on="enp3s0f0"><tag>30</tag></vlan>';
  const on = ['dial1', '0/0/2', 'vlan30'];
  const nets = on.map((one, at) => `<net on="${one}" ip="10.20.${at}.1/24"><name>${NAMES[at]}</name></net>`);
  const some = rules.replaceAll('n04', 'n01');
  const text = `<box>${line}<vlans>${tagged}</vlans><nets>${nets.join('')}</nets><rules>${some}</rules></box>`;
  expect(boundIn(text)).toEqual(['n01 dial1', 'n02 0/0/2', 'n03 vlan30']);
});

const rows = (at: number) => `<row><seg>s${at}-7f3e9a2b</seg><nc>LAN${at < 2 ? at + 1 : 3}</nc></row>`;

test('what joins networks with numbered names tells the ports, not the networks’ own numbered names', () => {
  const nets = NAMES.map(
    (name, at) => `<net><uid>s${at}-7f3e9a2b</uid><name>${name}</name><ip>10.20.${at}.1/24</ip></net>`,
  );
  const uses = [0, 1, 2, 3, 1, 2].map((at) => `<rule><in>s${at}-7f3e9a2b</in><do>pass</do></rule>`);
  const text = `<box><nets>${nets.join('')}</nets><joins>${[0, 1, 2, 3].map(rows).join('')}</joins><rules>${uses.join('')}</rules></box>`;
  expect(portsOf(text)).toEqual(['LAN1', 'LAN2', 'LAN3']);
});

test('devices are composed of ports behind a word for their kind, also where no table holds these', () => {
  const vlans = [2, 3].map((at) => `<vlan><over>w/X3</over><tag>${at + 20}</tag><note>of ${NAMES[at]}</note></vlan>`);
  const nets = netsOn((at) => (at < 2 ? `w/X${at + 1}` : `g/X3_${at + 20}`));
  const text = `<box><vlans>${vlans.join('')}</vlans><nets>${nets}</nets><rules>${rules}</rules></box>`;
  expect(boundIn(text)).toEqual(['n01 X1', 'n02 X2', 'n03 X3_22', 'n04 X3_23']);
});

test('a word that counts records of other kinds as well is no device’s name, though nothing else counts ports', () => {
  const names = ['sea', 'office', 'crane', 'berths'];
  const sockets = names.map(
    (name, at) =>
      `<socket><ref>pt${at + 1}</ref><shows>Port ${at + 1}</shows>${mac(at)}<rate>1000</rate><for>${name}</for></socket>`,
  );
  const nets = names.map((name, at) => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip></net>`);
  const counted = [...names, 'sea', 'crane'].map((name, at) => `<rule><ref>el${at + 1}</ref><in>${name}</in></rule>`);
  const text = `<box><sockets>${sockets.join('')}</sockets><nets>${nets.join('')}</nets><rules>${counted.join('')}</rules></box>`;
  expect(boundIn(text)).toEqual(['sea Port 1', 'office Port 2', 'crane Port 3', 'berths Port 4']);
});

test('kinds of record may be called by what their list joins with a word for a list', () => {
  for (const [list, kind, other, line] of [
    ['Dosenliste', 'Dosen', 'Sitzungliste', 'Sitzung'],
    ['插口集', '插口', '束一覧', '束'],
  ]) {
    const table = (name: string, records: readonly string[]) =>
      `<table name="${name}">${records.map((one) => `<row>${one}</row>`).join('')}</table>`;
    const docks = [1, 2, 3].map((at) => `<no>${at}</no><shows>X${at}</shows>${mac(at)}<rate>1000</rate>`);
    const nets = NAMES.map((name, at) => `<name>${name}</name><ip>10.20.${at}.1/24</ip>`);
    const joins = NAMES.map((name, at) => `<of>${name}</of><on>${at === 0 ? `${line}(1)` : `${kind}(${at})`}</on>`);
    const uses = [...NAMES, 'n02', 'n03'].map((name) => `<in>${name}</in><do>pass</do>`);
    const text = `<box>${table(list!, docks)}${table(other!, ['<no>1</no><shows>ppp0</shows>'])}${table('nets', nets)}${table('joins', joins)}${table('rules', uses)}</box>`;
    expect(boundIn(text)).toEqual(['n01 ppp0', 'n02 X1', 'n03 X2', 'n04 X3']);
  }
});

test('a word for the kind of all of a list is no port that devices are made of', () => {
  const docks = ['A', 'B', 'C'].map(
    (name, at) => `<it sort="dock"><shows>${name}</shows>${mac(at)}<rate>1000</rate></it>`,
  );
  const tags = [20, 30, 40].map(
    (tag) => `<it sort="lane"><over>dock:C</over><tag>${tag}</tag><shows>C.${tag}</shows></it>`,
  );
  const nets = netsOn((at) => (at === 0 ? 'dock:A' : `lane:C.${at * 10 + 10}`));
  const text = `<box><all>${docks.join('')}${tags.join('')}</all><nets>${nets}</nets><rules>${rules}</rules></box>`;
  expect(boundIn(text)).toEqual(['n01 A', 'n02 C.20', 'n03 C.30', 'n04 C.40']);
});

test('a port may have the hardware address of another', () => {
  const names = ['sea', 'office', 'crane', 'berths'];
  const docks = names.map(
    (name, at) => `<dock><shows>quay-${'abcd'[at]}</shows>${mac(at % 3)}<rate>1000</rate><for>${name}</for></dock>`,
  );
  const nets = names.map((name, at) => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip></net>`);
  const uses = [...names, 'sea', 'crane'].map((name) => `<rule><in>${name}</in></rule>`);
  const text = `<box><docks>${docks.join('')}</docks><nets>${nets.join('')}</nets><rules>${uses.join('')}</rules></box>`;
  expect(boundIn(text)).toEqual(['sea quay-a', 'office quay-b', 'crane quay-c', 'berths quay-d']);
});

test('VLANs in the table of the ports that they name get the name that the operating system would give', () => {
  const docks = ['A', 'B', 'C'].map(
    (name, at) => `<it><id>pt${at + 1}</id><shows>${name}</shows>${mac(at)}<rate>1000</rate></it>`,
  );
  const lane = (at: number, tag: number, more = '') =>
    `<it><id>vn${at}</id><over>dock:pt3</over><tag>${tag}</tag>${more}</it>`;
  const nets = netsOn((at) => (at < 2 ? `dock:pt${at + 1}` : `lane:vn${at}`));
  const uses = (lanes: string, own: string) =>
    `<box><all>${docks.join('')}${lanes}</all><nets>${own}</nets><rules>${rules}</rules></box>`;
  const bound = ['n01 A', 'n02 B', 'n03 C.201', 'n04 C.211'];
  expect(boundIn(uses(lane(2, 201) + lane(3, 211), nets))).toEqual(bound);
  const named = docks.map((one, at) => (at < 2 ? one.replace('</it>', `<for>${NAMES[at]}</for></it>`) : one)).join('');
  const lanes = (lane(2, 201, '<for>n03</for>') + lane(3, 211, '<for>n04</for>')).replaceAll('dock:', '');
  const plain = NAMES.map((name, at) => `<net><name>${name}</name><ip>10.20.${at}.1/24</ip></net>`).join('');
  expect(boundIn(`<box><all>${named}${lanes}</all><nets>${plain}</nets><rules>${rules}</rules></box>`)).toEqual(bound);
});

test('numbers of sockets behind a word for their kind are devices, though nothing else is called so', () => {
  const tags = [30, 40].map((tag) => `<lane><over>w/0/0/3</over><tag>${tag}</tag><shows>0/0/3v${tag}</shows></lane>`);
  const bridge = '<bridges><bridge><shows>br0</shows><of><in>w/0/0/2</in><in>w/0/0/4</in></of></bridge></bridges>';
  const nets = netsOn((at) => (at < 2 ? `w/0/0/${at}` : `lane/0/0/3v${at * 10 + 10}`));
  const text = `<box>${bridge}<lanes>${tags.join('')}</lanes><nets>${nets}</nets><rules>${rules}</rules></box>`;
  expect(portsOf(text)).toEqual(expect.arrayContaining(['0/0/2', '0/0/4']));
});

test('ports that have nothing but a hardware address are no settings called so, where networks sit on them', () => {
  const cards = ['enp4s0f0', 'enp4s0f1', 'enp4s0f2', 'enp6s0f0', 'enp6s0f1'];
  const rows = cards.map((name, at) => `<card name="${name}" mac="00:00:5e:00:53:0${at}"/>`);
  const sits = cards
    .slice(0, 4)
    .map((name, at) => `<net name="${NAMES[at]}" on="${name}" ip="10.20.${at}.1/24" side="in"><note/></net>`);
  const text = `<box><cards>${rows.join('')}</cards><nets>${sits.join('')}</nets><rules>${rules}</rules></box>`;
  expect(portsOf(text)).toEqual(cards);
});

test('VLANs that join ports with networks are no devices, though they say the network under the word that ports are called by', () => {
  const docks = ['ge1-0', 'ge1-1', 'ge1-2', 'ge1-3'].map(
    (name, at) => `<dock is="${name}" mac="00:00:5e:00:53:0${at}" rate="1000"${at === 0 ? ' for="n01"' : ''}/>`,
  );
  const lanes = NAMES.slice(1).map((name, at) => `<lane over="dock/ge1-2" tag="20${at}" is="${name}"/>`);
  const nets = NAMES.map((name, at) => `<net call="${name}" ip="10.20.${at}.1/24"/>`);
  const leases = NAMES.map((name, at) => `<lease of="${name}" first="10.20.${at}.100" last="10.20.${at}.120"/>`);
  const text = `<box><docks>${docks.join('')}</docks><lanes>${lanes.join('')}</lanes><nets>${nets.join('')}</nets><leases>${leases.join('')}</leases><rules>${rules}</rules></box>`;
  expect(boundIn(text)).toEqual(['n01 ge1-0', 'n02 ge1-2.200', 'n03 ge1-2.201', 'n04 ge1-2.202']);
  expect(new Set(open(text).reading.mentions.map(({ port }) => port))).toEqual(
    new Set(['ge1-0', 'ge1-1', 'ge1-2', 'ge1-3']),
  );
});

test('VLANs beside a bridge in the table of their ports are called by the letter of a port that they name by its key', () => {
  const docks = ['A', 'B', 'C'].map(
    (name, at) => `<it id="pt${at + 1}"><shows>${name}</shows>${mac(at)}<rate>1000</rate></it>`,
  );
  const lanes = [4, 5, 6, 7].map(
    (at) => `<it id="vn${at}"><over>pt3</over><tag>${at}0</tag><shows>Cv${at}0</shows></it>`,
  );
  const bridge = '<it id="br8"><shows>swgroup1</shows></it>';
  const nets = netsOn((at) => ['pt1', 'br8', 'vn4', 'vn5'][at]!);
  const text = `<box><all>${docks.join('')}${lanes.join('')}${bridge}</all><nets>${nets}</nets><rules>${rules}</rules></box>`;
  expect(boundIn(text)).toEqual(['n01 A', 'n02 swgroup1', 'n03 Cv40', 'n04 Cv50']);
});

test('a bridge in the table of ports is no device that is called by the word for tagged ones and a number', () => {
  const docks = ['LAN1', 'LAN2', 'LAN3'].map(
    (name, at) =>
      `<it shows="${name}">${mac(at)}<rate>1000</rate>${at === 2 ? '<part><tag>10</tag></part><part><tag>20</tag></part>' : ''}</it>`,
  );
  const bridge = '<it shows="swgroup1"><of>LAN2</of></it>';
  const nets = netsOn((at) => ['LAN1', 'swgroup1', 'vlan10', 'vlan20'][at]!);
  const text = `<box><all>${docks.join('')}${bridge}</all><nets>${nets}</nets><rules>${rules}</rules></box>`;
  expect(boundIn(text)).toEqual(['n01 LAN1', 'n02 swgroup1', 'n03 vlan10', 'n04 vlan20']);
});
