import { expect, test } from 'vitest';
import { kindFields } from '../../src/core/reading/by-shape.ts';
import { documentOf } from './document.ts';

const table = (tag: string, kind: string, port: string) =>
  `<${tag}>${[1, 2, 3].map((at) => `<r k="${kind}"><no>${at}</no><on>${port}</on></r>`).join('')}</${tag}>`;
const kindsIn = (...tables: string[]) =>
  [...kindFields(documentOf(`<box>${tables.join('')}</box>`).fields)].map(({ template }) => template);

test('one word in the records of each table, another in the next one, says of what kind they are', () => {
  const tables = [table('a', 'f40', 'igb0'), table('b', 'f101', 'igb0'), table('c', 'f135', 'igb0')];
  expect(kindsIn(...tables)).toEqual(['/box/a/r/@k', '/box/b/r/@k', '/box/c/r/@k']);
  expect(kindsIn(...tables.slice(1))).toEqual([]);
});
