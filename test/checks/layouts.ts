import { openBackup } from '../../src/core/index.ts';
import { attributeValue, textOf } from '../../src/core/xml/site.ts';
import { attributesOf, elementsOf, isLeaf, nameOf, type Tree } from '../../src/core/xml/tree.ts';

/** An element of a document that was written by hand. */
interface El {
  readonly name: string;
  readonly attrs: readonly (readonly [name: string, value: string])[];
  readonly kids: readonly El[];
  /** Empty where it holds elements. */
  readonly text: string;
}

function elOf(tree: Tree, node: number): El {
  const [first, end] = attributesOf(tree, node);
  const attrs = Array.from(
    { length: end - first },
    (_, at) => [tree.names[tree.attrName[first + at]!]!, attributeValue(tree, first + at)] as const,
  );
  const kids = [...elementsOf(tree, node)].map((kid) => elOf(tree, kid));
  return { name: nameOf(tree, node), attrs, kids, text: isLeaf(tree, node) ? textOf(tree, node).trim() : '' };
}

const escaped = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
const isValue = ({ kids, attrs }: El) => kids.length === 0 && attrs.length === 0;
const count = (kids: readonly El[], name: string) => kids.filter((kid) => kid.name === name).length;
/** Whether children are the records of a list. */
const isList = ({ kids, attrs }: El) =>
  kids.length > 0 && attrs.length === 0 && kids.every((kid) => !isValue(kid) && kid.name === kids[0]!.name);

/** Single values as attributes. */
function attributes({ name, attrs, kids, text }: El): string {
  const inside: string[] = [];
  let own = attrs.map(([key, value]) => ` ${key}="${escaped(value)}"`).join('');
  for (const kid of kids)
    if (isValue(kid) && count(kids, kid.name) === 1) own += ` ${kid.name}="${escaped(kid.text)}"`;
    else inside.push(attributes(kid));
  if (text !== '') own += ` v="${escaped(text)}"`;
  return inside.length > 0 ? `<${name}${own}>\n${inside.join('\n')}\n</${name}>` : `<${name}${own}/>`;
}

/** Dotted keys with indices. */
function properties(root: El): string {
  const lines: string[] = [];
  const walk = ({ name, attrs, kids, text }: El, path: string): void => {
    const line = (key: string, value: string) => lines.push(`  <set key="${escaped(key)}" to="${escaped(value)}"/>`);
    for (const [key, value] of attrs) line(`${path}.${key}`, value);
    if (kids.length === 0 && (text !== '' || attrs.length === 0)) line(attrs.length > 0 ? `${path}.value` : path, text);
    const seen = new Map<string, number>();
    const only = new Set(kids.map((kid) => kid.name)).size === 1 && name.endsWith('s');
    for (const kid of kids) {
      const at = seen.get(kid.name) ?? 0;
      seen.set(kid.name, at + 1);
      walk(kid, `${path}.${kid.name}${only || count(kids, kid.name) > 1 ? `.${at}` : ''}`);
    }
  };
  for (const kid of root.kids) walk(kid, kid.name);
  return `<settings>\n${lines.join('\n')}\n</settings>`;
}

/** Elements that say the type, with the name beside it. */
function typed(root: El): string {
  const inside = ({ attrs, kids }: El): string => {
    const out = attrs.map(([key, value]) => `<string name="${key}">${escaped(value)}</string>`);
    const done = new Set<string>();
    for (const kid of kids) {
      if (done.has(kid.name)) continue;
      const all = kids.filter(({ name }) => name === kid.name);
      if (all.length > 1 || (all.length === kids.length && kid.kids.length > 0)) {
        done.add(kid.name);
        const items = all.map((one) =>
          isValue(one) ? `<string>${escaped(one.text)}</string>` : `<map>\n${inside(one)}\n</map>`,
        );
        out.push(`<array name="${kid.name}">\n${items.join('\n')}\n</array>`);
      } else if (isValue(kid)) out.push(`<string name="${kid.name}">${escaped(kid.text)}</string>`);
      else out.push(`<map name="${kid.name}">\n${inside(kid)}\n</map>`);
    }
    return out.join('\n');
  };
  return `<map>\n${inside(root)}\n</map>`;
}

/** Tables of rows and columns; what a record holds beside single values stands in tables of its own, by its number. */
function rows(root: El): string {
  const tables = new Map<string, Map<string, string>[]>();
  const add = (table: string, row: Map<string, string>): string => {
    const list = tables.get(table) ?? [];
    tables.set(table, list);
    const id = String(list.length + 1);
    list.push(new Map([['row-id', id], ...row]));
    return id;
  };
  const walk = ({ attrs, kids }: El, table: string, above: readonly [string, string] | null): void => {
    const isSingle = (kid: El) => isValue(kid) && count(kids, kid.name) === 1;
    const own = [...attrs, ...kids.filter(isSingle).map(({ name, text }) => [name, text] as const)];
    const id = add(table, new Map([...(above ? [above] : []), ...own]));
    for (const kid of kids) {
      if (isSingle(kid)) continue;
      const by = [`${table}-id`, id] as const;
      if (isValue(kid)) add(`${table}-${kid.name}`, new Map([by, ['item', kid.text]]));
      else if (isList(kid)) for (const one of kid.kids) walk(one, one.name, own.length > 0 ? by : null);
      else walk(kid, kid.name, own.length > 0 ? by : null);
    }
  };
  for (const kid of root.kids)
    if (isList(kid)) for (const one of kid.kids) walk(one, one.name, null);
    else walk(kid, kid.name, null);
  const written = [...tables].map(([name, list]) => {
    const columns = [...new Set(list.flatMap((row) => [...row.keys()]))];
    const cells = (row: Map<string, string>) =>
      columns.map((column) => `<col name="${column}">${escaped(row.get(column) ?? '')}</col>`).join('');
    return `<table name="${name}">\n${list.map((row) => `<row>${cells(row)}</row>`).join('\n')}\n</table>`;
  });
  return `<dump>\n${written.join('\n')}\n</dump>`;
}

const schools = { attributes, properties, typed, rows };
export type Layout = keyof typeof schools | 'as it is';
export const LAYOUTS: readonly Layout[] = ['as it is', 'attributes', 'properties', 'typed', 'rows'];

/** The same box, written as another school of file formats would. */
export function laidOut(xml: string, layout: Layout): string {
  if (layout === 'as it is') return xml;
  const backup = openBackup(new TextEncoder().encode(xml), 'box.xml');
  if (!backup.ok) throw new Error(JSON.stringify(backup.trouble));
  return schools[layout](elOf(backup.value.tree, 0));
}
