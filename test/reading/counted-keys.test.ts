import { expect, test } from 'vitest';
import { build, planOf } from '../../src/core/index.ts';
import { recordName } from '../../src/core/reading/keys/record-name.ts';
import { open } from '../carry/files.ts';

const zones = [
  ['sea', 'eth0'],
  ['desk', 'eth1'],
  ['tills', 'eth2.310'],
  ['guests', 'eth2.325'],
] as const;
const lines = [
  ['unit_label', 'kq-brass'],
  ['dev.eth.0.fc', '0'],
  ...[310, 325].flatMap((tag, at) => [
    [`lane${at + 1}_parent`, 'eth2'],
    [`lane${at + 1}_tag`, `${tag}`],
  ]),
  ...zones.flatMap(([name, port], at) => [
    [`zone${at + 1}_name`, name],
    [`zone${at + 1}_port`, port],
    [`zone${at + 1}_address`, `10.20.${at}.1`],
  ]),
  ...['desk', 'tills', 'sea', 'attic', 'guests', 'desk', 'tills'].flatMap((zone, at) => [
    [`rule${at + 1}_zone`, zone],
    [`rule${at + 1}_do`, at % 3 ? 'pass' : 'drop'],
  ]),
];
const text = `<box>${lines.map(([name, value]) => `<var name="${name}" value="${value}"/>`).join('')}</box>`;

test('names with a counter in the middle are records of their kinds', () => {
  const { backup, reading } = open(text);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(zones.map((zone) => zone.join(' ')));
  expect(reading.references.filter(({ value }) => zones.some(([name]) => name === value))).toHaveLength(6);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['attic']);
  expect(reading.boxBound.map(({ sign }) => sign)).toEqual(['dev.eth.0.fc']);
  const list = reading.collections.find(({ records }) => records.includes(reading.roles[0]!.node))!;
  expect(recordName(backup.tree, list, list.records[0]!)).toContain('zone 1');
});

test('a new tagged device goes on with the counter', () => {
  const { backup, reading } = open(text);
  const role = `/box[1]/var[${lines.findIndex(([name]) => name === 'zone2_name') + 1}]`;
  const built = build(
    backup,
    reading,
    planOf([{ kind: 'move-role', role, to: { on: 'tag', port: 'eth2', tag: 340 } }]),
  );
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  const result = new TextDecoder().decode(built.value.bytes);
  expect(result).toContain('<var name="zone2_port" value="eth2.340"/>');
  expect(result).toContain('<var name="lane3_parent" value="eth2"/><var name="lane3_tag" value="340"/>');
});

test('names of settings that end in numbers are no records', () => {
  const names = ['speed', 'depth', 'berth', 'tide', 'wind', 'fog', 'horn', 'lamp', 'bell', 'buoy', 'mast', 'rope'];
  const vars = names.flatMap((name, at) => [`${name}_${at}`, `${name}_last`, `${name}_low`]);
  const { reading } = open(`<box>${vars.map((name, at) => `<var name="${name}" value="${at}"/>`).join('')}</box>`);
  expect(reading.values.fields.map(({ template }) => template)).toEqual(['/box/var/@name', '/box/var/@value']);
});
