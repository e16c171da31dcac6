import { attributeValue, runsOf } from '../../src/core/xml/site.ts';
import { attributesOf, firstChild, Kind, nameOf, nextSibling, type Tree } from '../../src/core/xml/tree.ts';

/**
 * A tree as a list of lines, one for each construct, to compare two trees by. White space of texts is left out, since it goes with what is taken out beside it.
 * @param skip nodes that are left out with all that is in them.
 */
export function outline(tree: Tree, skip: ReadonlySet<number> = new Set()): string[] {
  const lines: string[] = [];
  const walk = (node: number, depth: number) => {
    if (skip.has(node)) return;
    const put = (text: string) => lines.push(`${depth} ${text}`);
    const source = tree.text.slice(tree.start[node], tree.end[node]);
    if (tree.kind[node] !== Kind.element) {
      if (tree.kind[node] !== Kind.cdata) put(source.replace(/\r\n?/g, '\n'));
      return;
    }
    const [first, end] = attributesOf(tree, node);
    const attributes: string[] = [];
    for (let attr = first; attr < end; attr++)
      attributes.push(`${tree.names[tree.attrName[attr]!]}=${attributeValue(tree, attr)}`);
    put([nameOf(tree, node), ...attributes].join(' '));
    for (let child = firstChild(tree, node); child !== -1; child = nextSibling(tree, child)) {
      walk(child, depth + 1);
    }
    const text = runsOf(tree, node)
      .map((run) => tree.text.slice(run.start, run.end).replace(/\r\n?/g, '\n'))
      .join('');
    if (text.trim()) lines.push(`${depth} text ${text.replace(/\s+/g, '')}`);
  };
  for (let node = 0; node < tree.size; node = tree.after[node]!) walk(node, 0);
  return lines;
}
