import { describe, expect, test } from 'vitest';
import { readMeaning } from '../../src/core/index.ts';
import { emptyNamesOf } from '../../src/core/reading/outline/empty-names.ts';
import { sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';

function treeOf(text: string) {
  const read = readXml(text);
  if (!read.ok) throw new Error(JSON.stringify(read.trouble));
  return read.value;
}
function namesIn(text: string): string[] {
  const tree = treeOf(text);
  return [...(emptyNamesOf(tree) ?? [])].map((node) => tree.names[tree.name[node]!]!);
}

const networks = ['office', 'guest', 'till', 'voice'].map((name, at) => `<${name}><on>em${at}</on><mtu/></${name}>`);
const rule = (from: string, to: string) => `<pass><from>${from}</from><to>${to}</to><quiet/></pass>`;
const rules = [
  rule('<office/>', '<guest/>'),
  rule('<guest/><till></till>', '<any/>'),
  rule('<shed/>', '<office/>'),
  rule('<at>10.0.0.9</at><voice/>', '<till/>'),
];
const box = `<box><networks>${networks.join('')}</networks><rules>${rules.join('')}</rules></box>`;

describe('empty elements that name records which are called by their tags', () => {
  test('are found with all that stand where they do; flags and fields left empty are none', () => {
    expect(namesIn(box)).toEqual(['office', 'guest', 'till', 'shed', 'voice', 'guest', 'any', 'office', 'till']);
  });

  test('are none where the same tag has a value beside them elsewhere, or where hardly one is a record', () => {
    const rows = ['<a/><b>1</b>', '<a>2</a><b/>', '<a/><b/>', '<a>3</a><b/>', '<a/><b>4</b>', '<a/><b/>'];
    const maps = '<m><a><k>1</k><v/></a><b><k>2</k><v/></b><c><k>2</k><v/></c></m>';
    expect(namesIn(`<box>${maps}<r>${rows.map((row) => `<row>${row}</row>`).join('')}</r></box>`)).toEqual([]);
    const flags = ['<up/><fast/>', '<up/><slow/>', '<down/><office/>', '<up/>', '<down/>', '<up/><half/>'];
    const states = flags.map((flag) => `<state>${flag}</state>`).join('');
    expect(namesIn(`<box><networks>${networks.join('')}</networks>${states}</box>`)).toEqual([]);
  });

  test('are references at their own names, one that names nothing is reported, and addresses beside them are none', () => {
    const tree = treeOf(box);
    const { references, dangling } = readMeaning(tree);
    const at = ({ site }: { site: { node: number; attr: number } }) => sitePath(tree, site);
    const own = references.filter((one) => at(one).includes('/rules'));
    expect(own.map(at)).toContain('/box[1]/rules[1]/pass[2]/from[1]/till[1]/name()');
    expect(own).toHaveLength(7);
    expect(dangling.map(at)).toEqual(['/box[1]/rules[1]/pass[3]/from[1]/shed[1]/name()']);
  });
});
