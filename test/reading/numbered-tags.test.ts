import { describe, expect, test } from 'vitest';
import { numberedTagsOf } from '../../src/core/reading/outline/numbered-tags.ts';
import { readXml } from '../../src/core/xml/read.ts';
import { open } from '../carry/files.ts';

function stems(text: string): string[] {
  const read = readXml(text);
  if (!read.ok) throw new Error(JSON.stringify(read.trouble));
  return [...new Set(numberedTagsOf(read.value, null)?.values())];
}

const records = (tag: string, count: number, from = 1) =>
  Array.from({ length: count }, (_, i) => `<${tag}${from + i}><name>n${i}</name><on/></${tag}${from + i}>`).join('');

describe('tags that only count', () => {
  test('are told by counting below every parent', () => {
    expect(stems(`<box><a>${records('item', 3)}</a><b>${records('item', 2)}</b></box>`)).toEqual(['item']);
    expect(stems('<box><name1>x</name1><name2>y</name2><name3>z</name3></box>')).toEqual(['name']);
  });

  test('are keys where a value says one, where they leave gaps, or where they name ports', () => {
    expect(stems(`<box><a>${records('zone', 3)}</a><b>${records('zone', 2)}</b><rule>zone2</rule></box>`)).toEqual([]);
    expect(stems(`<box><a>${records('berth', 3, 201)}</a><b>${records('berth', 2, 201)}</b></box>`)).toEqual([]);
    expect(stems(`<box><a>${records('eth', 3, 0)}</a><b>${records('eth', 2, 0)}</b></box>`)).toEqual([]);
  });

  test('are items of a list whose items may be addresses or names, and columns where each is of a kind of its own', () => {
    const lists = [
      '<n1>10.0.0.1</n1><n2>10.0.0.2</n2><n3>pier</n3>',
      '<n1>quay</n1><n2>10.0.0.3</n2>',
      '<n1>10.0.0.4</n1>',
    ];
    expect(
      stems(
        `<box>${lists.map((list) => `<a>${list}</a>`).join('')}<z><n1>10.0.0.5</n1><n2>10.0.0.6</n2><n3>10.0.0.7</n3></z></box>`,
      ),
    ).toEqual(['n']);
    expect(stems('<box><a><c1>10.0.0.1</c1><c2>pier</c2></a><a><c1>10.0.0.2</c1></a></box>')).toEqual([]);
  });

  test('are sections of their own where they are built differently', () => {
    const tunnel = '<t><phase1><cipher>a</cipher><group>2</group></phase1><phase2><prefix>b</prefix></phase2></t>';
    expect(stems(`<box>${tunnel}${tunnel}</box>`)).toEqual([]);
  });
});

test('lists in numbered records are lists: their items wrap nothing, though their records are all called otherwise', () => {
  const list = (names: readonly string[], has: (at: number) => readonly string[]) =>
    names
      .map((name, at) => {
        const items = has(at).map((one) => `<has>${one}</has>`);
        return `<rec${at + 1} name="${name}">${items.join('')}</rec${at + 1}>`;
      })
      .join('');
  const hosts = list(['nvr', 'tills', 'cranes', 'masts'], (at) => [`10.20.${at}.7`, `10.20.${at}.8`]);
  const doors = list(['mail', 'pages', 'tides'], (at) => [`${25 + at}`, `${465 + at}`]);
  const rules = ['nvr', 'cranes', 'masts', 'nvr'].map((to, at) => `<rule><to>${to}</to><at>${at}</at></rule>`);
  const { reading } = open(`<box><hosts>${hosts}</hosts><doors>${doors}</doors>${rules.join('')}</box>`);
  expect(reading.references.map(({ value }) => value)).toEqual(['nvr', 'cranes', 'masts', 'nvr']);
});
