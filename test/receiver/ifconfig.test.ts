import { describe, expect, test } from 'vitest';
import { devices, sample, short } from './support.ts';

// Sources: test/fixtures/receiver/SOURCES.md; net-tools as printed, the others from memory.

const why = (read: ReturnType<typeof devices>) => read.ignored.map(({ name, why }) => `${name} ${why}`);

describe('ifconfig', () => {
  test('FreeBSD: media, aggregates, tagged devices, descriptions, members’ own addresses', () => {
    const read = devices(sample('ifconfig-freebsd.txt'));
    expect(read.shape).toBe('ifconfig');
    expect(short(read.receiver.ports)).toEqual([
      'igb0 1000 up',
      'igb1 down',
      'ix0 10000 up',
      'ix1 10000 up',
      'lagg0 aggregate up',
      'lagg0.30 tagged on lagg0 up',
      'vlan40 tagged on lagg0',
      'bridge0 other',
      'epair0a other 10000 up',
    ]);
    expect(read.receiver.ports.slice(1, 4).map(({ mac }) => mac)).toEqual([
      '00:00:5e:00:53:21',
      '00:00:5e:00:53:22',
      '00:00:5e:00:53:23',
    ]);
    expect(read.receiver.ports.map(({ label }) => label).filter(Boolean)).toEqual(['Uplink', 'Harbour office']);
    expect(why(read)).toEqual(['enc0 no-hardware', 'lo0 loopback', 'gif0 tunnel', 'wg0 tunnel']);
    expect(read.unread).toEqual([]);
    expect(read.receiver.name).toBe('kqm-gw2');
  });

  test('OpenBSD', () => {
    const read = devices(sample('ifconfig-openbsd.txt'));
    expect(short(read.receiver.ports)).toEqual([
      'em0 1000 up',
      'em1 down',
      'igc0 2500 up',
      'aggr0 aggregate up',
      'vlan30 tagged on aggr0 up',
    ]);
    expect(read.receiver.ports[1]!.mac).toBe('00:00:5e:00:53:31');
    expect(why(read)).toEqual(['lo0 loopback', 'enc0 no-hardware', 'tun0 tunnel']);
    expect(read.unread).toEqual([]);
  });

  test('NetBSD', () => {
    const read = devices(sample('ifconfig-netbsd.txt'));
    expect(short(read.receiver.ports)).toEqual(['wm0 1000 up', 'wm1 down', 'vlan7 tagged on wm0 up']);
    expect(read.receiver.ports[1]!.mac).toBe('00:00:5e:00:53:39');
    expect(read.unread).toEqual([]);
  });

  test('net-tools: where nothing tells more, the name does', () => {
    const read = devices(sample('ifconfig-net-tools.txt'));
    expect(short(read.receiver.ports)).toEqual([
      'br0 other down',
      'enp2s0 down',
      'enp3s0f0 down',
      'eth0 down',
      'eth1 up',
      'eth0.30 tagged on eth0 down',
      'mv0 down',
      'pair0 down',
      'pair1 down',
      'vx0 down',
    ]);
    expect(read.receiver.ports[4]!.mac).toBe('00:00:5e:00:53:12');
    expect(why(read)).toEqual(['lo loopback', 'tun0 tunnel']);
    expect(read.unread).toEqual([]);
  });

  test('BusyBox, CRLF, an alias that is no device', () => {
    const text = sample('ifconfig-busybox.txt');
    expect(text).toContain('\r\n');
    const read = devices(text);
    expect(short(read.receiver.ports)).toEqual(['eth0 up', 'eth0.30 tagged on eth0 up', 'eth1 down']);
    expect(why(read)).toEqual(['eth0:1 alias', 'lo loopback', 'ppp0 tunnel']);
    expect(read.unread).toEqual([]);
  });

  test('without the blanks at the start of lines, as a chat leaves it', () => {
    const whole = devices(sample('ifconfig-freebsd.txt'));
    const bare = devices(sample('ifconfig-freebsd.txt').replace(/^[\t ]+/gm, ''));
    expect(bare).toEqual(whole);
  });

  test.each([
    ['igb0: flags=8802<BROADCAST,SIMPLEX,MULTICAST> metric 0 mtu 1500', 'igb0 down', null],
    ['wan0: flags=8843<UP,BROADCAST,RUNNING> mtu 1500\n\tether 00:00:5E:00:53:0F', 'wan0', '00:00:5e:00:53:0f'],
    ['em0: flags=8843<UP> mtu 1500\n\tmedia: Ethernet autoselect (100baseTX <half-duplex>)', 'em0 100', null],
    ['ixl0: flags=8843<UP> mtu 1500\n\tmedia: Ethernet autoselect (40Gbase-CR4 <full-duplex>)', 'ixl0 40000', null],
    ['igc0: flags=8843<UP> mtu 1500\n\tmedia: Ethernet autoselect (2500Base-T <full-duplex>)', 'igc0 2500', null],
    ['ue0: flags=8843<UP> mtu 1500\n\tether 00:00:5e:00:53:0e\n\tstatus: active', 'ue0 up', '00:00:5e:00:53:0e'],
  ])('one device alone: %j', (text, says, mac) => {
    const { receiver } = devices(text);
    expect(short(receiver.ports)).toEqual([says]);
    expect(receiver.ports[0]!.mac).toBe(mac);
  });
});

describe('ifconfig -l', () => {
  test.each([
    ['root@kqm-gw2:~ # ifconfig -l\nigb0 igb1 ix0 enc0 lo0 lagg0 vlan30\n', 'ifconfig-list'],
    ['igb0 igb1 ix0 enc0 lo0 lagg0 vlan30', 'ifconfig-list'],
    ['$ ifconfig -l\r\nigb0 igb1 ix0 enc0 lo0\r\nlagg0 vlan30\r\n$', 'ifconfig-list'],
    ['igb0 igb1 ix0\nenc0 lo0 lagg0 vlan30', 'typed-list'],
  ])('%j', (text, shape) => {
    const read = devices(text);
    expect(read.shape).toBe(shape);
    expect(short(read.receiver.ports)).toEqual(['igb0', 'igb1', 'ix0', 'enc0', 'lagg0 aggregate', 'vlan30 tagged']);
    expect(why(read)).toEqual(['lo0 loopback']);
  });

  test('ether only, with the command', () => {
    const read = devices('ifconfig -l ether\nwan lan');
    expect(short(read.receiver.ports)).toEqual(['wan', 'lan']);
    expect(read.shape).toBe('ifconfig-list');
  });
});

describe('a list typed by hand', () => {
  test.each([
    ['igb0, igb1, ixl0', ['igb0', 'igb1', 'ixl0']],
    ['igb0 igb1 ixl0', ['igb0', 'igb1', 'ixl0']],
    ['igb0\nigb1\n\nixl0\n', ['igb0', 'igb1', 'ixl0']],
    ['  igb0 ,igb1;\tixl0 ,', ['igb0', 'igb1', 'ixl0']],
    ['lan, wan, dmz', ['lan', 'wan', 'dmz']],
    ['wan', ['wan']],
    ['gigabitethernet-0/1, fastethernet-0/2', ['gigabitethernet-0/1', 'fastethernet-0/2']],
    ['1/0/1 1/0/2', ['1/0/1', '1/0/2']],
    ['eth0 eth1 bond0 eth0.30', ['eth0', 'eth1', 'bond0 aggregate', 'eth0.30 tagged on eth0']],
  ])('%j', (text, ports) => {
    const read = devices(text);
    expect(short(read.receiver.ports)).toEqual(ports);
    expect(read.receiver.source).toBe('typed');
  });

  test('hardware addresses beside the names', () => {
    const { receiver } = devices('igb0 00:00:5E:00:53:01, igb1 00-00-5e-00-53-02\nigb2 0000.5e00.5303');
    expect(receiver.ports.map(({ name, mac }) => `${name} ${mac}`)).toEqual([
      'igb0 00:00:5e:00:53:01',
      'igb1 00:00:5e:00:53:02',
      'igb2 00:00:5e:00:53:03',
    ]);
  });
});
