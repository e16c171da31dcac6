import { describe, expect, test } from 'vitest';
import { Makers } from '../../src/core/reading/box-bound/makers.ts';
import { readDetails } from '../../src/core/reading/details.ts';
import { formatOf } from '../../src/core/reading/fields/embedded.ts';
import { fieldType } from '../../src/core/reading/fields/value-types.ts';
import { detailsOf, documentOf, type Known, pathsOf } from './document.ts';

const details = (xml: string, known: Known = {}) => {
  const document = documentOf(xml);
  return {
    ...detailsOf(document, known),
    paths: (list: Parameters<typeof pathsOf>[1]) => pathsOf(document.tree, list),
  };
};

describe('what a field holds', () => {
  const typeOf = (values: readonly string[], name = 'f') => {
    const { fields } = documentOf(
      `<b>${values.map((value) => `<r><${name}>${value}</${name}><n>x</n></r>`).join('')}</b>`,
    );
    return fieldType(fields.find(({ steps }) => steps.at(-1) === name)!).kind;
  };

  test('by consensus, words such as any left aside', () => {
    expect(typeOf(['10.20.0.1', 'any', '10.20.0.2', '10.20.0.3'])).toBe('ipv4');
    expect(typeOf(['10.20.0.0/24', '10.20.1.0/24'])).toBe('prefix');
    expect(typeOf(['255.255.255.0', '255.255.254.0'])).toBe('netmask');
    expect(typeOf(['yes', 'no', 'yes'])).toBe('boolean');
    expect(typeOf(['permit', 'deny', 'permit', 'permit', 'deny'])).toBe('enumeration');
    expect(typeOf(['on', 'on', 'on'])).toBe('boolean');
    expect(typeOf(['quay-gw'])).toBe('text');
    expect(typeOf(['lacp', 'lacp'])).toBe('text');
    expect(typeOf(['North gate', 'Yard and lift', 'Pier'])).toBe('text');
  });

  test('a number takes its kind from the name', () => {
    const numbers = ['30', '40', '201'];
    expect(typeOf(numbers, 'vlan-id')).toBe('vlan');
    expect(typeOf(numbers, 'destPort')).toBe('port');
    expect(typeOf(numbers, 'count')).toBe('integer');
    expect(typeOf(['1795600000', '1795600900'], 'count')).toBe('epoch');
  });
});

describe('slips', () => {
  const column = (values: readonly string[], name = 'f') =>
    `<b>${values.map((value) => `<r><${name}>${value}</${name}></r>`).join('')}</b>`;
  const slipsIn = (values: readonly string[], name?: string, known?: Known) => {
    const { outliers, paths } = details(column(values, name), known);
    return paths(outliers).map((path, at) => `${path} ${outliers[at].expected}`);
  };
  const good = Array.from({ length: 11 }, (_, at) => `10.20.0.${at + 1}`);

  test('an address out of range among addresses', () => {
    expect(slipsIn([...good, '10.20.0.256'])).toEqual(['/b[1]/r[12]/f[1] ipv4']);
    expect(slipsIn(['00:00:5e:00:53:1g', ...good.map((_, at) => `00:00:5e:00:53:${10 + at}`)])).toEqual([
      '/b[1]/r[1]/f[1] mac',
    ]);
    expect(slipsIn([...good.map((_, at) => String(100 + at)), '4095'], 'vlan')).toEqual(['/b[1]/r[12]/vlan[1] vlan']);
  });

  test('names, words and values that name a record are none', () => {
    expect(slipsIn([...good, 'any', 'card_hosts', 'nvr-2'])).toEqual([]);
    expect(
      slipsIn([...good, '10.20.0.256'], 'f', { refs: [{ at: '/b[1]/r[12]/f[1]', value: '10.20.0.256' }] }),
    ).toEqual([]);
    expect(slipsIn(['10.20.0.256', '10.20.0.1'])).toEqual([]);
  });

  test('a certificate that cannot be read', () => {
    expect(slipsIn(['-----BEGIN CERTIFICATE-----\nMIIB\n-----END CERTIFICATE-----'])).toEqual([
      '/b[1]/r[1]/f[1] certificate',
    ]);
  });
});

test('documents inside values', () => {
  const base64 = (text: string) => Buffer.from(text).toString('base64');
  const formats: [string, ReturnType<typeof formatOf>][] = [
    ['<rule id="1"><to>any</to></rule>', 'xml'],
    ['<br/>', 'xml'],
    ['{"mode": "lacp", "ports": [1, 2]}', 'json'],
    ['["a", "b"]', 'json'],
    [base64('interface one\n  description the quay\n'), 'base64-text'],
    [base64(String.fromCharCode(...Array.from({ length: 200 }, (_, at) => (at * 89) % 251))), 'base64-data'],
    ['season <pass>', null],
    ['<see logbook>', null],
    ['{0464feee-2a66-29f8-e4fb-1dfea3ae548c}', null],
    ['[see logbook]', null],
    ['{"broken": ', null],
    ['card_hosts and the rest of them', null],
  ];
  expect(formats.map(([value]) => formatOf(value))).toEqual(formats.map(([, format]) => format));
});

test('certificates, keys and secrets are no embedded documents', () => {
  const drawn = `${'J81TWXtMdImcbixGoQoazUA'.repeat(4)}`;
  const { embedded } = details(`<b><u><secret>${drawn}</secret><n>a</n></u></b>`);
  expect(embedded).toEqual([]);
});

describe('about the backup', () => {
  test('by names', () => {
    const { about } = details(
      '<unit version="4.2"><general><host-name>quay-gw</host-name><time-zone>Europe/Dublin</time-zone></general><saved><time>1795600000</time><by>mara</by></saved></unit>',
    );
    expect(about).toEqual({ host: 'quay-gw', version: '4.2', savedAt: '2026-11-25T09:46:40Z', savedBy: 'mara' });
  });

  test('a lone mark of the outermost element is a version, unless it is a day', () => {
    const versionOf = (mark: string) => details(`<unit ${mark}><name>a</name><name>b</name></unit>`).about.version;
    expect(['made="4.2"', 'made="2026-11-20"', 'version="2026-11-20"'].map(versionOf)).toEqual([
      '4.2',
      null,
      '2026-11-20',
    ]);
  });

  test('by what stands beside the time zone, and who is named beside a time', () => {
    const xml =
      '<z><q><f1>quay-gw</f1><f2>kestrelquay.example</f2><f3>Europe/Dublin</f3></q><u><id>17</id><f9>mara</f9></u><w><f4>24.11.2026 17:03</f4><f5>17</f5></w></z>';
    const document = documentOf(xml);
    const user = document.tree.names.indexOf('u');
    const node = [...document.tree.name].indexOf(user);
    const site = document.fields.find(({ steps }) => steps.at(-1) === 'f5')!;
    const reference = {
      site: { node: site.nodes[0], attr: site.attrs[0] },
      from: 0,
      value: '17',
      to: node,
      field: 0,
      tier: 'certain' as const,
    };
    const named = { references: [reference], dangling: [], mentions: [] };
    const { about } = readDetails(document.outline, document.fields, named, new Makers(document.outline.values));
    expect(about).toEqual({ host: 'quay-gw', version: null, savedAt: '24.11.2026 17:03', savedBy: 'mara' });
  });

  test('nothing is guessed among several', () => {
    expect(details('<z><w><t>2026-11-24</t></w><v><t>2026-11-25</t></v></z>').about).toEqual({
      host: null,
      version: null,
      savedAt: null,
      savedBy: null,
    });
  });
});
