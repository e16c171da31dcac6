import { expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

// Common practice, no source: boxes that repeat what was done to them make a record by one line and fill it by others behind it.
const NETS = ['shore', 'office', 'tills', 'quay'];
const make = (kind: string, name: string, more = '') => `<make in="${kind}" named="${name}"${more}/>`;
const put = (on: string, ...settings: readonly (readonly [name: string, value: string])[]) =>
  `<put on="${on}">${settings.map(([name, value]) => `<${name}>${value}</${name}>`).join('')}</put>`;
const set = (on: string, slot: string, value: string) => `<put on="${on}" slot="${slot}">${value}</put>`;
const text = `<again>
  ${NETS.map((_, at) => make('port', `igc${at}`, ` hw="00:00:5e:00:53:0${at}"`)).join('')}
  ${NETS.map(
    (name, at) =>
      make('net', name) +
      put(`net/${name}`, ['device', `igc${at}`], ['address', `10.20.${at}.1/24`]) +
      set(`net/${name}`, 'trust', 'inside'),
  ).join('')}
  ${['web', 'mail'].map((name) => make('traffic', name, ' protocol="tcp"') + set(`traffic/${name}`, 'ports', '443')).join('')}
  ${['opening', 'night'].map((name) => make('hours', name, ' days="every"')).join('')}
  ${NETS.map(
    (name, at) =>
      make('policy', `rule-${name}`, ' verdict="pass"') +
      put(`policy/rule-${name}`, ['from', name], ['service', at === 3 ? 'mail' : 'web']) +
      set(`policy/rule-${name}`, 'during', at % 2 ? 'night' : 'opening'),
  ).join('')}
</again>`;

test('what is done to a record lies in it', () => {
  const { reading, backup } = open(text);
  const path = (node: number) => sitePath(backup.tree, { node, attr: -1 });
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(
    NETS.map((name, at) => `${name} igc${at}`),
  );
  const [first] = reading.roles;
  expect(path(first!.node)).toBe('/again[1]/make[5]');
  expect(reading.values.fields.map(({ template }) => template)).toContain('/again/make{net}/device');
  const [during] = reading.references.filter(({ value }) => value === 'opening');
  expect(sitePath(backup.tree, during!.site)).toBe('/again[1]/put[12]');
  expect(path(during!.to)).toBe('/again[1]/make[11]');
});

test('kinds and names in rules are no operations: they stand behind other records', () => {
  const hosts = ['a', 'b', 'c', 'd'].map((name, at) => make('host', name, ` ip="10.20.${at}.9"`));
  const kinds = ['net', 'zone', 'group'].map((kind) => make(kind, 'z', ' x="1"'));
  const rules = Array.from(
    { length: 20 },
    (_, at) => `<rule to="${['host/a', 'net/z', 'zone/z', 'group/z', 'host/c'][at % 5]}"><do>pass</do></rule>`,
  );
  const { reading } = open(`<again>${hosts.join('')}${kinds.join('')}${rules.join('')}</again>`);
  expect(reading.values.fields.map(({ template }) => template)).toContain('/again/rule/do');
});

test('rules that are counted in the one list of all records are nothing that is made of ports', () => {
  const counted = NETS.reduce((all, name, at) => all.replaceAll(`rule-${name}`, `p${at + 1}`), text);
  const { reading } = open(counted.replace('<from>shore</from>', '<from>office</from>'));
  expect(reading.ports.map(({ name }) => name)).toEqual(['igc0', 'igc1', 'igc2', 'igc3']);
});
