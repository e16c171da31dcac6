import { describe, expect, test } from 'vitest';
import { recordName } from '../../src/core/reading/keys/record-name.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

// Common practice, no source: serialisers write a map as slots, and the type of each value as its tag.
type Value = string | number | readonly Value[] | { readonly [name: string]: Value };

function write(value: Value): string {
  if (typeof value === 'number') return `<num>${value}</num>`;
  if (typeof value === 'string') return value === '' ? '<nil/>' : `<text>${value}</text>`;
  if (Array.isArray(value)) return `<seq n="${value.length}">${value.map(write).join('')}</seq>`;
  return `<map>${Object.entries(value)
    .map(([name, inner]) => `<slot k="${name}">${write(inner)}</slot>`)
    .join('')}</map>`;
}

const nets = [
  ['office', 'igb1', '10.20.1.1/24'],
  ['quay', 'igb2.30', '10.20.3.1/24'],
  ['sea', 'igb0', '192.0.2.10/28'],
] as const;
const rules = [
  ['office', 'sea', ['web', 'mail']],
  ['quay', 'sea', ['web']],
  ['quay', 'office', ['mail', 'gone']],
  ['sea', 'quay', ['web']],
] as const;

const text = `<file><root>${write({
  vlans: [{ device: 'igb2.30', over: 'igb2', tag: 30 }],
  nets: nets.map(([label, device, address]) => ({ label, device, address })),
  services: [
    { label: 'web', ports: [80, 443] },
    { label: 'mail', ports: [25] },
  ],
  rules: rules.map(([from, to, services]) => ({ from, to, services, remark: '' })),
  page: { port: 8443, name: 'gate' },
})}</root></file>`;

describe('slots that hold one value each, whose tag is its type', () => {
  const { backup, reading } = open(text);
  const at = '/file[1]/root[1]/map[1]';

  test('roles sit on their ports', () => {
    expect(reading.bindings.map(({ role, port }) => [role, port])).toEqual(nets.map(([role, port]) => [role, port]));
  });

  test('what a rule names is found in the values, and what is gone', () => {
    const links = reading.references
      .map(({ site, value, to }) => `${sitePath(backup.tree, site)} ${value} ${pathOf(backup.tree, to)}`)
      .filter((link) => link.startsWith(`${at}/slot[4]`));
    const net = (name: string) => `${at}/slot[2]/seq[1]/map[${nets.findIndex(([label]) => label === name) + 1}]`;
    expect(links.sort()).toEqual(
      rules
        .flatMap(([from, to, services], rule) => [
          `${at}/slot[4]/seq[1]/map[${rule + 1}]/slot[1]/text[1] ${from} ${net(from)}`,
          `${at}/slot[4]/seq[1]/map[${rule + 1}]/slot[2]/text[1] ${to} ${net(to)}`,
          ...services.flatMap((name, item) =>
            name === 'gone'
              ? []
              : `${at}/slot[4]/seq[1]/map[${rule + 1}]/slot[3]/seq[1]/text[${item + 1}] ${name} ${at}/slot[3]/seq[1]/map[${name === 'web' ? 1 : 2}]`,
          ),
        ])
        .sort(),
    );
    expect(reading.dangling.map(({ value }) => value)).toEqual(['gone']);
  });

  test('records are called by what their slot says', () => {
    const list = reading.collections.find(({ parent }) => pathOf(backup.tree, parent) === `${at}/slot[2]`);
    expect(list?.records.map((node) => recordName(backup.tree, list, node))).toEqual(['office', 'quay', 'sea']);
  });
});

// The same in a flat list of things: no slot lies in another's value, and a link says kind and name of what it leads to.
test('slots of things that lie in no slot hold values of several types, links among them', () => {
  const slot = (is: string, value: string) => `<slot is="${is}">${value}</slot>`;
  const thing = (kind: string, ...slots: string[]) => `<thing kind="${kind}">${slots.join('')}</thing>`;
  const link = (kind: string, name: string) => `<link kind="${kind}" name="${name}"/>`;
  const called = (name: string) => slot('name', `<text>${name}</text>`);
  const jacks = ['em0', 'em1', 'em2'].map((name, port) =>
    thing('jack', called(name), slot('mac', `<text>00:00:5e:00:53:0${port}</text>`)),
  );
  const seats = ['Office', 'Yard', 'Outside'].map((name, port) =>
    thing('net', called(name), slot('on', link('jack', `em${port}`)), slot('v4', `<text>10.20.${port}.1/24</text>`)),
  );
  const lines = [
    ['Office', 'Yard'],
    ['Yard', 'Outside'],
    ['Office', 'Gone'],
  ].map(([from, to], order) =>
    thing(
      'line',
      slot('order', `<number>${order + 1}</number>`),
      slot('from', link('net', from!)),
      slot('to', `<list>${link('net', to!)}</list>`),
    ),
  );
  const { reading } = open(`<vault><shelf>${[...jacks, ...seats, ...lines].join('')}</shelf></vault>`);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'Office em0',
    'Yard em1',
    'Outside em2',
  ]);
  expect(
    reading.references
      .map(({ value }) => value)
      .filter((value) => !value.startsWith('em'))
      .sort(),
  ).toEqual(['Office', 'Office', 'Outside', 'Yard', 'Yard']);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['Gone']);
});
