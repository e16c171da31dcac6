import { describe, expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

/** What names records, and what names none. */
function linksIn(text: string) {
  const { reading, backup } = open(text);
  const placed = ({ site, value }: (typeof reading.dangling)[number] | (typeof reading.references)[number]) => ({
    at: sitePath(backup.tree, site),
    value,
  });
  const sure = reading.references.filter(({ tier }) => tier !== 'possible');
  return { references: sure.map(placed), dangling: reading.dangling.map(placed) };
}

/**
 * Objects as a program writes them out: each with its type, and one count through all of them. Common practice, no source:
 * serialisers number what they write, so that what comes again is only named.
 */
function archive(marks: { readonly ref: string; readonly number: string }): string {
  let count = 0;
  const object = (type: string, fields: string) => `<v type="object" class="${type}" n="${++count}">${fields}</v>`;
  const text = (key: string, value: string) => `<v key="${key}" type="text">${value}</v>`;
  const ref = (key: string, to: number) => `<v key="${key}" type="${marks.ref}">${to}</v>`;
  const number = (key: string, value: number) => `<v key="${key}" type="${marks.number}">${value}</v>`;
  const list = (key: string, items: readonly string[]) => `<v key="${key}" type="list">${items.join('')}</v>`;
  const crews = ['keepers', 'dockhands', 'riggers', 'pilots'].map((name) => object('Crew', text('title', name)));
  const hosts = ['crane', 'winch', 'gate', 'mast'].map((name, at) =>
    object('Host', text('title', name) + text('address', `10.20.4.${at + 10}`)),
  );
  const doors = ['slip', 'pontoon', 'fuel', 'office'].map((name, at) =>
    object('Door', text('title', name) + ref('warden', 1 + at) + number('level', at + 1)),
  );
  const rules = [5, 6, 8, 7].map((source, at) =>
    object('Rule', ref('source', source) + ref('target', 12 - at) + number('weight', at + 2) + ref('editor', at + 1)),
  );
  const watches = [1, 3, 4, 77].map((keeper) =>
    object('Watch', ref('keeper', keeper) + list('posts', [`<v type="${marks.ref}">${keeper + 8}</v>`])),
  );
  return `<box>${list('crews', crews)}${list('hosts', hosts)}${list('doors', doors)}${list('rules', rules)}${list('watches', watches)}</box>`;
}

describe('objects that one count numbers', () => {
  const { references, dangling } = linksIn(archive({ ref: 'ref', number: 'int' }));

  test('are named by what has the type of a reference, whatever the field is called', () => {
    const named = references.map(({ value }) => value).sort();
    const refs = [
      [1, 2, 3, 4],
      [5, 6, 8, 7],
      [12, 11, 10, 9],
      [1, 2, 3, 4],
      [1, 3, 4],
      [9, 11, 12],
    ].flat();
    expect(named).toEqual(refs.map(String).sort());
  });

  test('and what has the type and no object is gone', () => {
    expect(dangling.map(({ value }) => value)).toEqual(['77', '85']);
  });

  test('numbers of another type name nothing', () => {
    const places = references.map(({ at }) => at);
    expect(places.filter((at) => at.startsWith('/box[1]/v[3]')).every((at) => at.endsWith('/v[2]'))).toBe(true);
  });

  test('a type that is called as plain numbers are says nothing', () => {
    const plain = linksIn(archive({ ref: 'int', number: 'int' }));
    expect(plain.dangling.map(({ value }) => value)).not.toContain('77');
  });
});
