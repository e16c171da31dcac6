import { SiteSet } from '../../reading/fields/site-set.ts';
import { kindIn } from '../../reading/keys/collections.ts';
import { keyValue, lineName } from '../../reading/keys/record-name.ts';
import { linesOf } from '../../reading/outline/lines.ts';
import type { Reading } from '../../reading/reading.ts';
import { hiddenIn } from '../../reading/secrets/secrets-in-text.ts';
import { nameOf, type Tree } from '../../xml/tree.ts';
import { type CarryTree, Row } from './carry-tree.ts';

/** What the rows of the carry sheet are called. */
export class RowNames {
  /** How many collections each element holds. */
  private collectionsAt: Map<number, number> | null = null;
  private hidden: SiteSet | null = null;

  constructor(
    private readonly tree: Tree,
    private readonly reading: Reading,
    private readonly rows: CarryTree,
  ) {}

  /** The name of a row and, where it is another, its key. */
  of(row: number): [name: string, key: string] {
    const { tree } = this;
    const { kind, node, collection, place, parent } = this.rows;
    const of = this.reading.collections[collection[row]!];
    if (kind[row] === Row.collection) {
      const kind = kindIn(of!.list);
      if (parent[row] === -1) return [kind || of!.item!, ''];
      if (kind) return [`${of!.item ?? ''} ${kind}`.trim(), ''];
      const holder = nameOf(tree, node[row]!);
      return [of!.item === null || this.isAlone(row) ? holder : `${holder}/${of!.item}`, ''];
    }
    const tag = nameOf(tree, node[row]!);
    const section = kind[row] === Row.section ? this.reading.sections[this.rows.section[row]!]!.name : null;
    if (!of) return [section ?? this.lineName(node[row]!) ?? tag, ''];
    const listed = linesOf(tree).recordName(of, node[row]!);
    const key =
      listed?.key ?? ((of.key.by === 'tag' && this.lineName(node[row]!)) || keyValue(tree, of.key, node[row]!));
    const name = (listed ? listed.label : of.label && keyValue(tree, of.label, node[row]!)) || key;
    if (section !== null) return [section, name === section ? '' : name];
    return name === '' ? [`${tag} ${place[row]! + 1}`, ''] : [name, key === name ? '' : key];
  }

  /** What a line of a flat list is called; null for other elements, and where that would be a secret. */
  lineName(node: number): string | null {
    const title = linesOf(this.tree).title(node);
    if (title !== null) return title;
    const line = lineName(this.tree, node);
    if (!line) return null;
    this.hidden ??= new SiteSet(hiddenIn(this.tree, this.reading));
    return this.hidden.has(node, line.attr) ? null : line.name;
  }

  /** Whether its parent element holds the records of no other collection. */
  private isAlone(row: number): boolean {
    this.collectionsAt ??= countOf(this.reading.collections.map(({ parent }) => parent));
    return this.collectionsAt.get(this.rows.node[row]!) === 1;
  }
}

function countOf(items: readonly number[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const item of items) counts.set(item, (counts.get(item) ?? 0) + 1);
  return counts;
}
