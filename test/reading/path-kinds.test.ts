import { expect, test } from 'vitest';
import { areCountedPaths, areNamedPaths, headOfPath, kindOfPath } from '../../src/core/reading/shapes/path-kinds.ts';
import { open } from '../carry/files.ts';

test('a path that counts records tells their kind', () => {
  expect(kindOfPath('Unit.Link.3.')).toBe('Unit.Link');
  expect(kindOfPath('/unit/pool/1/lease/2')).toBe('unit/pool/lease');
  // Names of devices, of variables and of hosts.
  for (const other of ['te-0/0/1', '0/1', 'Link3', 'hw.igb0.queues', 'a.2b.3', '10.20.0.1/24'])
    expect(kindOfPath(other)).toBeNull();
  expect(areCountedPaths(['unit.net.1', 'unit.net.2', 'unit.pool.1', 'unit.pool.2', 'unit.info'])).toBe(true);
  expect(areCountedPaths(['unit.net.1', 'unit.net.2', 'unit.net.3'])).toBe(false);
  expect(areCountedPaths(['net.core.max', 'net.core.min', 'kernel.panic'])).toBe(false);
});

test('a path that ends in a name tells its kind where a few kinds come again', () => {
  expect(headOfPath('/network/office')).toBe('network');
  expect(headOfPath('office')).toBeNull();
  expect(areNamedPaths(['/net/a', '/net/b', '/pool/a', '/pool/c', '/host'])).toBe(false);
  expect(areNamedPaths(['/net/a', '/net/b', '/pool/a', '/pool/c'])).toBe(true);
  expect(areNamedPaths(['/etc/a', '/var/b', '/opt/a', '/srv/c'])).toBe(false);
});

// Common practice, no source: one element for each object, called by its path, all of it in attributes.
test('objects that are called by paths of names: a key that ends as the device or counts by the tag is none', () => {
  const set = (path: string, values: Record<string, string>) =>
    `<set path="${path}" ${Object.entries(values)
      .map(([name, value]) => `${name}="${value}"`)
      .join(' ')}/>`;
  const { reading } = open(
    `<box>${[
      ...[0, 1, 2, 3].map((at) => set(`/link/eth${at}`, { device: `eth${at}`, speed: 'auto' })),
      ...[81, 82].map((tag) => set(`/vlan/v${tag}`, { device: `eth2.${tag}`, over: '/link/eth2', tag: `${tag}` })),
      ...[
        ['sea', '/link/eth0'],
        ['office', '/link/eth1'],
        ['quay', '/vlan/v81'],
        ['crane', '/vlan/v82'],
      ].map(([name, link], at) => set(`/network/${name}`, { link: link!, address: `10.21.${at}.1/24` })),
      ...['tills', 'doors'].map((name, at) => set(`/hosts/${name}`, { items: `10.21.0.${at + 4} 10.21.0.${at + 9}` })),
      ...['office sea', 'quay sea', 'crane office', 'quay gone'].map((pair, at) => {
        const [from, to] = pair.split(' ');
        return set(`/rule/r${at}`, { action: 'pass', from: `/network/${from}`, to: `/network/${to}` });
      }),
    ].join('')}</box>`,
  );
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    '/network/sea eth0',
    '/network/office eth1',
    '/network/quay eth2.81',
    '/network/crane eth2.82',
  ]);
  expect(reading.mentions.map(({ value }) => value)).not.toContain('/vlan/v81');
  expect(reading.dangling.map(({ value }) => value)).toEqual(['/network/gone']);
});

// Common practice, no source: parameter trees written as objects that all have one tag, called by their paths.
test('objects of one tag that are called by counted paths are of several kinds; what is made of ports by key is a device', () => {
  const object = (path: string, params: Record<string, string>) =>
    `<object path="${path}">${Object.entries(params)
      .map(([name, value]) => `<param name="${name}" type="string">${value}</param>`)
      .join('')}</object>`;
  const link = (at: number) => object(`Unit.Link.${at}.`, { Name: `lan${at}`, Enable: '1' });
  const net = (at: number, alias: string, lower: string) =>
    object(`Unit.Net.${at}.`, { Alias: alias, Lower: lower, Address: `10.31.${at}.1`, Mask: '255.255.255.0' });
  const rule = (at: number, from: number, to: number) =>
    object(`Unit.Filter.${at}.`, { Order: `${at}`, From: `Unit.Net.${from}.`, To: `Unit.Net.${to}.`, Target: 'Drop' });
  const { reading } = open(
    `<box>${[
      object('Unit.Info.', { Host: 'quay' }),
      ...[1, 2, 3, 4].map(link),
      object('Unit.Tagged.1.', { Name: 'lan3.30', Lower: 'Unit.Link.3.', Tag: '30' }),
      object('Unit.Tagged.2.', { Name: 'lan3.40', Lower: 'Unit.Link.3.', Tag: '40' }),
      object('Unit.Bridge.1.', { Name: 'inner', Members: 'Unit.Link.1.,Unit.Link.2.' }),
      net(1, 'sea', 'Unit.Link.4.'),
      net(2, 'office', 'Unit.Bridge.1.'),
      net(3, 'berths', 'Unit.Tagged.1.'),
      net(4, 'lights', 'Unit.Tagged.2.'),
      rule(1, 2, 1),
      rule(2, 3, 1),
      rule(3, 4, 2),
      rule(4, 3, 9),
    ].join('')}</box>`,
  );
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'sea lan4',
    'office inner',
    'berths lan3.30',
    'lights lan3.40',
  ]);
  expect(reading.ports.map(({ name }) => name)).toEqual(expect.arrayContaining(['lan1', 'lan2', 'inner', 'lan3.30']));
  expect(reading.dangling.map(({ value }) => value)).toEqual(['Unit.Net.9.']);
});
