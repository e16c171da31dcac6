import { expect, test } from 'vitest';
import type { KeyField } from '../../src/core/reading/keys/key-table.ts';
import { CommonEnds } from '../../src/core/reading/references/common-ends.ts';

const key = (...distinct: string[]) => ({ index: 0, field: { distinct } }) as unknown as KeyField;

test.each([
  ['an ending', ['fibre_gw', 'mast_gw'], ['sat_gw'], true],
  ['a beginning', ['gw-fibre', 'gw-mast'], ['gw-sat', 'gw-mast'], true],
  ['another ending', ['fibre_gw', 'mast_gw'], ['mast_gw', 'uplink_net'], false],
  ['nothing but the ending', ['fibre_gw', 'mast_gw'], ['_gw'], false],
  ['no ending of all', ['fibre_gw', 'mast'], ['sat_gw'], false],
  ['an ending of one name', ['fibre_gw'], ['sat_gw'], false],
  ['no names', ['fibre_gw', 'mast_gw'], [], false],
])('names alike: %s', (_, known, names, alike) => {
  expect(new CommonEnds().have(key(...known), names)).toBe(alike);
});
