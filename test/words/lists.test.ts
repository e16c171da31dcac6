import { expect, test } from 'vitest';
import { kindOfRecord, listName } from '../../src/words/lists.ts';

test.each([
  ['/box/zones/zone', 'zones / zone', 'zone'],
  ['/box/tag', 'tag', 'tag'],
  ['/dump/table{zone}/row', 'zone / row', 'row'],
  ['/store/p[book]/p[sets]/p', 'book / sets / p', 'p'],
  ['/list/place/*', 'place', 'place'],
  ['/list/lease/*/fixed/*', 'lease / * / fixed', 'fixed'],
  ['/box', '/box', '/box'],
])('the list %s is called %s', (list, name, kind) => {
  expect([listName(list), kindOfRecord(list)]).toEqual([name, kind]);
});
