import { expect, test } from 'vitest';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

const people = ['gull', 'tern', 'skua', 'plover'];

test('cells whose tags are types are called by their attribute, lists of values beside them, too', () => {
  const users = people.map(
    (name, at) =>
      `<rec><str name="mail">${name}@kestrelquay.example</str><str name="login">${name}</str><int name="uid">${2000 + at}</int></rec>`,
  );
  const crews = ['desk', 'dock', 'pier'].map(
    (name, at) =>
      `<rec><str name="title">${name}</str><int name="pier">${at}</int><ref name="head">${people[at]}</ref><list name="has"><ref>${people[at + 1]}</ref><ref>${people[0]}</ref></list></rec>`,
  );
  const text = `<store><list name="users">${users.join('')}</list><list name="crews">${crews.join('')}</list></store>`;
  const { backup, reading } = open(text);
  expect(
    reading.references.map(({ site, to }) => `${sitePath(backup.tree, site)} ${pathOf(backup.tree, to)}`).sort(),
  ).toEqual(
    [0, 1, 2].flatMap((at) => {
      const crew = `/store[1]/list[2]/rec[${at + 1}]`;
      const user = (no: number) => `/store[1]/list[1]/rec[${no + 1}]`;
      return [
        `${crew}/list[1]/ref[1] ${user(at + 1)}`,
        `${crew}/list[1]/ref[2] ${user(0)}`,
        `${crew}/ref[1] ${user(at)}`,
      ];
    }),
  );
});

test('elements of several names that one attribute joins to records are no cells', () => {
  const zones = people.map((name, at) => `<zone id="${name}"><ip>10.20.${at}.1</ip></zone>`);
  const rules = [0, 1, 2, 3, 0, 1, 2, 3].map(
    (at) => `<rule><from zone="${people[at]}">any</from><to zone="${people[(at + 1) % 4]}">any</to></rule>`,
  );
  const { reading } = open(`<box>${zones.join('')}${rules.join('')}</box>`);
  expect(reading.references).toHaveLength(16);
});
