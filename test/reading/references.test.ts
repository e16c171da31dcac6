import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

const example = readFileSync(new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url), 'utf8');

test('names that tell their own records apart, of which two of three are names elsewhere, too: the third is not amiss', () => {
  const { reading } = open(example);
  expect(reading.dangling.map(({ value }) => value)).not.toContain('tide-board');
});

test('a rule that names a set which is not there is amiss all the same', () => {
  const { reading } = open(example);
  expect(reading.dangling.map(({ value }) => value)).toContain('old-card-gateway');
});
