import { expect, test } from 'vitest';
import { AUTHORITIES, LEAVES } from '../dialects/pki.ts';
import { linksOf } from './links.ts';

const times = (count: number, inside: (at: number) => string) =>
  Array.from({ length: count }, (_, at) => inside(at)).join('');

// Common practice, no source: records of which there is one, so that nothing in the file tells them apart.
test('an authority that stands alone: what its certificates have beside them is its number, wherever that stands', () => {
  const [{ name, cert }] = AUTHORITIES as [(typeof AUTHORITIES)[number]];
  const issued = LEAVES.filter(({ issuer }) => issuer === name);
  expect(issued.length).toBeGreaterThan(1);
  const pairs = issued.map(
    (leaf, at) => `<pair title="Page ${at}"><root>781</root><pem>${leaf.cert}</pem><on>yes</on></pair>`,
  );
  const { names, gone } = linksOf(
    `<q><anchor guid="781"><note>Harbour</note><pem>${cert}</pem><on>yes</on></anchor><pairs>${pairs.join('')}</pairs>
    <rules>${times(9, (at) => `<rule no="${729 + 3 * at}"><do>pass</do><to>192.0.2.${at}</to></rule>`)}</rules>
    ${times(3, (at) => `<shift with="${729 + 6 * at}" port="${8000 + at}"/>`)}</q>`,
  );
  expect(names.filter((one) => one.includes('781'))).toEqual(issued.map(() => 'pair/root 781 -> anchor'));
  expect(gone).toEqual([]);
});

test('a field that has the name of the only record of a kind before what numbers are called names it', () => {
  const item = (kind: string, no: number, cells: Record<string, string>) =>
    `<item is="${kind}" no="${no}">${Object.entries(cells)
      .map(([name, value]) => `<has n="${name}" v="${value}"/>`)
      .join('')}</item>`;
  const nets = ['sea', 'desk', 'till', 'lens'].map((name, at) => item('net', at, { name, ip: `10.20.${at}.1` }));
  const hosts = ['pump', 'scale', 'gate'].map((name, at) => item('hosts', at, { name, on: 'yes' }));
  const plan = item('plan', 0, { name: 'season', hours: '08:00-20:00' });
  const crew = item('crew', 0, { name: 'staff', whom: 'bram' });
  const rules = times(12, (at) =>
    item('rule', at, { do: 'pass', netno: `${at % 4}`, hostsno: `${at % 3}`, ...(at > 8 ? { planno: '0' } : {}) }),
  );
  const ways = times(2, (at) => item('way', at, { name: `way-${'ab'[at]}`, netno: '0', crewno: '0' }));
  const { names } = linksOf(`<q>${[...nets, ...hosts].join('')}${plan}${crew}${rules}${ways}</q>`);
  expect(names.filter((one) => /planno|crewno/.test(one))).toEqual([
    ...['plan', 'plan', 'plan'].map((name) => `rule/${name}no 0 -> item`),
    ...['crew', 'crew'].map((name) => `way/${name}no 0 -> item`),
  ]);
});
