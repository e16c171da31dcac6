import { describe, expect, test } from 'vitest';
import { devices, sample, short } from './support.ts';

// Source: iproute2 6.1.0 as printed, see test/fixtures/receiver/SOURCES.md; ip(8), ip-link(8).

/** What a namespace without `-d` tells of: taps read as sockets, as a virtual machine's do. */
const all = [
  'eth0 down',
  'enp2s0 down',
  'eth1 up',
  'enp3s0f0 down',
  'pair1 other down',
  'pair0 other down',
  'br0 other down',
  'vx0 down',
  'eth0.30 tagged on eth0 down',
  'mv0 other down',
];
const macs = [10, 11, 12, 13, 15, 14, 16, 17, 18, 19].map((octet) => `00:00:5e:00:53:${octet}`);

describe('the same devices, whatever way ip prints them', () => {
  test.each([
    ['ip-link.txt', 'ip-long'],
    ['ip-addr.txt', 'ip-long'],
    ['ip-s-link.txt', 'ip-long'],
    ['ip-o-link.txt', 'ip-long'],
    ['ip-c-link.txt', 'ip-long'],
    ['ip-br-link.txt', 'ip-brief'],
    ['ip-br-addr.txt', 'ip-brief'],
    ['ip-j-link.json', 'ip-json'],
    ['ip-j-br-link.json', 'ip-json'],
    ['ip-j-p-addr.json', 'ip-json'],
  ])('%s', (file, shape) => {
    const read = devices(sample(file));
    expect(read.shape).toBe(shape);
    expect(short(read.receiver.ports)).toEqual(all);
    const told = read.receiver.ports.map(({ mac }) => mac);
    expect(told).toEqual(file === 'ip-br-addr.txt' ? all.map(() => null) : macs);
    expect(read.ignored).toEqual([
      { name: 'lo', why: 'loopback' },
      { name: 'tun0', why: 'tunnel' },
    ]);
    expect(read.unread).toEqual([]);
    expect(read.troubles).toEqual([]);
    expect(read.receiver.source).toBe('paste');
  });

  test.each(['ip-d-link.txt', 'ip-j-d-p-link.json'])('%s: what made a device outweighs its name', (file) => {
    const read = devices(sample(file));
    expect(short(read.receiver.ports)).toEqual([
      'eth1 up',
      'enp3s0f0 down',
      'pair1 other down',
      'pair0 other down',
      'br0 other down',
      'eth0.30 other down',
      'mv0 other down',
    ]);
    expect(read.ignored.map(({ name }) => name)).toEqual(['lo', 'eth0', 'enp2s0', 'vx0', 'tun0']);
    expect(read.unread).toEqual([]);
  });
});

describe('names', () => {
  test.each(['ip-link.txt', 'ip-o-link.txt', 'ip-j-link.json'])('%s: which name is which', (file) => {
    const read = devices(sample(file));
    expect(read.otherNames).toEqual([
      { name: 'eno1', port: 'eth0', how: 'alternative' },
      { name: 'uplink-socket-left', port: 'eth0', how: 'alternative' },
    ]);
    expect(read.receiver.ports[0]!.label).toBe('Uplink, harbour office');
  });

  // From memory, in the form of the samples above.
  test('aggregates, members with their own address, tagged devices of any name, a radio card', () => {
    const { receiver, ignored, otherNames, unread } = devices(sample('ip-d-link-vlan-bond.txt'));
    expect(short(receiver.ports)).toEqual([
      'eno1 up',
      'eno2 up',
      'ens5f0np0 down',
      'bond0 aggregate up',
      'bond0.30 tagged on bond0 up',
      'guests tagged on bond0 up',
      'wwan0 down',
    ]);
    expect(receiver.ports.slice(0, 3).map(({ mac }) => mac)).toEqual([
      '00:00:5e:00:53:50',
      '00:00:5e:00:53:51',
      '00:00:5e:00:53:52',
    ]);
    expect(ignored.map(({ name, why }) => `${name} ${why}`)).toEqual(['lo loopback', 'wg0 tunnel', 'gre0 tunnel']);
    expect(otherNames.map(({ name, port }) => `${name} ${port}`)).toEqual(['enp1s0f0 eno1', 'enp1s0f1 eno2']);
    expect(unread).toEqual([]);
    expect(receiver.name).toBe('kqm-gw2');
  });

  test('ports of a switch inside the box are sockets; the two ends of a pair are not', () => {
    const { receiver } = devices(
      'eth0 UP 00:00:5e:00:53:01 <BROADCAST,MULTICAST,UP,LOWER_UP>\nlan1@eth0 UP 00:00:5e:00:53:02 <BROADCAST,MULTICAST,UP,LOWER_UP>\nwan@eth0 LOWERLAYERDOWN 00:00:5e:00:53:03 <NO-CARRIER,BROADCAST,MULTICAST,UP>\neth8@eth9 UP 00:00:5e:00:53:04 <UP>\neth9@eth8 UP 00:00:5e:00:53:05 <UP>',
    );
    expect(short(receiver.ports)).toEqual(['eth0 up', 'lan1 up', 'wan down', 'eth8 other up', 'eth9 other up']);
  });
});

describe('as people paste it', () => {
  const brief = sample('ip-br-link.txt');
  const same = (text: string) => expect(short(devices(text).receiver.ports)).toEqual(all);

  test('CRLF and CR line ends, a byte-order mark, no-break blanks, no blank at all before details', () => {
    same(brief.replaceAll('\n', '\r\n'));
    same(brief.replaceAll('\n', '\r'));
    same(`\uFEFF${brief}`);
    same(brief.replaceAll(' ', '\u00A0'));
    const bare = devices(sample('ip-link.txt').replace(/^ +/gm, ''));
    expect(short(bare.receiver.ports)).toEqual(all);
    expect(bare.unread).toEqual([]);
  });

  test.each([
    ['root@kqm-gw2:~# ip -br link\n', 'root@kqm-gw2:~# ', 'kqm-gw2'],
    ['[admin@kqm-gw2 ~]$ sudo ip -brief link show\n', '[admin@kqm-gw2 ~]$', 'kqm-gw2'],
    ['$ /sbin/ip -br l\n', '$', ''],
    ['# ip -br link\n\n', '', ''],
    ['ip -br link\n', 'root@kqm-gw2:/etc# reboot', ''],
  ])('a prompt and the command: %j', (before, after, name) => {
    const read = devices(before + brief + after);
    expect(short(read.receiver.ports)).toEqual(all);
    expect(read.unread).toEqual([]);
    expect(read.receiver.name).toBe(name || (after.includes('@') ? 'kqm-gw2' : ''));
  });

  test('a terminal’s title and colours before the prompt', () => {
    const title = '\u001b]0;root@kqm-gw2: ~\u0007\u001b[01;32mroot@kqm-gw2\u001b[00m:~# ';
    const read = devices(`${title}ip -br link\n${brief}${title}`);
    expect(short(read.receiver.ports)).toEqual(all);
    expect(read.unread).toEqual([]);
    expect(read.commands).toEqual(['ip -br link']);
  });

  test('junk around it is named, with its line', () => {
    const read = devices(`Last login: Wed Nov 25\n${brief}Connection to 192.0.2.2 closed.\n`);
    expect(short(read.receiver.ports)).toEqual(all);
    expect(read.unread.map(({ line }) => line)).toEqual([1, brief.split('\n').length + 1]);
  });

  test('JSON with a prompt around it, and broken by a terminal', () => {
    const json = sample('ip-j-link.json').trim();
    same(`root@kqm-gw2:~# ip -j link\n${json}\nroot@kqm-gw2:~# `);
    same(json.replace(/(.{80})/g, '$1\n').replace(/ \n/g, '\n '));
    same(json.replace('[', '[{},'));
  });

  test('hardware addresses in every case and spelling', () => {
    const { receiver } = devices(
      'eth0 UP 00:00:5E:00:53:AB <UP>\neth1 UP 00:00:5e:00:53:ac <UP>\neth2 DOWN 00:00:00:00:00:00 <BROADCAST>',
    );
    expect(receiver.ports.map(({ mac }) => mac)).toEqual(['00:00:5e:00:53:ab', '00:00:5e:00:53:ac', null]);
  });

  test('a command that ran twice: the later state counts', () => {
    const down = brief.replace('eth1@if2         UP  ', 'eth1@if2         DOWN');
    expect(short(devices(down + brief).receiver.ports)[2]).toBe('eth1 up');
    expect(short(devices(`${brief}\n${sample('ip-br-addr.txt')}`).receiver.ports)).toEqual(all);
  });
});
