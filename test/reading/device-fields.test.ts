import { expect, test } from 'vitest';
import { valueAt } from '../../src/core/xml/site.ts';
import { nameOf } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';

// What each document says is read off by eye.

/** What is read as a device, as often as it stands somewhere. */
function mentioned(text: string): string[] {
  const { backup, reading } = open(text);
  return reading.mentions.map(({ site, from, to }) => valueAt(backup.tree, site).trim().slice(from, to));
}

const zone = (name: string, nic: string, at: number) =>
  `<zone><name>${name}</name><nic>${nic}</nic><ip>10.20.${at}.1</ip></zone>`;
const tags = (on: string, ids: readonly number[]) =>
  ids.map((id) => `<tag><on>${on}</on><id>${id}</id><dev>${on}-${id}</dev></tag>`).join('');
const zones = (...nics: readonly string[]) =>
  nics.map((nic, at) => zone(['quay', 'office', 'tills', 'piers', 'lamps'][at]!, nic, at)).join('');

test('one word that stands in many records and nowhere else is no port, though a driver is called so', () => {
  const rows = Array.from({ length: 6 }, (_, at) => `<kv kind="my2"><k>lamp.${at}</k><v>${at * 7}</v></kv>`);
  const found = mentioned(`<box>${zones('P1', 'P2', 'P3-30', 'P3-40')}${tags('P3', [30, 40])}${rows.join('')}</box>`);
  expect(found).not.toContain('my2');
  expect(found).toContain('P3-30');
});

test('members in one value beside a number that the last of them ends in are a list, no device made of that number', () => {
  const team = '<team><nr>1</nr><dev>bond0</dev><of>ice0,ice1</of><how>balance</how></team>';
  const found = mentioned(`<box>${zones('ixl0', 'ixl1', 'bond0')}${team}</box>`);
  expect(found.filter((name) => name.startsWith('ice'))).toEqual(['ice0', 'ice1']);
});

test('members that each have a field of their own are ports, made like the others', () => {
  const team = '<team><dev>bond0</dev><port1>0/5</port1><port2>0/6</port2><how>balance</how></team>';
  const found = mentioned(`<box>${zones('0/1', '0/2', '0/3-30', '0/3-40')}${tags('0/3', [30, 40])}${team}</box>`);
  expect(found).toEqual(expect.arrayContaining(['0/5', '0/6']));
});

test('where tagged devices stand, a slot and a socket beside them are ports', () => {
  const text = `<box>${zones('1/0/1', '1/0/2', 'ixl0.1', 'ixl0.2')}${tags('ixl0', [1, 2, 3]).replaceAll('-', '.')}</box>`;
  expect(mentioned(text)).toEqual(expect.arrayContaining(['1/0/1', '1/0/2', 'ixl0.1', 'ixl0.2']));
  expect(open(text).reading.dangling).toEqual([]);
});

test('a role that names an aggregate by its number sits on it, wherever the members are listed', () => {
  const row = (...cells: readonly (readonly [string, string | number])[]) =>
    `<row>${cells.map(([name, value]) => `<c n="${name}">${value}</c>`).join('')}</row>`;
  const names = ['quay', 'office', 'tills'];
  const text = `<box>
<nets>${names.map((name, at) => row(['uid', at + 1], ['name', name], ['ip', `10.20.${at}.1`], at === 2 ? ['bundle_uid', 10] : ['nic', `axp${at}`])).join('')}</nets>
<bundles>${row(['uid', 10], ['name', 'lagg0'], ['how', 'failover'])}</bundles>
<members>${row(['bundle_uid', 10], ['nic', 'axp4'])}${row(['bundle_uid', 10], ['nic', 'axp5'])}</members>
<rules>${[...names, ...names].map((_, at) => row(['uid', at + 1], ['act', 'pass'], ['net_uid', (at % 3) + 1])).join('')}</rules></box>`;
  expect(open(text).reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(
    expect.arrayContaining(['quay axp0', 'office axp1', 'tills lagg0']),
  );
});

test('the word that tells kinds of one element apart is no port, though a driver is called so', () => {
  const row = (kind: string, ...cells: readonly string[]) =>
    `<row kind="${kind}">${cells.map((cell, at) => `<c n="${kind}${'pqrs'[at]}">${cell}</c>`).join('')}</row>`;
  const rows = [
    ...['quay', 'office', 'tills'].map((name, at) => row('ft8', name, `sfp-${at + 1}`, `10.20.${at}.1`)),
    row('et6', 'mail.example.net', 'alarm', '25'),
    ...['a', 'b'].map((name) => row('vr1', `radio ${name}`, '5180')),
  ];
  expect(mentioned(`<box>${rows.join('')}</box>`).filter((name) => /^(et6|vr1)$/.test(name))).toEqual([]);
});

test('what names a device by its record is no name of the role that sits on it', () => {
  const ids = [30, 40, 50, 60, 70, 80, 90, 91, 92, 93];
  const tagged = ids.map(
    (id, at) => `<tag><code>vl00${at + 10}</code><on>bge3</on><id>${id}</id><dev>bge3.${id}</dev></tag>`,
  );
  const names = ids.map((_, at) => `old jetty ${'abcdefghij'[at]}`);
  const nets = [
    ...names.map(
      (name, at) => `<net><name>${name}</name><ip>10.20.${at}.1</ip><len>24</len><tag>vl00${at + 10}</tag></net>`,
    ),
    '<net><name>main land</name><ip>203.0.113.10</ip><len>29</len><nic>bge1</nic></net>',
  ];
  const rules = [...names, 'main land'].map((name) => `<rule><do>pass</do><at>${name}</at></rule>`);
  const { bindings } = open(
    `<box><tags>${tagged.join('')}</tags><nets>${nets.join('')}</nets><rules>${rules.join('')}</rules></box>`,
  ).reading;
  expect(bindings.map(({ role, port }) => `${role} ${port}`).sort()).toEqual(
    [...names.map((name, at) => `${name} bge3.${ids[at]}`), 'main land bge1'].sort(),
  );
});

test('a tag behind a dash makes a device on a slot and a socket, which its record is named by', () => {
  const { reading } = open(`<box>${zones('0/1', '0/2', '0/3-30', '0/3-40')}${tags('0/3', [30, 40])}</box>`);
  expect(reading.references.filter(({ value }) => value.startsWith('0/3-')).map(({ value }) => value)).toEqual([
    '0/3-30',
    '0/3-40',
  ]);
});

test('a version is no device, though a dot and a number stand in it as in a tagged one', () => {
  const found = mentioned(
    `<box><release>R14.2</release>${zones('P1', 'P3-30', 'P3-40', 'eth0.7')}${tags('P3', [30, 40])}</box>`,
  );
  expect(found).not.toContain('R14.2');
  expect(found).toContain('eth0.7');
});

test('a device is named by its record, also where networks name that by an identifier', () => {
  const wire = (at: number) => `<ether id="w${at}" os="ge${at}"/>`;
  const tag = (at: number, vid: number) => `<tag id="w${at}" on="w3" number="${vid}" os="ge3.${vid}"/>`;
  const nets = ['outer', 'desk', 'visits', 'office', 'gauges'].map(
    (name, at) => `<net id="n${at}" title="${name}" wire="w${[1, 2, 5, 6, 4][at]}"><v4 ip="10.20.${at}.1"/></net>`,
  );
  const wires = [wire(1), wire(2), wire(3), wire(4), tag(5, 210), tag(6, 220)];
  const { backup, reading } = open(
    `<box><wires>${wires.join('')}</wires>${nets.join('')}<snmp watch="ge1,ge3,ge3.210"/></box>`,
  );
  const watched = reading.references.filter(({ value }) => value.startsWith('ge'));
  expect(watched.map(({ value, to }) => `${value} ${nameOf(backup.tree, to)}`)).toEqual([
    'ge1 ether',
    'ge3 ether',
    'ge3.210 tag',
  ]);
});

test('what is called as ports are but for the case of its letters is no port', () => {
  const ports = [1, 2, 3].map((at) => `<port><is>X${at}</is><mac>00:00:5e:00:53:0${at}</mac><rate>1000</rate></port>`);
  const sets = [1, 2, 3, 4, 5].map((at) => `<set><id>x${at}</id><has>10.20.0.${at}</has></set>`);
  const rules = ['x4', 'x1', 'x4'].map((set) => `<rule><from>${set}</from><do>pass</do></rule>`);
  const found = mentioned(`<box>${ports.join('')}${zones('X1', 'X2', 'X3')}${sets.join('')}${rules.join('')}</box>`);
  expect(new Set(found)).toEqual(new Set(['X1', 'X2', 'X3']));
});

test('a port that only a line names is known by the word before it, which others have before theirs', () => {
  const vlans = tags('0/0/3', [30, 40]).replaceAll('<on>', '<on>jack/');
  const line = '<line><is>ppp0</is><over>jack/0/0/1</over><login>quay</login></line>';
  const build = '<about><build>rev/0/0/9</build></about>';
  const found = mentioned(`<box>${zones('line/ppp0', 'jack/0/0/2', 'tag/0/0/3-30')}${vlans}${line}${build}</box>`);
  expect(found).toContain('0/0/1');
  expect(found).not.toContain('0/0/9');
});

test('what certainly names the record of a port names the port, also among names of other records', () => {
  const plug = (name: string) => `<plug name="${name}"><speed>1000</speed></plug>`;
  const lane = (tag: number) => `<lane name="gbe2-${tag}"><on>gbe2</on><tag>${tag}</tag></lane>`;
  const net = (name: string, nic: string, at: number) =>
    `<net name="${name}"><nic>${nic}</nic><ip>10.20.${at}.1</ip></net>`;
  const rules = ['quay', 'office', 'tills', 'piers', 'tills'].map((name) => `<rule><in>${name}</in></rule>`).join('');
  const extra = (name: string, ...takes: readonly string[]) =>
    `<extra name="${name}">${takes.map((one) => `<take>${one}</take>`).join('')}</extra>`;
  const nets = ['gbe0', 'gbe1', 'gbe2-30', 'gbe2-40'].map((nic, at) =>
    net(['quay', 'office', 'tills', 'piers'][at]!, nic, at),
  );
  const text = `<box><plugs>${['gbe0', 'gbe1', 'gbe2', 'gbe3'].map(plug).join('')}</plugs><lanes>${lane(30)}${lane(40)}</lanes>
    <nets>${nets.join('')}</nets><rules>${rules}</rules>
    <extras>${extra('watch', 'tills', 'piers', 'office')}${extra('guard', 'gbe0', 'gbe2-30', 'quay')}</extras></box>`;
  expect(mentioned(text).slice(-2)).toEqual(['gbe0', 'gbe2-30']);
});
