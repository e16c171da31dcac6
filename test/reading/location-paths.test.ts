import { expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

// Location paths as XPath 1.0, 2.4 and 2.5, writes them in short; RFC 1918 addresses.
const nets = ['office', 'yard', 'cafe'];
const seats = nets.map((name, at) => `<net id="${name}" on="/box/ports/nic[@dev='em${at}']" v4="10.20.${at}.1/24"/>`);
const hosts = ['till', 'crane', 'yard'].map((name, at) => `<host id="${name}" v4="10.20.0.${at + 9}"/>`);
const rule = (at: number, from: string, to: string, what: string) =>
  `<rule nr="${at}"><from of="${from}"/><to of="${to}"/><what of="${what}"/></rule>`;
const [net, host, service] = ['nets/net', 'objects/host', 'objects/service'].map(
  (path) => (name: string) => `/box/${path}[@id='${name}']`,
);
const rules = [
  rule(10, net!('office'), `${host!('till')} | ${host!('yard')}`, service!('web')),
  rule(20, net!('cafe'), host!('crane'), service!('telnet')),
  rule(30, net!('yard'), net!('office'), `${service!('web')} | ${service!('post')}`),
];
const box = `<box><ports>${nets.map((_, at) => `<nic dev="em${at}" mac="00:00:5e:00:53:0${at}"/>`).join('')}</ports><nets>${seats.join('')}</nets><objects>${hosts.join('')}<service id="web" port="443"/><service id="post" port="465"/><set id="all" has="../host[@id='till'] | ../host[@id='crane']"/><set id="few" has="../host[@id='yard']"/></objects><rules>${rules.join('')}</rules></box>`;

test('location paths name exactly what they lead to, also where records of two kinds share a name', () => {
  const { reading, backup } = open(box);
  const said = (value: string) =>
    reading.references.flatMap((one) =>
      one.value === value
        ? [`${sitePath(backup.tree, one.site)} ${sitePath(backup.tree, { node: one.to, attr: -1 })}`]
        : [],
    );
  expect(said('yard').sort()).toEqual([
    '/box[1]/objects[1]/set[2]/@has /box[1]/objects[1]/host[3]',
    '/box[1]/rules[1]/rule[1]/to[1]/@of /box[1]/objects[1]/host[3]',
    '/box[1]/rules[1]/rule[3]/from[1]/@of /box[1]/nets[1]/net[2]',
  ]);
  expect(said('till')).toHaveLength(2);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(['office em0', 'yard em1', 'cafe em2']);
});

test('what a location path says and is not there is gone, also where its name is a word of the trade', () => {
  const { reading, backup } = open(box);
  expect(reading.dangling.map(({ site, value }) => `${sitePath(backup.tree, site)} ${value}`)).toEqual([
    '/box[1]/rules[1]/rule[2]/what[1]/@of telnet',
  ]);
});
