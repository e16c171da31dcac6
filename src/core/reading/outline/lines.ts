import { type PartSite, valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import type { Collection } from '../reading.ts';
import type { FlatNode } from './flat-columns.ts';
import { flatListsOf } from './flat-lists.ts';
import { propertiesOf } from './properties.ts';

/** A line of a flat list: its element, and the names on the way to what it sets. */
interface Line {
  readonly element: number;
  readonly parts: readonly string[];
}

/** The flat lists of a document, whichever way they write down their tree. */
class Lines {
  /** By the element that holds the list, in the order of the file. */
  readonly lists = new Map<number, readonly Line[]>();
  /** Of lists whose keys are no paths in the file. */
  private readonly titles = new Map<number, string>();
  private readonly values = new Map<string, PartSite>();
  private readonly partsOf = new Map<number, readonly string[]>();
  private readonly nodes = new Map<string, FlatNode>();

  constructor(private readonly tree: Tree) {
    const properties = propertiesOf(tree);
    for (const [parent, entries] of properties?.entries ?? []) {
      this.lists.set(parent, entries);
      for (const entry of entries) {
        this.partsOf.set(entry.element, entry.parts);
        this.values.set(joined(entry.parts), entry);
      }
    }
    for (const [first, nodes] of flatListsOf(tree)?.trees ?? []) this.addFlat(tree.parent[first]!, nodes);
  }

  private addFlat(parent: number, nodes: readonly FlatNode[]): void {
    const deepest = new Map<number, readonly string[]>();
    const visit = (node: FlatNode, above: readonly string[]) => {
      if (node.about) return;
      const parts = [...above, node.name];
      if ((deepest.get(node.element)?.length ?? 0) < parts.length) deepest.set(node.element, parts);
      this.nodes.set(`${parts.length} ${node.element}`, node);
      for (const one of node.below) visit(one, parts);
    };
    for (const node of nodes) visit(node, []);
    const lines = [...deepest].sort(([a], [b]) => a - b).map(([element, parts]): Line => ({ element, parts }));
    this.lists.set(parent, lines);
    const shared = sharedBy(lines);
    for (const { element, parts } of lines)
      this.titles.set(element, parts.slice(Math.min(shared, parts.length - 1)).join(' / '));
  }

  /** What a line sets, for people; null where it says so itself, and for other elements. */
  title(element: number): string | null {
    return this.titles.get(element) ?? null;
  }

  /** The name of a record of several lines, and its label; null where it is none. */
  recordName(
    { parts, label, key }: Collection,
    record: number,
  ): { readonly key: string; readonly label: string } | null {
    if (parts === undefined) return null;
    const path = this.partsOf.get(record)?.slice(0, parts);
    const inside = (names: readonly string[]) => this.read(this.values.get(joined([...path!, ...names])));
    if (path) return { key: keyIn(path), label: label?.by === 'leaf' ? inside(label.path) : '' };
    const node = this.nodes.get(`${parts} ${record}`);
    if (!node) return null;
    const below = (names: readonly string[]) => this.read(siteBelow(node, names));
    const own = key.by === 'leaf' ? below(key.path) : '';
    return { key: own || node.name, label: label?.by === 'leaf' ? below(label.path) : '' };
  }

  private read(site: PartSite | undefined | null): string {
    return site ? valueAt(this.tree, site).trim() : '';
  }
}

const known = new WeakMap<Tree, Lines>();

export function linesOf(tree: Tree): Lines {
  let lines = known.get(tree);
  if (!lines) {
    lines = new Lines(tree);
    known.set(tree, lines);
  }
  return lines;
}

/**
 * What the lines of a flat list are about: of their names the first that not all share. Nothing where it tells hardly any
 * together.
 */
export function headsOf(lines: readonly Line[]): ReadonlyMap<number, string> {
  const shared = sharedBy(lines);
  const heads = new Map<number, string>();
  for (const { element, parts } of lines) if (parts.length > shared + 1) heads.set(element, parts[shared]!);
  if (new Set(heads.values()).size * 2 > heads.size) return new Map();
  const found = new Set(heads.values());
  // A line of the head itself goes with what it heads.
  for (const { element, parts } of lines)
    if (parts.length === shared + 1 && found.has(parts[shared]!)) heads.set(element, parts[shared]!);
  return heads;
}

/** How many names all lines that have more begin with. */
function sharedBy(lines: readonly Line[]): number {
  for (let shared = 0; ; shared++) {
    const names = new Set(lines.flatMap(({ parts }) => (parts.length > shared + 1 ? [parts[shared]!] : [])));
    const alone = lines.some(({ parts }) => parts.length === shared + 1 && !names.has(parts[shared]!));
    if (names.size !== 1 || alone) return shared;
  }
}

const joined = (parts: readonly string[]) => parts.join('\u0000');

/** A number says little without the name before it. */
const keyIn = (path: readonly string[]) => path.slice(/^\d+$/.test(path[path.length - 1]!) ? -2 : -1).join(' ');

function siteBelow(node: FlatNode, names: readonly string[]): PartSite | null {
  let at: FlatNode | undefined = node;
  for (const name of names) at = at?.below.find((one) => one.name === name);
  return at?.site ?? null;
}
