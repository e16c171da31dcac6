import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

const zones = ['sea', 'desk', 'tills', 'guests'];
const sections: Record<string, readonly (readonly [string, string])[]> = {
  kernel: [
    ['dev.igb.0.fc', '0'],
    ['hw.igb.rxd', '512'],
  ],
  zones: zones.flatMap((name, at) => [
    [`${name}.port`, `eth${at}`] as const,
    [`${name}.address`, `10.20.${at}.1`] as const,
  ]),
  rules: ['desk', 'tills', 'attic', 'sea', 'guests', 'desk'].flatMap((zone, at) => [
    [`${at}.zone`, zone] as const,
    [`${at}.do`, at % 2 ? 'pass' : 'drop'] as const,
  ]),
};

test('a property list that is cut into sections: each is the first part of its keys', () => {
  const text = `<box>${Object.entries(sections)
    .map(
      ([name, lines]) =>
        `<part name="${name}">${lines.map(([key, value]) => `<set key="${key}">${value}</set>`).join('')}</part>`,
    )
    .join('')}</box>`;
  const { reading } = open(text);
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(
    zones.map((name, at) => `${name} eth${at}`),
  );
  expect(reading.references.map(({ value }) => value)).toEqual(['desk', 'tills', 'sea', 'guests', 'desk']);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['attic']);
  expect(reading.boxBound.map(({ sign }) => sign)).toEqual(['dev.igb.0.fc', 'hw.igb.rxd']);
});

test('records whose columns have dots in their names are no sections', () => {
  const rows = zones.map(
    (name, at) =>
      `<zone id="${name}">${['ip.address', 'ip.bits', 'link.port', 'link.mtu', 'say.text', 'say.lang', 'at.x', 'at.y']
        .map((key) => `<c n="${key}">${key.length + at}</c>`)
        .join('')}</zone>`,
  );
  const { reading } = open(`<box>${rows.join('')}</box>`);
  expect(reading.values.fields.map(({ template }) => template)).toContain('/box/zone/c[ip.address]');
});

// Common practice, no source: packages keep their settings in a file of a few lines, whose keys number what there are several of.
test('a short list of paths in a document of another manner is opened where numbers in its keys come back', () => {
  const zones = ['street', 'yard', 'counter', 'workshop']
    .map((id, at) => `<Zone id="${id}" device="em${at}" address="10.20.${at}.1/24"/>`)
    .join('');
  const keys = ['shop', 'loft'].map((id) => `<Credential id="${id}" owner="keepers"/>`).join('');
  const rules = ['street', 'yard', 'counter', 'workshop']
    .map((zone, at) => `<Rule id="r${at}" zone="${zone}" does="pass"/>`)
    .join('');
  const lines = [
    ['enabled', 'yes'],
    ['front.1.zone', 'street'],
    ['front.1.port', '443'],
    ['front.1.credential', 'shop'],
    ['front.2.zone', 'yard'],
    ['front.2.port', '8443'],
    ['front.2.credential', 'loft-2021'],
    ['pool.tills.servers', 'counter'],
    ['pool.tills.balance', 'least'],
    ['stats.zones', 'counter,workshop'],
    ['stats.level', 'warn'],
    ['log.level', 'warn'],
  ]
    .map(([k, v]) => `<p k="${k}" v="${v}"/>`)
    .join('');
  const { names } = linksOf(
    `<Backup><Zones>${zones}</Zones><Credentials>${keys}</Credentials><Rules>${rules}</Rules><package name="relay">${lines}</package></Backup>`,
  );
  expect(names).toContain('zone street -> Zone');
  expect(names).toContain('zone yard -> Zone');
});
