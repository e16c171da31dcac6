import { expect, test } from 'vitest';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

/** References of a document, as the places that they stand at and the records that they name. */
function links(text: string): string[] {
  const { backup, reading } = open(text);
  return reading.references
    .filter(({ tier }) => tier !== 'possible')
    .map(({ site, value, to }) => `${sitePath(backup.tree, site)} ${value} ${pathOf(backup.tree, to)}`);
}

const people = ['gull', 'tern', 'skua', 'plover'];
const crews: readonly (readonly [name: string, member: string])[] = [
  ['desk', 'tern'],
  ['dock', 'skua'],
  ['pier', 'gull'],
  ['yard', 'plover'],
];

test('elements that lie in each other and are called by an attribute: parts of the structure, and records with a key', () => {
  const user = (name: string) =>
    `<p n="${name}"><p n="mail" v="${name}@kestrelquay.example"/><p n="desk" v="10.20.1.${name.length}"/></p>`;
  const crew = ([name, member]: (typeof crews)[number]) =>
    `<p n="${name}"><p n="head" v="${member}"/><p n="text" v="Crew of the ${name}"/></p>`;
  const text = `<store><p n="staff"><p n="users">${people.map(user).join('')}</p><p n="crews">${crews.map(crew).join('')}</p></p></store>`;
  const { reading, backup } = open(text);
  const lists = reading.collections.map(({ parent, records, key }) => [
    pathOf(backup.tree, parent),
    records.length,
    key,
  ]);
  expect(lists).toEqual(
    expect.arrayContaining([
      ['/store[1]/p[1]/p[1]', 4, { by: 'attribute', name: 'n' }],
      ['/store[1]/p[1]/p[2]', 4, { by: 'attribute', name: 'n' }],
    ]),
  );
  expect(links(text)).toEqual(
    crews.map(
      ([, member], at) =>
        `/store[1]/p[1]/p[2]/p[${at + 1}]/p[1]/@v ${member} /store[1]/p[1]/p[1]/p[${people.indexOf(member) + 1}]`,
    ),
  );
});

test('tables whose header names the columns by an attribute, and whose cells are called by their type', () => {
  const head = (...names: string[]) => `<head>${names.map((name) => `<column name="${name}"/>`).join('')}</head>`;
  const text = `<dump><table name="user">${head('user_id', 'name', 'mail')}${people
    .map((name, at) => `<row><int>${at + 11}</int><text>${name}</text><text>${name}@kestrelquay.example</text></row>`)
    .join('')}</table><table name="crew">${head('crew_id', 'title', 'user_id')}${crews
    .map(
      ([name, member], at) =>
        `<row><int>${at + 21}</int><text>${name}</text><int>${people.indexOf(member) + 11}</int></row>`,
    )
    .join('')}</table></dump>`;
  expect(links(text)).toEqual(
    crews.map(([, member], at) => {
      const to = people.indexOf(member);
      return `/dump[1]/table[2]/row[${at + 1}]/int[2] ${to + 11} /dump[1]/table[1]/row[${to + 1}]`;
    }),
  );
});

test('indices in brackets are parts of a dotted key', () => {
  const names = Array.from({ length: 12 }, (_, at) => `${people[at % 4]}-${'abc'[at >> 2]}`);
  const lines = [
    ...names.flatMap((name, at) => [
      [`users[${at}].name`, name],
      [`users[${at}].mail`, `${name}@kestrelquay.example`],
    ]),
    ...names.flatMap((_, at) => [
      [`crews[${at}].title`, `crew${at}`],
      [`crews[${at}].head`, names[(at * 5) % 12]!],
    ]),
    ['page.port', '8443'],
    ['page.title', 'Gate'],
  ];
  const text = `<settings>${lines.map(([key, value]) => `<set key="${key}" to="${value}"/>`).join('')}</settings>`;
  expect(links(text)).toEqual(
    names.map((_, at) => {
      const to = (at * 5) % 12;
      return `/settings[1]/set[${24 + 2 * at + 2}]/@to ${names[to]} /settings[1]/set[${2 * to + 1}]`;
    }),
  );
});
