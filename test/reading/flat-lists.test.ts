import { describe, expect, test } from 'vitest';
import { recordPath } from '../../src/core/compile/spread.ts';
import { build, planOf } from '../../src/core/index.ts';
import { valueAt } from '../../src/core/xml/site.ts';
import { type File, open } from '../carry/files.ts';

interface Thing {
  readonly kind: string;
  readonly fields: readonly (readonly [name: string, value: string])[];
}

const things: readonly Thing[] = [
  ...[
    ['office', 'eth1', '10.20.1.1/24'],
    ['guests', 'eth2.30', '10.20.2.1/24'],
    ['quay', 'eth2.40', '10.20.3.1/24'],
    ['sea', 'eth0', '192.0.2.10/28'],
  ].map(([name, port, address]) => ({
    kind: 'zone',
    fields: [
      ['name', name!],
      ['port', port!],
      ['address', address!],
      ['say', `the ${name}`],
    ] as const,
  })),
  ...['30', '40'].map((tag) => ({
    kind: 'lane',
    fields: [
      ['tag', tag],
      ['parent', 'eth2'],
    ] as const,
  })),
  ...['till', 'crane', 'gate', 'pump', 'lamp', 'scale', 'kiosk', 'sign'].map((name, at) => ({
    kind: 'host',
    fields: [
      ['name', name],
      ['address', `10.20.${1 + (at % 3)}.${20 + at}`],
    ] as const,
  })),
  ...[
    ['office', 'office', 'till'],
    ['guests', 'guests', 'gate'],
    ['quay', 'crane', 'sea'],
    ['office', 'office', 'gone'],
    ['sea', 'pump', 'crane'],
    ['quay', 'quay', 'till'],
    ['office', 'scale', 'office'],
    ['guests', 'guests', 'kiosk'],
    ['quay', 'lamp', 'sign'],
    ['sea', 'sign', 'pump'],
    ['office', 'kiosk', 'lamp'],
    ['guests', 'gate', 'scale'],
    ['quay', 'till', 'guests'],
    ['sea', 'sea', 'kiosk'],
  ].map(([zone, from, to], at) => ({
    kind: 'rule',
    fields: [
      ['zone', zone!],
      ['from', from!],
      ['to', to!],
      ['rank', `${at * 10 + 10}`],
    ] as const,
  })),
];

const plain = open(
  `<box>${['zone', 'lane', 'host', 'rule']
    .map(
      (kind) =>
        `<${kind}s>${things
          .filter((thing) => thing.kind === kind)
          .map(
            ({ fields }) =>
              `<${kind}>${fields.map(([name, value]) => `<${name}>${value}</${name}>`).join('')}</${kind}>`,
          )
          .join('')}</${kind}s>`,
    )
    .join('')}</box>`,
);

/** Triples of the things, each called by `name`; with `told` one of them says what it is. */
const triples = (
  write: (s: string, p: string, o: string) => string,
  name: (thing: Thing, at: number) => string,
  told: boolean,
) =>
  `<store><facts>${things
    .map((thing, at) =>
      [...(told ? [['is', thing.kind] as const] : []), ...thing.fields]
        .map(([p, o]) => write(name(thing, at), p, o))
        .join(''),
    )
    .join('')}</facts></store>`;

const byAttributes = (s: string, p: string, o: string) => `<f s="${s}" p="${p}" o="${o}"/>`;
const byElements = (s: string, p: string, o: string) => `<f><of>${s}</of><is>${p}</is><what>${o}</what></f>`;
const byText = (s: string, p: string, o: string) => `<f of="${s}" key="${p}">${o}</f>`;

const withType = (s: string, p: string, o: string) =>
  `<f s="${s}" p="${p}" o="${o}" is="${/^\d/.test(o) ? 'number' : 'text'}"/>`;

/** Triples of things that only their kind tells apart: each kind counts by itself, or its things are called by their names. */
const byKind = (called: boolean) =>
  `<facts>${things
    .map(({ kind, fields }, at) => {
      const no = things.slice(0, at).filter((other) => other.kind === kind).length + 1;
      const name = called ? fields.find(([field]) => field === 'name')?.[1] : undefined;
      const own = name === undefined ? fields : fields.filter(([field]) => field !== 'name');
      return own.map(([p, o]) => `<f of="${kind}" no="${name ?? no}" says="${p}" that="${o}"/>`).join('');
    })
    .join('')}</facts>`;

/** A list of properties of the machine. */
const properties = `<props>${Array.from({ length: 24 }, (_, at) => `<prop key="unit.fan.f${at >> 1}.${at % 2 ? 'speed' : 'label'}" value="${at % 2 ? 900 + at : `fan ${at}`}"/>`).join('')}</props>`;

/** Lines of words, each the path of one value and the value. */
const lines = (write: (line: string) => string) =>
  `<store><lines>${things
    .map(({ kind, fields }, at) => {
      const called = fields[0]![0] === 'name' ? fields[0]![1] : `${at + 1}`;
      return fields.map(([name, value]) => write(`${kind} ${called} ${name} ${value.replaceAll(' ', '-')}`)).join('');
    })
    .join('')}</lines></store>`;

/** The same as nodes side by side, each with the number of the one it lies in. */
function nodes(write: (id: number, above: number, name: string, value: string) => string): string {
  let last = 0;
  const parts: string[] = [];
  const add = (above: number, name: string, value: string) => {
    parts.push(write(++last, above, name, value));
    return last;
  };
  const top = add(0, 'box', '');
  for (const kind of ['zone', 'lane', 'host', 'rule']) {
    const list = add(top, `${kind}s`, '');
    for (const thing of things.filter((one) => one.kind === kind)) {
      const own = add(list, kind, '');
      for (const [name, value] of thing.fields) add(own, name, value);
    }
  }
  return `<store><nodes>${parts.join('')}</nodes></store>`;
}

const named = ({ reading }: File) =>
  reading.references
    .filter(({ tier }) => tier !== 'possible')
    .map(({ value }) => value)
    .sort();

describe.each([
  ['triples that say what things are', triples(byAttributes, (_, at) => `n${at}`, true)],
  ['triples of elements', triples(byElements, (_, at) => `n${at}`, true)],
  ['triples with a text', triples(byText, (_, at) => `n${at}`, true)],
  ['triples of things with kind and number', triples(byAttributes, ({ kind }, at) => `${kind}${at + 1}`, false)],
  [
    'triples one field after the other',
    `<store><facts>${triples(
      (...all) => `${byAttributes(...all)}\n`,
      (_, at) => `n${at}`,
      true,
    )
      .replace(/<.?(?:store|facts)>/g, '')
      .trim()
      .split('\n')
      .sort((a, b) => (/p="(.*?)"/.exec(a)![1]! < /p="(.*?)"/.exec(b)![1]! ? -1 : 1))
      .join('')}</facts></store>`,
  ],
  [
    'nodes by attributes',
    nodes((id, above, name, value) => `<n id="${id}" in="${above}" name="${name}" value="${value}"/>`),
  ],
  [
    'nodes by attributes and text',
    nodes((id, above, name, value) => `<n id="${id}" in="${above}" name="${name}">${value}</n>`),
  ],
  ['triples with a type', triples(withType, (_, at) => `n${at}`, true)],
  ['triples that count by kind', `<store>${byKind(false)}</store>`],
  ['triples by kind and name', `<store>${byKind(true)}</store>`],
  [
    'triples beside a list of properties',
    `<store>${properties}${triples(byAttributes, (_, at) => `n${at}`, true).slice(7)}`,
  ],
  ['lines of words', lines((line) => `<say>${line}</say>`)],
  ['lines of words with blanks around', lines((line) => `<say>\n  ${line}\n</say>`)],
  ['lines of words in an attribute', lines((line) => `<say line="${line}"/>`)],
  [
    'nodes with a type',
    nodes(
      (id, above, name, value) =>
        `<n id="${id}" type="${value === '' ? 'group' : 'value'}" in="${above}" name="${name}" value="${value}"/>`,
    ),
  ],
  [
    'nodes by elements',
    nodes((id, above, name, value) => `<n><no>${id}</no><of>${above}</of><as>${name}</as><val>${value}</val></n>`),
  ],
])('records in a flat list: %s', (_, text) => {
  const file = open(text);
  const { backup, reading } = file;

  test('name each other as records in elements of their own do', () => {
    expect(named(file)).toEqual(named(plain));
    for (const { site, from, value } of reading.references)
      expect(valueAt(backup.tree, site).slice(from, from + value.length)).toBe(value);
    expect(reading.dangling.map(({ value }) => value)).toEqual(['gone']);
  });

  test('sit on ports, which are renamed and nothing else', () => {
    expect(reading.bindings.map(({ role, port }) => `${role} ${port}`).sort()).toEqual(
      plain.reading.bindings.map(({ role, port }) => `${role} ${port}`).sort(),
    );
    const built = build(backup, reading, planOf([{ kind: 'rename-port', from: 'eth2', to: 'ix7' }]));
    if (!built.ok) throw new Error(JSON.stringify(built.trouble));
    expect(new TextDecoder().decode(built.value.bytes)).toBe(text.replaceAll('eth2', 'ix7'));
  });
});

test('a record leaves with all its triples, and with all nodes in it', () => {
  const records = [
    triples(byAttributes, (_, at) => `n${at}`, true),
    nodes((id, above, name, value) => `<n id="${id}" in="${above}" name="${name}" value="${value}"/>`),
  ].map((text) => {
    const { backup, reading } = open(text);
    const sea = reading.roles.find(({ name }) => name === 'sea')!.node;
    const path = recordPath(backup.tree, reading, sea);
    const built = build(backup, reading, planOf([{ kind: 'leave-out', path }]));
    if (!built.ok) throw new Error(JSON.stringify(built.trouble));
    const left = new TextDecoder().decode(built.value.bytes);
    return [
      text.length > left.length,
      /192\.0\.2\.10|eth0|the sea/.test(left),
      left.split('<').length - text.split('<').length,
    ];
  });
  // One element for each fact: what it is or the thing itself, and four fields.
  expect(records).toEqual([
    [true, false, -5],
    [true, false, -5],
  ]);
});

test('a port that triples are about is renamed in each of them', () => {
  const lanes = [30, 40]
    .map(
      (tag) =>
        `<f of="lane" no="eth2.${tag}" says="parent" that="eth2"/><f of="lane" no="eth2.${tag}" says="tag" that="${tag}"/>`,
    )
    .join('');
  const text = `<store>${byKind(true)
    .replace(/<f of="lane"[^>]*>/g, '')
    .replace('<facts>', `<facts>${lanes}`)}</store>`;
  const { backup, reading } = open(text);
  const built = build(backup, reading, planOf([{ kind: 'rename-port', from: 'eth2', to: 'ix7' }]));
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  expect(new TextDecoder().decode(built.value.bytes)).toBe(text.replaceAll('eth2', 'ix7'));
});

test('rows of three values are no triples', () => {
  const rows = Array.from(
    { length: 30 },
    (_, at) => `<allow from="z${at % 6}" to="z${(at * 5) % 7}" what="${['web', 'mail', 'time', 'name'][at % 4]}"/>`,
  );
  const { reading } = open(`<box><list>${rows.join('')}</list></box>`);
  expect(reading.values.fields.map(({ template }) => template)).toEqual(
    ['from', 'to', 'what'].map((name) => `/box/list/allow/@${name}`),
  );
});

test.each([
  ['addresses', (at: number) => `10.20.${at % 3}.${at}`],
  ['networks', (at: number) => `10.20.${at}.0/24`],
  ['hardware addresses', (at: number) => `00:00:5e:00:53:${at + 10}`],
  ['slots and ports', (at: number) => `0/${at % 2}/${at}`],
])('records called by %s are no property list', (_, nameOf) => {
  const rows = Array.from({ length: 40 }, (_, at) => `<client><at>${nameOf(at)}</at><who>buoy-${at}</who></client>`);
  const { reading } = open(`<box><clients>${rows.join('')}</clients></box>`);
  expect(reading.values.fields.map(({ template }) => template)).toEqual(
    ['at', 'who'].map((name) => `/box/clients/client/${name}`),
  );
});
