import { expect, test } from 'vitest';
import { kindOfRecord, listName } from '../../src/words/lists.ts';

test.each([
  ['/box/zones/zone', 'zones / zone', 'zone'],
  ['/box/tag', 'tag', 'tag'],
  ['/dump/table{zone}/row', 'zone / row', 'zone'],
  ['/store/p[book]/p[sets]/p', 'book / sets / p', 'sets'],
  ['/dump/table{zone}/row/pool', 'zone / row / pool', 'pool'],
  ['/dump/entry{zone}', 'zone', 'zone'],
  ['/list/place/*', 'place', 'place'],
  ['/list/lease/*/fixed/*', 'lease / * / fixed', 'fixed'],
  ['/box', '/box', '/box'],
])('the list %s is called %s', (list, name, kind) => {
  expect([listName(list), kindOfRecord(list)]).toEqual([name, kind]);
});
