import { expect, test } from 'vitest';
import { hardwareAddress } from '../../src/core/receiver/hardware-address.ts';
import { speedIn } from '../../src/core/receiver/speed.ts';

// Names of media: IEEE 802.3, from memory; spellings as drivers write them, from memory.
test.each([
  ['1000baseT <full-duplex>', 1000],
  ['1000Base-SX', 1000],
  ['2500Base-T', 2500],
  ['2.5GBASE-T', 2500],
  ['5000Base-T', 5000],
  ['10Gbase-SR <full-duplex,rxpause>', 10_000],
  ['10GBASE-T', 10_000],
  ['25GBase-CR', 25_000],
  ['100GBASE-CR4', 100_000],
  ['100baseTX', 100],
  ['10baseT/UTP', 10],
  ['none, 10baseT, 100baseTX, 1000baseT-FDX, auto', 1000],
  ['1Gbps', 1000],
  ['1000 Mbps Full Duplex', 1000],
  ['2.5Gbps/Full', 2500],
  ['at 100Mb/s', 100],
  ['10 Gbit/s', 10_000],
  ['10Gb/25Gb Ethernet', 25_000],
  ['10/25/40/50GbE Controller', 50_000],
  ['10 Gigabit', 10_000],
  ['PCIe Gigabit Ethernet', 1000],
  ['10/100/1000', 1000],
  ['Fast Ethernet', 100],
  ['2.5GT/s', null],
  ['PCIe:5.0Gb/s:Width x4', null],
  ['Intel(R) PRO/1000', null],
  ['database 5', null],
  ['9999999999999 Gbps', null],
  ['0 Mbps', null],
  ['', null],
])('speed in %j: %j', (text, speed) => {
  expect(speedIn(text)).toBe(speed);
});

// Group and local bits: RFC 9542, 2.1.
test.each([
  ['00:00:5E:00:53:0A', '00:00:5e:00:53:0a'],
  ['00-00-5e-00-53-0a', '00:00:5e:00:53:0a'],
  ['0000.5e00.530a', '00:00:5e:00:53:0a'],
  ['00:00:00:00:00:00', null],
  ['ff:ff:ff:ff:ff:ff', null],
  ['01:00:5e:00:53:0a', null],
  ['00:00:5e:00:53', null],
  ['', null],
])('hardware address %j: %j', (text, mac) => {
  expect(hardwareAddress(text)).toBe(mac);
});
