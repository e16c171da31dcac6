import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

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
