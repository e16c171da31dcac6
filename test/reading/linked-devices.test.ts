import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

// Common practice, no source: networks with short codes for names, on ports that records of their own describe.
test('networks that are called by codes, and name their ports by keys: the codes are no devices', () => {
  const key = (kind: number, at: number) => `${kind}3c672cd-559c-4eb7-8838-97b7ce96b6b${at}`;
  const ports = [0, 1, 2, 3].map((at) => `<port id="${key(1, at)}" name="copper${at}" speed="1000"/>`);
  const nets = [0, 1, 2, 3].map(
    (at) => `<net id="${key(2, at)}" name="n0${at + 1}" port="${key(1, at)}" ip="10.20.${at}.1"/>`,
  );
  const rules = [0, 1, 2, 3, 0, 2].map((at) => `<rule><in>${key(2, at)}</in><do>pass</do></rule>`);
  const { reading } = open(
    `<box><ports>${ports.join('')}</ports><nets>${nets.join('')}</nets><rules>${rules.join('')}</rules></box>`,
  );
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'n01 copper0',
    'n02 copper1',
    'n03 copper2',
    'n04 copper3',
  ]);
});

test('what kind of record an element is, is no device, though it ends in a number', () => {
  const made = (kind: string, cells: readonly (readonly [string, string])[]) =>
    `<it is="${kind}">${cells.map(([name, value]) => `<has n="${name}">${value}</has>`).join('')}</it>`;
  const names = ['uplink', 'lights', 'cctv', 'cards', 'office'];
  const roles = names.map((name, at) =>
    made('DB69', [
      ['name', name],
      ['J3CD', `jack0${(at % 3) + 1}`],
      ['F679', String(200 + 10 * at)],
      ['J647', `10.20.${at}.1/24`],
    ]),
  );
  const rules = [...names, ...names].map((name) =>
    made('H847', [
      ['J472', name],
      ['NCEA', 'udp'],
      ['R7A9', '53'],
    ]),
  );
  const { reading } = open(`<box>${roles.join('')}${rules.join('')}</box>`);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'uplink jack01',
    'lights jack02',
    'cctv jack03',
    'cards jack01',
    'office jack02',
  ]);
});

const made = (tag: string, fields: readonly (readonly [string, string])[]) =>
  `<${tag}>${fields.map(([name, value]) => `<${name}>${value}</${name}>`).join('')}</${tag}>`;
const boundIn = (text: string) => open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`);

test('networks whose own numbers happen to be the tags of their devices are networks still', () => {
  const names = ['yard', 'cards', 'office', 'store', 'quay', 'crane'];
  const tagged = (at: number) => (at === 2 ? 'sfp1' : `sfp3-${at + 1}`);
  const nets = names.map((name, at) =>
    made('net', [
      ['no', String(at + 1)],
      ['name', name],
      ['on', tagged(at)],
      ['ip', `10.20.${at}.1`],
    ]),
  );
  const vlans = [0, 1, 3, 4, 5].map((at) =>
    made('vlan', [
      ['no', String(at + 20)],
      ['rides', 'sfp3'],
      ['id', String(at + 1)],
      ['called', tagged(at)],
    ]),
  );
  const rules = [...names, 'yard', 'crane'].map((name) =>
    made('rule', [
      ['from', name],
      ['do', 'pass'],
    ]),
  );
  expect(boundIn(`<box>${nets.join('')}${vlans.join('')}${rules.join('')}</box>`)).toEqual(
    names.map((name, at) => `${name} ${tagged(at)}`),
  );
});

test('codes that chance made without a digit are codes: networks go by the names beside them', () => {
  const codes = ['CTMTSRCRG0', 'EZJKTHRFCY', '3XJ5319R6C', 'QWHZKTNFCB', 'BQ8AQ1BZVX'];
  const names = ['long pier', 'boat yard', 'harbour desk', 'fuel dock', 'guest berths'];
  const nets = codes.map((code, at) =>
    made('net', [
      ['ref', code],
      ['called', names[at]!],
      ['ip', `10.20.${at}.1`],
      ['on', `bnxt${at + 1}`],
      ['about', `what lies at ${names[at]}`],
    ]),
  );
  const rules = [...codes, ...codes].map((code) =>
    made('rule', [
      ['from', code],
      ['do', 'pass'],
    ]),
  );
  expect(boundIn(`<box>${nets.join('')}${rules.join('')}</box>`)).toEqual(
    names.map((name, at) => `${name} bnxt${at + 1}`),
  );
});

test('networks that list their ports are roles, and leases in them are none', () => {
  const nets = [
    ['sea', 'eth5'],
    ['office', 'eth0 eth1'],
    ['quay', 'eth2.5'],
    ['tills', 'eth2.7 eth3'],
  ].map(([name, ports], at) => `<net label="${name}"><ports>${ports}</ports><ip>10.20.${at}.1</ip></net>`);
  const leases = ['Till one', 'Till two', 'Recorder'].map(
    (label, at) => `<static for="${at < 2 ? 'tills' : 'quay'}" ip="10.20.${at}.9">${label}</static>`,
  );
  const rules = ['office', 'quay', 'tills', 'office'].map((from) => `<rule from="${from}" to="sea"/>`);
  expect(
    boundIn(
      `<box><nets>${nets.join('')}</nets><leases>${leases.join('')}</leases><rules>${rules.join('')}</rules></box>`,
    ),
  ).toEqual(['sea eth5', 'office eth0', 'office eth1', 'quay eth2.5', 'tills eth2.7', 'tills eth3']);
});

test('zones of one device each are roles where that device has the address; the far end of a tunnel is none', () => {
  const ports = ['ge0', 'ge1', 'ge2', 'ge3'].map(
    (name, at) =>
      `<port><name>${name}</name><speed>auto</speed><unit><name>0</name><vlan-id>${at + 20}</vlan-id><ip>10.44.${at}.1/24</ip></unit></port>`,
  );
  const zones = ['sea', 'office', 'quay', 'crane'].map(
    (name, at) => `<zone><name>${name}</name><members><name>ge${at}.${at + 20}</name></members></zone>`,
  );
  const rules = ['office', 'quay', 'crane', 'quay'].map((from) => `<rule><from>${from}</from><to>sea</to></rule>`);
  const far = '<far><name>depot</name><address>198.51.100.90</address><over>ge0.20</over></far>';
  expect(
    boundIn(
      `<box><ports>${ports.join('')}</ports><zones>${zones.join('')}</zones><rules>${rules.join('')}</rules>${far}<tunnels><tunnel><name>yard</name><far>depot</far></tunnel></tunnels></box>`,
    ),
  ).toEqual(['sea ge0.20', 'office ge1.21', 'quay ge2.22', 'crane ge3.23']);
});

test('a table that gives ports other names is one of devices, where only networks name its records', () => {
  const map = ['A', 'B', 'C', 'D'].map((name, at) => `<alias name="${name}" device="enp${at + 1}s0" seen="yes"/>`);
  const nets = ['office', 'quay', 'crane', 'sea'].map(
    (name, at) => `<segment id="${name}"><alias>${'ABCD'[at]!}</alias><address>10.23.${at}.1</address></segment>`,
  );
  const rules = ['office', 'quay', 'crane', 'quay', 'office'].map(
    (from) => `<rule><in>${from}</in><out>sea</out></rule>`,
  );
  expect(
    boundIn(
      `<box><map>${map.join('')}</map><segments>${nets.join('')}</segments><rules>${rules.join('')}</rules></box>`,
    ),
  ).toEqual(['office enp1s0', 'quay enp2s0', 'crane enp3s0', 'sea enp4s0']);
});

// Common practice, no source: what leads outside stands in a list of its own, and rules name either.
test('networks of two kinds, which rules name in one place, are all roles; what rules do not name there is none', () => {
  const outer = [
    ['fibre', 'eth0', '203.0.113.138'],
    ['radio', 'eth1', '198.51.100.122'],
  ].map(
    ([name, port, ip]) =>
      `<uplink id="${name}"><port>${port}</port><address>${ip}</address><weight>9</weight></uplink>`,
  );
  const inner = ['office', 'quay', 'crane'].map(
    (name, at) => `<segment id="${name}"><port>eth${at + 2}</port><address>10.23.${at}.1</address></segment>`,
  );
  const rules = ['office fibre', 'quay radio', 'crane office', 'quay fibre', 'crane radio'].map((pair) => {
    const [from, to] = pair.split(' ');
    return `<rule><in>${from}</in><out>${to}</out></rule>`;
  });
  const far =
    '<far id="depot"><port>eth0</port><address>198.51.100.90</address></far><tunnel><far>depot</far></tunnel>';
  const { reading } = open(
    `<box><uplinks>${outer.join('')}</uplinks><segments>${inner.join('')}</segments><rules>${rules.join('')}</rules>${far}</box>`,
  );
  const roles = ['crane', 'fibre', 'office', 'quay', 'radio'];
  expect(reading.roles.map(({ name }) => name).sort()).toEqual(roles);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`).sort()).toEqual([
    'crane eth4',
    'fibre eth0',
    'office eth2',
    'quay eth3',
    'radio eth1',
  ]);
});

test('where networks are joined with VLANs that are called by their numbers, the codes of rules are no ports', () => {
  const names = ['yard', 'cards', 'office', 'store', 'quay', 'crane'];
  const device = (at: number) => (at < 2 ? `sfp${at}` : `vlan${at}0`);
  const made = (tag: string, fields: Record<string, string>) =>
    `<${tag}>${Object.entries(fields)
      .map(([name, value]) => `<${name}>${value}</${name}>`)
      .join('')}</${tag}>`;
  const nets = names.map((name, at) => made('net', { name, ip: `10.20.${at}.1/24` }));
  const joints = names.map((name, at) => made('joint', { of: name, on: device(at) }));
  const vlans = [2, 3, 4, 5].map((at) => made('vlan', { called: device(at), rides: 'sfp2', id: `${at}0` }));
  const services = Array.from({ length: 14 }, (_, at) => made('service', { called: `svc-${'abcdefghijklmn'[at]}` }));
  const rules = services.map((_, at) =>
    made('rule', { code: `it${at + 1}`, in: names[at % 6]!, to: `svc-${'abcdefghijklmn'[at]}` }),
  );
  expect(boundIn(`<box>${[...nets, ...joints, ...vlans, ...services, ...rules].join('')}</box>`)).toEqual(
    names.map((name, at) => `${name} ${device(at)}`),
  );
});
