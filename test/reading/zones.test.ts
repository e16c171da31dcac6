import { expect, test } from 'vitest';
import { siteAt, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

// Common practice, no source: zones that filters name, and that say nothing of themselves but which devices are in them.
const filters = (names: readonly string[]) =>
  [...names, ...names].map((name) => `<filter><from>${name}</from><do>pass</do></filter>`).join('');
const zones = ['sea', 'desk', 'berths'];

const boundIn = (text: string) => open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`);

test('the table of devices says which zone each is in', () => {
  const port = `<device name="igb0" zone="sea" ip="203.0.113.2/29"/><device name="igb1"/>`;
  const device = (at: number) =>
    `<device name="igb1.${at}" parent="igb1" tag="${at}" zone="${zones[at]}" ip="10.20.${at}.1/24"/>`;
  const leases = [1, 2].map((at) => `<lease on="igb1.${at}" mac="00:00:5e:00:53:0${at}" ip="10.20.${at}.9"/>`);
  const text = `<box><devices>${port}${[1, 2].map(device).join('')}</devices><zones>${zones
    .map((name) => `<zone name="${name}" trust="10"/>`)
    .join('')}</zones><filters>${filters(zones)}</filters><leases>${leases.join('')}</leases></box>`;
  expect(boundIn(text)).toEqual(['sea igb0', 'desk igb1.1', 'berths igb1.2']);
});

const devices = ['igb0', 'igb1', 'igb2', 'igb3']
  .map((name, at) => `<device><name>${name}</name><ip>10.20.${at}.1/24</ip></device>`)
  .join('');
const held = [['igb0', 'igb3'], ['igb1'], ['igb2']];
const allBound = ['sea igb0', 'sea igb3', 'desk igb1', 'berths igb2'];

test('zones list their devices in records of one name each', () => {
  const zone = (name: string, at: number) =>
    `<zone><name>${name}</name>${held[at]!.map((port) => `<holds><name>${port}</name></holds>`).join('')}</zone>`;
  const text = `<box><devices>${devices}</devices><zones>${zones.map(zone).join('')}</zones><filters>${filters(zones)}</filters></box>`;
  const { reading, backup } = open(text);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(allBound);
  const named = reading.references.find(({ value }) => value === 'igb3')!;
  expect(sitePath(backup.tree, named.site)).toBe('/box[1]/zones[1]/zone[1]/holds[2]/name[1]');
  expect(named.to).toBe(siteAt(backup.tree, '/box[1]/devices[1]/device[4]')!.node);
});

test('zones list their devices in one value', () => {
  const zone = (name: string, at: number) => `<zone><name>${name}</name><holds>${held[at]!.join(', ')}</holds></zone>`;
  const text = `<box><devices>${devices}</devices><zones>${zones.map(zone).join('')}</zones><filters>${filters(zones)}</filters></box>`;
  const { reading } = open(text);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(allBound);
  expect(reading.bindings.slice(0, 2).map(({ site }) => site.part)).toEqual([
    [0, 4],
    [6, 10],
  ]);
});

test('tagged devices are made of the record around them', () => {
  const units = [30, 40].map((tag) => `<unit><id>${tag}</id><ip>10.20.${tag}.1/24</ip></unit>`).join('');
  const text = `<box><devices><device><name>igb0</name><ip>203.0.113.2/29</ip></device><device><name>igb1</name>${units}</device></devices>
    <zones><zone><name>sea</name><on>igb0</on></zone><zone><name>desk</name><on>igb1.30</on></zone><zone><name>berths</name><on>igb1.40</on></zone></zones>
    <filters>${filters(zones)}</filters></box>`;
  const { reading, backup } = open(text);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'sea igb0',
    'desk igb1.30',
    'berths igb1.40',
  ]);
  expect(reading.ports.find(({ name }) => name === 'igb1.40')).toMatchObject({ parent: 'igb1', tag: 40 });
  expect(reading.references.find(({ value }) => value === 'igb1.30')?.to).toBe(
    siteAt(backup.tree, '/box[1]/devices[1]/device[2]/unit[1]')!.node,
  );
});

// RFC 4364, 4.2: a route distinguisher joins the number of a network with one of its own.
test('two numbers joined are no device', () => {
  const names = ['marina', 'yard'];
  const tenant = (name: string, at: number) =>
    `<tenant label="${name}"><vrf rd="64496:${at + 1}"/><peers own="64496" process="${at + 1}"/><leg label="${name} side" on="igb${at}" ip="10.20.${at}.1/24"/></tenant>`;
  const rules = names.map((name) => `<rule pos="1" tenant="${name}"><in>${name} side</in></rule>`);
  const { reading } = open(`<box>${names.map(tenant).join('')}<rules>${rules.join('')}</rules></box>`);
  expect(reading.ports.map(({ name }) => name).sort()).toEqual(['igb0', 'igb1']);
});

test('zones list devices whose addresses stand in records of their own, and ranges of addresses name zones', () => {
  const addresses = ['igb0', 'igb1', 'igb2', 'igb3'].map(
    (name, at) => `<at><on>${name}</on><ip>10.20.${at}.1/24</ip></at>`,
  );
  const zone = (name: string, at: number) => `<zone><name>${name}</name><holds>${held[at]!.join('\n')}</holds></zone>`;
  const ranges = [1, 2].map(
    (at) => `<range><zone>${zones[at]}</zone><from>10.20.${at}.9</from><to>10.20.${at}.99</to></range>`,
  );
  const bare = devices.replace(/<ip>[^<]*<\/ip>/g, '<speed>1000</speed>');
  const text = `<box><devices>${bare}</devices><zones>${zones.map(zone).join('')}</zones><addresses>${addresses.join('')}</addresses><filters>${filters(zones)}</filters><ranges>${ranges.join('')}</ranges></box>`;
  expect(boundIn(text)).toEqual(allBound);
});

// Common practice, no source: chassis, slot and socket.
test('three numbers with dashes are a socket, tagged or not', () => {
  const lines = [1, 2, 3].map((no) => `<line ref="0-1-${no}"><mtu>1500</mtu></line>`);
  const tagged = [30, 40].map((tag) => `<tagged ref="0-1-3.${tag}"><line>0-1-3</line><vid>${tag}</vid></tagged>`);
  const nets = ['0-1-1', '0-1-3.30', '0-1-3.40'].map(
    (seat, at) => `<net name="${zones[at]}"><seat>${seat}</seat><ip>10.20.${at}.1/24</ip></net>`,
  );
  const text = `<box><lines>${lines.join('')}</lines><all>${tagged.join('')}</all><nets>${nets.join('')}</nets><filters>${filters(zones)}</filters></box>`;
  expect(boundIn(text)).toEqual(['sea 0-1-1', 'desk 0-1-3.30', 'berths 0-1-3.40']);
  expect(open(text).reading.references.map(({ value }) => value)).toContain('0-1-3');
});

test('several tables of devices say which zone each is in', () => {
  const port = (at: number) => `<port name="igb${at}"${at === 2 ? '' : ` zone="${zones[at]}"`}/>`;
  const tagged = `<vlan on="igb2" id="30" zone="berths"><ip>10.20.2.1/24</ip></vlan>`;
  const zone = (name: string, at: number) => `<zone name="${name}">${at < 2 ? `<ip>10.20.${at}.1/24</ip>` : ''}</zone>`;
  const text = `<box><ports>${[0, 1, 2].map(port).join('')}</ports><vlans>${tagged}${tagged.replace('30', '31').replace('berths', 'fuel').replace('20.2', '20.3')}</vlans><zones>${[...zones, 'fuel'].map(zone).join('')}</zones><filters>${filters([...zones, 'fuel'])}</filters></box>`;
  expect(boundIn(text).sort()).toEqual(['berths igb2', 'desk igb1', 'fuel igb2', 'sea igb0']);
});

// Common practice, no source: what others name a zone by is made by a machine, beside the name that people call it by.
const codes = ['3fa91c07', '90b2e5d4', 'c47d018e'];
const keyed = (at: number, holds: string) =>
  `<zone><id>${codes[at]}</id><name>z0${at + 1}</name><remark>all of the ${zones[at]}</remark>${holds}</zone>`;
const sockets = 'ABC'.split('').map((name, at) => {
  const ip = at === 2 ? '' : `<ip>10.20.${at}.1/24</ip>`;
  return `<device><name>${name}</name><mac>00:00:5e:00:53:0${at}</mac><speed>1000</speed>${ip}</device>`;
});
const onSocket = [30, 40].map(
  (tag) => `<device><name>C.${tag}</name><on>C</on><tag>${tag}</tag><ip>10.20.${tag}.1/24</ip></device>`,
);

test('zones of one device each, though only others of the table of devices have numbered names', () => {
  const seats = ['A', 'B', 'C.30'];
  const text = `<box><devices>${[...sockets, ...onSocket].join('')}</devices><zones>${seats.map((seat, at) => keyed(at, `<holds>${seat}</holds>`)).join('')}</zones><filters>${filters(codes)}</filters><gateways><gateway><name>sea-gw</name><zone>${codes[0]}</zone><hop>10.20.0.254</hop></gateway></gateways></box>`;
  expect(boundIn(text)).toEqual(['z01 A', 'z02 B', 'z03 C.30']);
});

test('zones are called by their names, however many devices they hold', () => {
  const holds = held.map((list) => `<list>${list.map((port) => `<in>${port}</in>`).join('')}</list>`);
  const text = `<box><devices>${devices}</devices><zones>${holds.map((list, at) => keyed(at, list)).join('')}</zones><filters>${filters(codes)}</filters></box>`;
  expect(boundIn(text)).toEqual(['z01 igb0', 'z01 igb3', 'z02 igb1', 'z03 igb2']);
});
