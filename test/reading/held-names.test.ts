import { expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

// RFC 1918 addresses. Networks lie in ports and in VLANs of these, which go by numbers, and are called slot/tag/name.
let rules = 0;
const rule = (from: string, to: string) =>
  `<rule id="r-${++rules}"><act>${rules % 2 ? 'pass' : 'drop'}</act><from>${from}</from><to>${to}</to><ports>${rules % 3 ? 'web' : `${8000 + rules}/tcp`}</ports></rule>`;
const network = (name: string, at: number, inside: readonly string[]) =>
  `<net name="${name}"><address>10.30.${at}.1/24</address>${at % 2 ? `<pool first="10.30.${at}.100"/>` : ''}${inside.join('')}</net>`;
const port = (slot: number, inside: string) =>
  `<port slot="${slot}" device="em${slot - 1}"><mac>00:00:5e:00:53:2${slot}</mac>${inside}</port>`;
const vlan = (tag: number, inside: string) => `<vlan tag="${tag}">${inside}</vlan>`;
const box = `<box>${[
  port(
    1,
    network('office', 1, [rule('1/0/office', '3/0/yard'), rule('1/0/office', 'any'), rule('1/0/office', '2/30/tills')]),
  ),
  port(
    2,
    vlan(30, network('tills', 2, [rule('2/30/tills', 'any'), rule('2/30/tills', '1/0/office')])) +
      vlan(40, network('cctv', 3, [rule('2/40/cctv', 'any')])),
  ),
  port(3, network('yard', 4, [rule('3/0/yard', '2/40/cctv'), rule('3/0/yard', '2/50/lab')])),
].join(
  '',
)}<services><service name="web">80/tcp 443/tcp</service><service name="post">25/tcp 465/tcp</service></services></box>`;

test('names behind what their records lie in are names, also where what is named is gone', () => {
  const { reading, backup } = open(box);
  const own = reading.references.filter(({ value }) => value !== 'web');
  expect(own.map(({ value }) => value).sort()).toEqual(
    'cctv cctv office office office office tills tills tills yard yard yard'.split(' '),
  );
  expect(reading.dangling.map(({ site, value }) => `${sitePath(backup.tree, site)} ${value}`)).toEqual([
    '/box[1]/port[3]/net[1]/rule[2]/to[1] lab',
  ]);
});

test('networks that hold rules are of one kind, and sit on the ports that they lie in, not on those that their rules lead to', () => {
  const { reading } = open(box);
  expect(reading.bindings.map(({ role, port: on }) => `${role} ${on}`).sort()).toEqual([
    'cctv em1',
    'office em0',
    'tills em1',
    'yard em2',
  ]);
});
