import { namespaceAt } from '../../../xml/namespaces.ts';
import { firstElement, nextElement, type Tree } from '../../../xml/tree.ts';
import type { KnownFormat } from '../format.ts';
import { isData, type SchemaModel, type SchemaNode } from './model.ts';

/** A document as a plan leaves it: its values and what is still there. */
export interface DocumentView {
  readonly tree: Tree;
  /** Trimmed. */
  readonly value: (node: number) => string;
  readonly gone: (node: number) => boolean;
}

/**
 * A data node. One that the document lacks but that counts as there (a leaf with a default, a container without a meaning
 * of its own) has the node -1 (RFC 7950, 6.4.1).
 */
export interface Item {
  readonly node: number;
  readonly schema: SchemaNode;
  readonly up: Item | null;
}

/** More children than this are looked up in an index. */
const FEW = 12;

/** The data nodes of one document and how they hang together. */
export class Data {
  readonly model: SchemaModel;
  private readonly moduleOf: ReadonlyMap<string, string>;
  private readonly items = new Map<number, Item>();
  private readonly crowded = new Map<number, Map<number, number[]>>();

  /** @param schemaOf for each node the id of its schema node, 0 for what wraps, -1 for what is none. */
  constructor(
    format: KnownFormat,
    model: SchemaModel,
    readonly view: DocumentView,
    private readonly schemaOf: Int32Array,
    /** Elements at the top by data tree. */
    private readonly tops: ReadonlyMap<number, readonly number[]>,
  ) {
    this.model = model;
    this.moduleOf = new Map(format.modules.map(({ namespace, name }) => [namespace, name]));
  }

  itemOf(node: number): Item {
    const known = this.items.get(node);
    if (known) return known;
    const schema = this.model.nodes[this.schemaOf[node]!]!;
    const up = schema.parent?.parent ? this.itemOf(this.view.tree.parent[node]!) : null;
    const made = { node, schema, up };
    this.items.set(node, made);
    return made;
  }

  /** Elements with one schema node at the top of a data tree. */
  atTop(scope: number, name: string): Item[] {
    const wanted = this.model.nodes[0]!.members.get(name);
    if (!wanted) return [];
    return (this.tops.get(scope) ?? [])
      .filter((node) => this.schemaOf[node] === wanted.id && !this.view.gone(node))
      .map((node) => this.itemOf(node));
  }

  /** Elements of the document that a data node has under one name. */
  written(item: Item, wanted: SchemaNode): readonly number[] {
    if (item.node === -1) return [];
    const { tree, gone } = this.view;
    const all = this.crowded.get(item.node);
    if (all) return all.get(wanted.id) ?? [];
    const found: number[] = [];
    let count = 0;
    for (let child = firstElement(tree, item.node); child !== -1; child = nextElement(tree, child)) {
      if (++count > FEW) {
        this.crowded.set(item.node, this.sorted(item.node));
        return this.written(item, wanted);
      }
      if (this.schemaOf[child] === wanted.id && !gone(child)) found.push(child);
    }
    return found;
  }

  private sorted(node: number): Map<number, number[]> {
    const { tree, gone } = this.view;
    const all = new Map<number, number[]>();
    for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
      const id = this.schemaOf[child]!;
      if (id <= 0 || gone(child)) continue;
      const list = all.get(id);
      if (list) list.push(child);
      else all.set(id, [child]);
    }
    return all;
  }

  /** Data nodes that one has under a name, those that only count as there included. */
  children(item: Item, wanted: SchemaNode): Item[] {
    const found = this.written(item, wanted).map((node) => this.itemOf(node));
    if (found.length > 0) return found;
    const { row, whens } = wanted;
    const counts = row.is === 'leaf' ? row.default !== undefined : row.is === 'container' && !row.presence;
    // Whether a condition lets it be is a question of its own; nothing in the modules asks for both.
    if (!counts || whens.length > 0 || !this.inUse(item, wanted)) return [];
    return [{ node: -1, schema: wanted, up: item }];
  }

  /** Whether the cases that a node stands in are those that apply: written, or the default of a choice that is not. */
  private inUse(item: Item, { cases }: SchemaNode): boolean {
    return cases.every((own, at) => {
      if (own.row.is !== 'case') return true;
      const choice = cases[at - 1]!;
      return this.isWritten(item, own) || (choice.row.default === own.row.name && !this.isWritten(item, choice));
    });
  }

  /** Whether the document has anything of a choice or a case. */
  isWritten(item: Item, part: SchemaNode): boolean {
    return part.children.some((child) =>
      isData(child) ? this.written(item, child).length > 0 : this.isWritten(item, child),
    );
  }

  /** A leaf's value in the form that expressions compare: an identity as `module:name`. Null for what is no leaf. */
  value({ node, schema }: Item): string | null {
    if (!schema.type) return null;
    if (node === -1) return schema.row.default ?? '';
    const value = this.view.value(node);
    return schema.type.is === 'identityref' ? (this.identity(node, value)?.name ?? value) : value;
  }

  /**
   * The identity that a qualified name means inside an element. `known` is false where its namespace is not the format's;
   * null where its prefix is not declared.
   */
  identity(node: number, value: string): { readonly name: string; readonly known: boolean } | null {
    const cut = value.indexOf(':');
    const namespace = namespaceAt(this.view.tree, node, cut === -1 ? '' : value.slice(0, cut));
    if (namespace === null) return null;
    const module = this.moduleOf.get(namespace);
    return { name: `${module ?? namespace}:${value.slice(cut + 1)}`, known: module !== undefined };
  }
}
