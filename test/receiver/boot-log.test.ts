import { describe, expect, test } from 'vitest';
import { devices, sample, short } from './support.ts';

// All messages are from memory; see test/fixtures/receiver/SOURCES.md.

describe('boot logs', () => {
  test('Linux, with times: renames, speeds of links and cards, nothing of disks and buses', () => {
    const read = devices(sample('boot-linux.txt'));
    expect(read.shape).toBe('boot-log');
    expect(short(read.receiver.ports)).toEqual([
      'enp0s31f6 1000 up',
      'enp1s0f0 1000 up',
      'enp2s0 2500 up',
      'eno1 1000 down',
      'ens3f0np0 25000',
      'ens7',
      'bond0 aggregate',
    ]);
    expect(read.receiver.ports.map(({ mac }) => mac?.slice(-2) ?? null)).toEqual([
      '70',
      '71',
      '72',
      '73',
      '74',
      null,
      null,
    ]);
    expect(read.otherNames.map(({ name, port, how }) => `${name} ${port} ${how}`)).toContain('eth0 enp0s31f6 before');
    expect(read.otherNames).toHaveLength(6);
  });

  test('Linux, from the journal, two boots: the last one’s link, one name for one card', () => {
    const read = devices(sample('boot-linux-journal.txt'));
    expect(short(read.receiver.ports)).toEqual(['enp0s31f6 100', 'eth1']);
    expect(read.receiver.ports.map(({ mac }) => mac)).toEqual(['00:00:5e:00:53:76', '00:00:5e:00:53:77']);
    expect(read.otherNames).toEqual([{ name: 'eth0', port: 'enp0s31f6', how: 'before' }]);
  });

  test('FreeBSD: speeds by medium and model, a new name, what stands on the ports', () => {
    const read = devices(sample('boot-freebsd.txt'));
    expect(short(read.receiver.ports)).toEqual([
      'igb0 up',
      'ix0 10000 up',
      're0 1000 down',
      'quay0',
      'lagg0 aggregate up',
      'lagg0.30 tagged on lagg0 up',
    ]);
    expect(read.receiver.ports[2]!.mac).toBe('00:00:5e:00:53:82');
    expect(read.otherNames).toEqual([{ name: 'em0', port: 'quay0', how: 'before' }]);
    expect(read.ignored).toEqual([{ name: 'lo0', why: 'loopback' }]);
  });

  test('OpenBSD', () => {
    const { receiver } = devices(sample('boot-openbsd.txt'));
    expect(receiver.ports.map(({ name, mac }) => `${name} ${mac}`)).toEqual([
      'em0 00:00:5e:00:53:88',
      'em1 00:00:5e:00:53:89',
      're0 00:00:5e:00:53:8a',
    ]);
  });

  test.each([
    ['[    1.3] e1000e 0000:00:1f.6 eth0: NIC Link is Up 1000 Mbps Full Duplex', 'eth0 1000 up'],
    ['[Wed Nov 25 09:00:01 2026] r8169 0000:02:00.0 eth0: Link is Up - 1Gbps/Full - flow control off', 'eth0 1000 up'],
    ['<6>[    1.3] ixgbe 0000:03:00.0 eth0: NIC Link is Up 10 Gbps, Flow Control: RX/TX', 'eth0 10000 up'],
    ['2026-11-25T09:00:01.123456+00:00 kqm-gw2 kernel: igb 0000:01:00.0 eth1: igb: eth1 NIC Link is Down', 'eth1 down'],
    ['eth0: renamed from veth12ab34c', 'eth0'],
    ['e1000: eth0 NIC Link is Up 100 Mbps Half Duplex\ne1000: eth0: e1000_watchdog: NIC Link is Down', 'eth0 down'],
    ['IPv6: ADDRCONF(NETDEV_UP): eth5: link is not ready', 'eth5 down'],
    ['Nov 25 09:00:01 kqm-gw2 kernel: igc0: link state changed to DOWN', 'igc0 down'],
    ['bge0: <Broadcom NetXtreme Gigabit Ethernet Controller> mem 0xa0000-0xaffff irq 16 on pci3', 'bge0 1000'],
    ['vtnet0: <VirtIO Networking Adapter> on virtio_pci0', 'vtnet0'],
  ])('one line: %s', (line, says) => {
    expect(short(devices(line).receiver.ports)).toEqual([says]);
  });

  test('a swap of two names keeps each card’s address', () => {
    const { receiver } = devices(
      [
        'igb 0000:01:00.0: eth0: (PCIe:5.0Gb/s:Width x4) 00:00:5e:00:53:01',
        'igb 0000:01:00.1: eth1: (PCIe:5.0Gb/s:Width x4) 00:00:5e:00:53:02',
        'igb 0000:01:00.0 rename2: renamed from eth0',
        'igb 0000:01:00.1 eth0: renamed from eth1',
        'igb 0000:01:00.0 eth1: renamed from rename2',
      ].join('\n'),
    );
    expect(receiver.ports.map(({ name, mac }) => `${name} ${mac}`).sort()).toEqual([
      'eth0 00:00:5e:00:53:02',
      'eth1 00:00:5e:00:53:01',
    ]);
  });
});
