import { expect, test } from 'vitest';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

// Keys that count inside a context only: relative keys of XML (Buneman, Davidson, Fan, Hara, Tan: Keys for XML, 2002).

const zones = ['pier', 'desk', 'crane', 'store'];
const pools: Record<string, readonly [name: string, zone: string][]> = {
  north: [
    ['a', 'crane'],
    ['b', 'pier'],
    ['c', 'store'],
    ['d', 'desk'],
  ],
  south: [
    ['a', 'desk'],
    ['b', 'store'],
    ['c', 'attic'],
    ['d', 'pier'],
  ],
};

/** The same kinds of record with the same names in two contexts; `north` has one more kind where told so. */
function contexts(wrap: (name: string, inside: string) => string, extra = ''): string {
  const inside = (context: string) =>
    `<zones>${zones.map((zone, at) => `<zone name="${zone}"><address>10.${context.length}.${at}.1</address></zone>`).join('')}</zones>
    <ways>${zones.map((zone, at) => `<way name="${zone.slice(1)}${at}"><hop>10.9.${at}.1</hop><cost>${at}</cost></way>`).join('')}</ways>
    <pools>${pools[context]!.map(([name, zone]) => `<pool name="${name}"><zone>${zone}</zone><low>10.0.0.9</low></pool>`).join('')}</pools>
    ${context === 'north' ? extra : ''}`;
  const page = '<page><title>Gate</title><port>8443</port></page>';
  return `<box>${page}${wrap('north', inside('north'))}${wrap('south', inside('south'))}</box>`;
}

const wraps: [title: string, wrap: (name: string, inside: string) => string][] = [
  ['called by an attribute', (name, inside) => `<unit name="${name}">${inside}</unit>`],
  ['called by their tags', (name, inside) => `<${name}>${inside}</${name}>`],
];
const extras: [title: string, extra: string][] = [
  ['built alike', ''],
  ['of which one has more', '<crew><man name="tern"><desk>1</desk></man><man name="gull"><desk>2</desk></man></crew>'],
];

test.each(wraps.flatMap((wrap) => extras.map((extra) => [wrap[0], extra[0], wrap[1], extra[1]] as const)))(
  'a name means the record of its own context: contexts %s, %s',
  (_, __, wrap, extra) => {
    const { backup, reading } = open(contexts(wrap, extra));
    const named = reading.references
      .filter(({ tier }) => tier !== 'possible')
      .map(({ site, value, to }) => [sitePath(backup.tree, site), value, pathOf(backup.tree, to)]);
    const root = (context: string) =>
      wrap(context, '').startsWith('<unit') ? `/box[1]/unit[${context === 'north' ? 1 : 2}]` : `/box[1]/${context}[1]`;
    expect(named).toEqual(
      Object.entries(pools).flatMap(([context, list]) =>
        list.flatMap(([, zone], at) =>
          zones.includes(zone)
            ? [
                [
                  `${root(context)}/pools[1]/pool[${at + 1}]/zone[1]`,
                  zone,
                  `${root(context)}/zones[1]/zone[${zones.indexOf(zone) + 1}]`,
                ],
              ]
            : [],
        ),
      ),
    );
    expect(reading.dangling.map(({ value }) => value)).toEqual(['attic']);
  },
);

test('a key that others name as a whole is one name, though it has a key in it', () => {
  const ways = zones.map((zone) => `<way name="to-${zone}"><zone>${zone}</zone></way>`).join('');
  const routes = ['to-pier', 'to-crane', 'to-attic', 'to-desk', 'to-store'].map(
    (way, at) => `<route><net>172.16.${at}.0/24</net><way>${way}</way></route>`,
  );
  const text = `<box><zones>${zones.map((zone, at) => `<zone name="${zone}"><ip>10.0.${at}.1</ip><say>${at}</say></zone>`).join('')}</zones><ways>${ways}</ways><routes>${routes.join('')}</routes></box>`;
  const { reading } = open(text);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['to-attic']);
});

test('a layer with a few records of its own names those of the layers below where it has none of that name', () => {
  const list = (items: string, item: string, names: readonly string[]) =>
    `<${items}>${names.map((name, at) => `<${item} name="${name}"><ip>10.${name.length}.${at}.1</ip></${item}>`).join('')}</${items}>`;
  const rules = (of: readonly (readonly [zone: string, does: string])[]) =>
    `<rules>${of.map(([zone, does], at) => `<rule name="r${zone}${at}" does="${does}"><zone>${zone}</zone></rule>`).join('')}</rules>`;
  const lists = (names: readonly string[]) =>
    ['hosts', 'ways', 'pools', 'lanes', 'people']
      .map((items) =>
        list(
          items,
          items.slice(0, -1),
          names.map((name) => `${name}-${items}`),
        ),
      )
      .join('');
  const works = `${list('zones', 'zone', ['pier', 'desk'])}${lists(['first', 'second'])}${rules([
    ['pier', 'let'],
    ['desk', 'let'],
    ['desk', 'bar'],
  ])}`;
  const here = `${list('zones', 'zone', zones)}${lists(['first', 'second', 'third'])}${list('clocks', 'clock', ['sun', 'sea'])}${rules(
    [
      ['pier', 'let'],
      ['desk', 'let'],
      ['crane', 'bar'],
      ['attic', 'let'],
      ['store', 'let'],
    ],
  )}`;
  const waiting = `${list('zones', 'zone', ['winter'])}${list('hosts', 'host', ['fourth'])}${rules([
    ['winter', 'let'],
    ['crane', 'bar'],
  ])}`;
  const { backup, reading } = open(
    `<box><works>${works}</works><here>${here}</here><waiting>${waiting}</waiting></box>`,
  );
  const named = reading.references
    .filter(({ tier }) => tier !== 'possible')
    .map(({ value, to }) => `${value} ${pathOf(backup.tree, to)}`);
  const zone = (layer: string, at: number) => `/box[1]/${layer}[1]/zones[1]/zone[${at}]`;
  expect(named).toEqual([
    `pier ${zone('works', 1)}`,
    ...[2, 2].map((at) => `desk ${zone('works', at)}`),
    `pier ${zone('here', 1)}`,
    `desk ${zone('here', 2)}`,
    `crane ${zone('here', 3)}`,
    `store ${zone('here', 4)}`,
    `winter ${zone('waiting', 1)}`,
    `crane ${zone('here', 3)}`,
  ]);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['attic']);
});
