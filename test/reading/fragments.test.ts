import { expect, test } from 'vitest';
import { build, planOf } from '../../src/core/index.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

const nets = ['mole', 'peak', 'desk', 'coin', 'ring'];

/** Networks that name a port or a tagged device by the fragment of its URL (RFC 3986, 3.5). */
const box = `<box>${[0, 1, 2, 3].map((at) => `<port id="if-${at + 1}" dev="eth${at}"/>`).join('')}${[310, 325]
  .map((tag, at) => `<lane id="vl-${at + 1}" on="#if-4" tag="${tag}"/>`)
  .join('')}${nets
  .map(
    (name, at) =>
      `<net id="net-${at + 1}" title="${name}"><link href="#${at < 3 ? `if-${at + 1}` : `vl-${at - 2}`}"/><ip>10.20.${at}.1</ip></net>`,
  )
  .join('')}${nets
  .map((_, at) => `<lease in="#net-${at + 1}" ip="10.20.${at}.9"/><rule at="#net-${((at * 3) % 5) + 1}" no="${at}"/>`)
  .join('')}<rule at="#net-2" no="9"/><rule at="#net-2" no="8"/></box>`;

test('a mark before names of other records makes no names of its own', () => {
  const { backup, reading } = open(box);
  const links = reading.references.map(({ site, to }) => [sitePath(backup.tree, site), pathOf(backup.tree, to)]);
  expect(links.filter(([at]) => at!.includes('/rule['))).toEqual(
    [0, 3, 1, 4, 2, 1, 1].map((to, at) => [`/box[1]/rule[${at + 1}]/@at`, `/box[1]/net[${to + 1}]`]),
  );
});

test('roles sit on the devices that fragments name', () => {
  expect(open(box).reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
    'mole eth0',
    'peak eth1',
    'desk eth2',
    'coin eth3.310',
    'ring eth3.325',
  ]);
});

test('the mark stays where a role is moved', () => {
  const { backup, reading } = open(box);
  const plan = planOf([
    { kind: 'move-role', role: '/box[1]/net[1]', to: { on: 'tag', port: 'eth3', tag: 310 } },
    { kind: 'move-role', role: '/box[1]/net[4]', to: { on: 'port', port: 'eth0' } },
  ]);
  const made = build(backup, reading, plan);
  const text = made.ok ? new TextDecoder().decode(made.value.bytes) : made.trouble.code;
  expect([...text.matchAll(/href="([^"]*)"/g)].map(([, href]) => href)).toEqual([
    '#vl-1',
    '#if-2',
    '#if-3',
    '#if-1',
    '#vl-2',
  ]);
});

// Location paths as XPath 1.0, 2.5, abbreviates them.
test.each([
  ['steps', (list: string, name: string) => `/box/${list}/${name}`],
  ['steps and a predicate', (list: string, name: string) => `/box/${list}/item[name='${name}']`],
])('records named by a path of the document: %s', (_, path) => {
  const sets = ['crew', 'tills', 'bank'];
  const items = [
    `<networks>${nets.map((name, at) => `<item><name>${name}</name><ip>10.20.${at}.1</ip></item>`).join('')}</networks>`,
    `<addresses>${sets.map((name, at) => `<item><name>${name}</name><host>10.20.0.${at + 9}</host></item>`).join('')}</addresses>`,
  ];
  const leases = nets.map((name, at) => `<lease><on>${path('networks', name)}</on><ip>10.20.${at}.9</ip></lease>`);
  const from = ['tills', 'bank', 'crew', 'gulls', 'tills'];
  const rules = from.map(
    (name, at) =>
      `<rule><on>${path('networks', nets[(at * 2) % 5]!)}</on><from>${path('addresses', name)}</from></rule>`,
  );
  const { reading } = open(`<box>${items.join('')}${leases.join('')}${rules.join('')}</box>`);
  expect(reading.references.map(({ value }) => value)).toEqual(
    expect.arrayContaining([...nets, ...from.filter((name) => name !== 'gulls')]),
  );
  expect(reading.references).toHaveLength(nets.length + from.length * 2 - 1);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['gulls']);
});
