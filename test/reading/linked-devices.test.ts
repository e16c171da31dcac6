import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

// Common practice, no source: networks with short codes for names, on ports that records of their own describe.
test('networks that are called by codes, and name their ports by keys: the codes are no devices', () => {
  const key = (kind: number, at: number) => `${kind}3c672cd-559c-4eb7-8838-97b7ce96b6b${at}`;
  const ports = [0, 1, 2, 3].map((at) => `<port id="${key(1, at)}" name="copper${at}" speed="1000"/>`);
  const nets = [0, 1, 2, 3].map(
    (at) => `<net id="${key(2, at)}" name="n0${at + 1}" port="${key(1, at)}" ip="10.20.${at}.1"/>`,
  );
  const rules = [0, 1, 2, 3, 0, 2].map((at) => `<rule><in>${key(2, at)}</in><do>pass</do></rule>`);
  const { reading } = open(
    `<box><ports>${ports.join('')}</ports><nets>${nets.join('')}</nets><rules>${rules.join('')}</rules></box>`,
  );
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'n01 copper0',
    'n02 copper1',
    'n03 copper2',
    'n04 copper3',
  ]);
});
