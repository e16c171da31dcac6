import { expect, test } from 'vitest';
import { attributeValue } from '../../src/core/xml/site.ts';
import { attribute } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

// A store of objects, each class with numbers of its own, and references that say the class.
const object = (kind: string, id: number, inside: string) => `<object class="${kind}" id="${id}">${inside}</object>`;
const title = (text: string) => `<title>${text}</title>`;
const ref = (role: string, kind: string, id: number) => `<ref role="${role}" class="${kind}" id="${id}"/>`;
const nets = ['Office', 'Tills', 'Quay', 'Yard'].map((name, at) =>
  object('network', at + 1, `${title(name)}<address>10.20.${at}.1/24</address>`),
);
const hosts = ['till', 'crane', 'gate', 'pump', 'printer'].map((name, at) =>
  object('host', at + 1, `${title(name)}<at>10.20.${at}.9</at>`),
);
const windows = ['Nights', 'Season'].map((name, at) =>
  object('window', at + 1, `${title(name)}<from>2${at}:00</from>`),
);
const rules = [
  [ref('from', 'network', 1), ref('to', 'host', 3), ref('during', 'window', 2)],
  [ref('from', 'host', 2), ref('to', 'network', 4)],
  [ref('from', 'network', 3), ref('to', 'host', 1)],
  [ref('from', 'host', 4), ref('to', 'host', 5)],
  [ref('from', 'network', 2), ref('to', 'host', 19)],
].map((refs, at) => object('rule', 10 + at, `<verdict>pass</verdict>${refs.join('')}`));

test('the word beside a number tells of which kind the record is', () => {
  const { names, gone } = linksOf(`<store>${[...nets, ...hosts, ...windows, ...rules].join('')}</store>`);
  expect(names.length).toBe(10);
  expect(gone).toEqual(['19']);
});

test('each number is that of its own kind', () => {
  const text = `<store>${[...nets, ...hosts, ...windows, ...rules].join('')}</store>`;
  const { reading, backup } = open(text);
  const { tree } = backup;
  const classOf = (node: number) => attributeValue(tree, attribute(tree, node, 'class'));
  for (const { site, to } of reading.references) expect(classOf(to)).toBe(classOf(site.node));
});

test('columns of join tables tell it of the number beside', () => {
  const row = (cells: Readonly<Record<string, string | number>>) =>
    `<row>${Object.entries(cells)
      .map(([name, value]) => `<col name="${name}">${value}</col>`)
      .join('')}</row>`;
  const table = (name: string, rows: readonly string[]) => `<table name="${name}">${rows.join('')}</table>`;
  const list = (names: readonly string[], column: string) =>
    names.map((name, at) => row({ id: at + 1, title: name, [column]: `10.20.${at}.9` }));
  const members = [
    ['host', 1],
    ['host', 4],
    ['set', 2],
    ['host', 2],
    ['set', 1],
    ['host', 3],
  ] as const;
  const { names } = linksOf(
    `<dump>${[
      table('host', list(['till', 'crane', 'gate', 'pump'], 'address')),
      table(
        'set',
        [1, 2, 3].map((id) => row({ id, title: ['cranes', 'tills', 'all'][id - 1]!, sort: 'any' })),
      ),
      table(
        'member',
        members.map(([kind, id], at) => row({ id: at + 1, set_id: 3, member_type: kind, member_id: id })),
      ),
    ].join('')}</dump>`,
  );
  expect(names.filter((name) => name.includes('member_id')).length).toBe(members.length);
});

// Common practice, no source: ports and what is made of them in one table, a word in each record for what it is.
test('a word before a name that the record of that name says itself is the word for its kind', () => {
  const rows = [
    ...[1, 2, 3, 4].map(
      (at) =>
        `<sort>device</sort><mac>00:00:5e:00:53:0${at}</mac>${at === 4 ? '' : `<in>${at === 3 ? 'trunkGroup(bu6)' : 'switchGroup(sw5)'}</in>`}`,
    ),
    '<sort>switchGroup</sort>',
    '<sort>trunkGroup</sort>',
  ].map((fields, at) => `<d${at + 1}><no>${['pt1', 'pt2', 'pt3', 'pt4', 'sw5', 'bu6'][at]}</no>${fields}</d${at + 1}>`);
  const { names } = linksOf(`<box><table>${rows.join('')}</table><page><for>Switch off</for></page></box>`);
  expect(names.map((name) => name.replace(/^.*?\/?in /, ''))).toEqual(['sw5 -> d5', 'sw5 -> d5', 'bu6 -> d6']);
});

test('a device that is called as its port and its number, which its record says too, is no name of another', () => {
  const ports = [1, 2, 3].map((at) => `<port name="igb${at}" mac="00:00:5e:00:53:0${at}"/>`);
  const tags = [30, 40, 50].map(
    (id) => `<tag><no>vl${id}</no><shows>igb2:${id}</shows><on>igb2</on><id>${id}</id></tag>`,
  );
  const nets = [30, 40, 50].map((id) => `<net><name>n${id}</name><ip>10.20.${id}.1/24</ip><at>vl${id}</at></net>`);
  const { reading } = open(`<box>${ports.join('')}${tags.join('')}${nets.join('')}</box>`);
  expect(reading.mentions.filter(({ value }) => value === 'igb2:40')).toHaveLength(1);
});

// References as kind:name; lists of these, words that stand for all, a kind of which there is one record, and one that is gone.
const kinded = (() => {
  const nets = ['office', 'quay', 'yard', 'tills'].map((name, at) => `<net name="${name}" v4="10.20.${at}.1/24"/>`);
  const boxes = ['office', 'crane', 'gate'].map((name, at) => `<machine name="${name}" v4="10.20.0.${at + 9}"/>`);
  const outs = ['fibre', 'mast'].map((name, at) => `<way-out name="${name}" via="192.0.2.${at + 1}"/>`);
  const pools = ['office', 'tills'].map((name) => `<pool on="net:${name}" first="10.20.0.100"/>`);
  const lines = [
    ['net:office', 'machine:crane,machine:gate'],
    ['net:yard,net:quay', 'everywhere-else'],
    ['net:tills', 'machine:office'],
    ['net:quay', 'net:office,machine:crane'],
  ].map(([from, to], at) => `<rule no="${at + 1}" from="${from}" to="${to}"/>`);
  const routes = ['turns:both', 'way-out:mast', 'way-out:old-dsl'].map(
    (by, at) => `<to prefix="10.9${at}.0.0/16" by="${by}"/>`,
  );
  return `<box><nets>${nets.join('')}</nets><machines>${boxes.join('')}</machines><outs>${outs.join('')}<turns name="both" of="way-out:fibre,way-out:mast"/>${routes.join('')}</outs><pools>${pools.join('')}</pools><rules>${lines.join('')}</rules></box>`;
})();

test('words before names tell their kinds also in lists, beside words that stand for themselves, and where one is gone', () => {
  const { names, gone } = linksOf(kinded);
  expect(gone).toEqual(['old-dsl']);
  expect(names.map((one) => one.replace(/^.*\//, '')).sort()).toEqual([
    ...['by both -> turns', 'by mast -> way-out', 'from office -> net', 'from quay -> net', 'from quay -> net'],
    ...['from tills -> net', 'from yard -> net', 'of fibre -> way-out', 'of mast -> way-out', 'on office -> net'],
    ...['on tills -> net', 'to crane -> machine', 'to crane -> machine', 'to gate -> machine', 'to office -> machine'],
    'to office -> net',
  ]);
});

test('fields that say of which kind the records beside them are name none', () => {
  const { reading } = open(
    `<store>${[...nets, ...hosts, ...windows, ...rules].join('')}<last class="host" id="2"/></store>`,
  );
  for (const { value } of reading.references) expect(value).toMatch(/^\d+$/);
});

// Identifiers as many boxes draw them: the kind, a mark and a code.
test('what begins as kinds of record are called and is what one goes by is a name, and no word for its kind', () => {
  const codes = ['38va3qg3t', 'b371ta0ng', 'qwbb9ykmw', 'rk5c3xz92', 'zc2s85yp8'];
  const list = (kind: string, inside: (at: number) => string) =>
    codes.map((code, at) => `<${kind} id="${kind}_${at}${code}">${inside(at)}</${kind}>`).join('');
  const id = (kind: string, at: number) => `${kind}_${at}${codes[at]}`;
  const rules = [0, 1, 2, 3, 4, 0, 1].map((at, no) => {
    const from = no === 5 ? 'item_9x7t2kq9w4' : no % 3 === 1 ? id('item', at) : id('lane', at);
    return `<rule><in>${id('lane', at)}</in><src>${from}</src><dst>${no % 2 ? 'any' : id('item', 4 - at)}</dst></rule>`;
  });
  const { names } = linksOf(
    `<quay>${list('lane', (at) => `<ip>10.20.${at}.1</ip>`)}${list('item', (at) => `<at>10.20.9.${at}</at>`)}${rules.join('')}</quay>`,
  );
  expect(names.filter((name) => name.startsWith('rule/src'))).toHaveLength(6);
});
