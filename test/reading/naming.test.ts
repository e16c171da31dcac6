import { expect, test } from 'vitest';
import { nameOf } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';

/** Where each name leads, `field value -> tag of the record`, and what is gone, read off the documents by eye. */
function linksOf(text: string): { readonly names: readonly string[]; readonly gone: readonly string[] } {
  const { reading, backup } = open(text);
  const { tree } = backup;
  return {
    names: reading.references
      .filter(({ tier }) => tier !== 'possible')
      .map(({ value, field, to }) => `${reading.fields[field]!.name} ${value} -> ${nameOf(tree, to)}`),
    gone: reading.dangling.map(({ value }) => value),
  };
}

test('remarks that stand in two kinds of record are the same stock of remarks, and name nothing', () => {
  const stock = ['season <pass>', 'see logbook, 12 March', 'tills: "closing" report', 'Web pages', 'asked for by Mara'];
  const escaped = stock.map((text) => `<![CDATA[${text}]]>`);
  const rules = [...escaped, ...escaped, 'moves to the pier', 'any to any is not meant here', 'let the office in'];
  const { names, gone } = linksOf(`<box>
${rules.map((memo, at) => `<rule><to>10.20.${at}.0/24</to><memo>${memo}</memo></rule>`).join('\n')}
<fwds>${escaped.map((text, at) => `<fwd><port>${80 + at * 7}</port><in>10.20.0.${at}</in><lbl>${text}</lbl></fwd>`).join('')}</fwds>
</box>`);
  expect(names).toEqual([]);
  expect(gone).toEqual([]);
});

const pages = (cert: string, gate: (name: string, code: string) => string) => `<box>
<web><cert>${cert}</cert><port>8443</port></web>
<certs>
  <pair><name>admin</name><code>1cc4a5b83a6e1cf1</code><about>Admin page 2026</about></pair>
  <pair><name>gate</name><code>9daf7d426dc66a5c</code><about>Remote access 2026</about></pair>
</certs>
<gates>${gate('staff', '1cc4a5b83a6e1cf1')}${gate('winter', 'b554efb19b5265b3')}</gates>
</box>`;

test('the code of one of several records that a page of settings has, too, names the record, not the page', () => {
  const { names, gone } = linksOf(pages('1cc4a5b83a6e1cf1', () => ''));
  expect(names).toEqual(['web/cert 1cc4a5b83a6e1cf1 -> pair']);
  expect(gone).toEqual([]);
});

test('two records under one holder, built alike, are told apart by their tags: what one of them names and is not there is gone', () => {
  const gate = (name: string, code: string) =>
    `<${name}><port>1194</port><group>visitors</group><cert>${code}</cert><net>10.99.0.0/24</net><by>tls</by></${name}>`;
  const { names, gone } = linksOf(pages('1cc4a5b83a6e1cf1', gate));
  expect(names.filter((one) => one.includes('1cc4'))).toEqual([
    'web/cert 1cc4a5b83a6e1cf1 -> pair',
    'cert 1cc4a5b83a6e1cf1 -> pair',
  ]);
  expect(gone).toEqual(['b554efb19b5265b3']);
});
