import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

// Common practice, no source: a property list counts its records, people call them by labels, and ports are said by a path.
test('a path to a port is no name of the network on it: its label is', () => {
  const labels = ['Fibre to sea', 'Pier lights', 'Slip way', 'Berth 201', 'Berth 202'];
  const lines: (readonly [string, string])[] = [
    ...labels.flatMap((_, at): (readonly [string, string])[] => [
      [`wire.port.${at}.device`, `LAN${at}`],
      [`wire.port.${at}.mtu`, '1500'],
    ]),
    ...[1, 2, 3, 4].flatMap((at): (readonly [string, string])[] => [
      [`wire.tagged.${at - 1}.over`, 'LAN1'],
      [`wire.tagged.${at - 1}.tag`, `${at}`],
    ]),
    ...labels.flatMap((label, at): (readonly [string, string])[] => [
      [`wire.net.${at}.title`, label],
      [`wire.net.${at}.on`, at === 0 ? '/ports/LAN0' : `/parts/LAN1.${at}`],
      [`wire.net.${at}.address`, `10.20.${at}.1`],
    ]),
    ...[1, 3, 2].flatMap((net, at): (readonly [string, string])[] => [
      [`give.pool.${at}.inside`, labels[net]!],
      [`give.pool.${at}.first`, `10.20.${net}.100`],
      [`give.pool.${at}.last`, `10.20.${net}.120`],
    ]),
    ...[0, 1, 2, 3, 4, 1].flatMap((net, at): (readonly [string, string])[] => [
      [`guard.rule.${at}.from`, labels[net]!],
      [`guard.rule.${at}.does`, at % 2 === 0 ? 'pass' : 'stop'],
    ]),
  ];
  const { names, gone } = linksOf(
    `<list>${lines.map(([key, value]) => `<entry><key>${key}</key><value>${value}</value></entry>`).join('\n')}</list>`,
  );
  expect(names.filter((name) => name.startsWith('title '))).toEqual([]);
  expect(names.filter((name) => /^(?:inside|from) /.test(name))).toHaveLength(3 + 6);
  expect(gone).toEqual([]);
});
