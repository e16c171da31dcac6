import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

/** Common practice, no source: in a workbook each sheet lists one kind of thing, whose column is called as the sheet is. */
const sheet = (title: string, heads: readonly string[], rows: readonly (readonly string[])[]) =>
  `<Sheet Title="${title}">${rows
    .map((row) => `<Row>${row.map((cell, at) => `<Cell of="${heads[at]}">${cell}</Cell>`).join('')}</Row>`)
    .join('')}</Sheet>`;

const book = `<Workbook>${[
  sheet(
    'Leases',
    ['Network', 'First', 'Last'],
    [
      ['Front office', '10.7.1.100', '10.7.1.180'],
      ['Fuel pier', '10.7.2.30', '10.7.2.40'],
      ['Slip way', '10.7.3.30', '10.7.3.40'],
    ],
  ),
  sheet(
    'Networks',
    ['Network', 'Port', 'Address'],
    [
      ['Phone line', 'eth0', '203.0.113.180/29'],
      ['Front office', 'eth1', '10.7.1.1/24'],
      ['Fuel pier', 'eth2', '10.7.2.1/24'],
      ['Slip way', 'eth3', '10.7.3.1/24'],
    ],
  ),
  sheet(
    'Alarms',
    ['Watch', 'Limit'],
    [
      ['Phone company', 'loss'],
      ['Sky dish', 'delay'],
    ],
  ),
  sheet(
    'Hops',
    ['Hop', 'Network', 'Address'],
    [
      ['Phone company', 'Phone line', '203.0.113.177'],
      ['Sky dish', 'Front office', '10.7.1.2'],
    ],
  ),
  sheet(
    'Routes',
    ['Destination', 'Hop'],
    [
      ['0.0.0.0/0', 'Phone company'],
      ['192.0.2.248/29', 'Sky dish'],
    ],
  ),
].join('')}</Workbook>`;

const { names } = linksOf(book);

test('of lists whose records go by one name, the names are those of the list that is called so', () => {
  const leases = names.filter((name) => /^Row\/Network (?:Front office|Fuel pier|Slip way) -> Row$/.test(name));
  // Three leases and a hop; no network names a lease.
  expect(leases).toHaveLength(4);
});

test('and what goes by another name in its own list names these', () => {
  expect(names.filter((name) => name.startsWith('Row/Watch '))).toHaveLength(2);
  expect(names.filter((name) => name.startsWith('Row/Hop '))).toHaveLength(2);
});
