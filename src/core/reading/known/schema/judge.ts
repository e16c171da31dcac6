import { namespacesOf } from '../../../xml/namespaces.ts';
import { textOf } from '../../../xml/site.ts';
import { elementsOf, isLeaf, type Tree } from '../../../xml/tree.ts';
import type { KnownFormat } from '../format.ts';
import { type Asked, askedBy } from './condition.ts';
import { Data, type DocumentView, type Item } from './data.ts';
import { type Cause, Evaluator } from './evaluate.ts';
import { isData, type SchemaNode } from './model.ts';
import { isInside, type Placing, placingOf } from './placing.ts';
import { type Misfit, misfit } from './types.ts';
import type { Expression } from './xpath.ts';

/** A demand of a known format that a document does not meet, at one of its elements. */
export type Fault = { readonly node: number; readonly module: string } & (
  | { readonly is: 'type'; readonly misfit: Misfit }
  /** A leaf, a key, a choice or entries of a list that have to be there, by name. */
  | { readonly is: 'missing'; readonly name: string; readonly least: number }
  | {
      readonly is: 'when' | 'must';
      readonly test: string;
      /** The same in a plain form, and what it looks at; null where that could not be told. */
      readonly asked: Asked | null;
      readonly cause: Cause | null;
    }
  /** More than may be: the same twice, entries of a list, cases of a choice. */
  | { readonly is: 'too-many'; readonly name: string; readonly most: number }
  | { readonly is: 'not-there'; readonly name: string }
);

/** A condition or a type that could not be told. */
export interface Untold {
  readonly node: number;
  readonly test: string;
}

/** What was found when one element was judged. */
export interface Verdict {
  /** The element: -1 for the elements at the top of the data, beyond the last one for what the schema does not have. */
  readonly at: number;
  readonly faults: readonly Fault[];
  readonly untold: readonly Untold[];
}

export interface Judgement {
  readonly faults: readonly Fault[];
  /** What could not be told, each once, with the first element that asks for it. */
  readonly untold: readonly Untold[];
  /** The same by the elements that were judged, in the order of the document; where there is nothing to say, there is none. */
  readonly verdicts: readonly Verdict[];
}

/**
 * What a document owes to a known format. Linear in its size.
 * @returns null where the format has no schema or the document nothing of it.
 */
export function judge(tree: Tree, format: KnownFormat, view: Omit<DocumentView, 'tree'>): Judgement | null {
  const placing = placingOf(tree, format);
  return placing && summed(new Judge(format, placing, { ...view, tree }).judge());
}

export const asWritten = (tree: Tree): Omit<DocumentView, 'tree'> => ({
  value: (node) => textOf(tree, node).trim(),
  gone: () => false,
});

/** @param verdicts in the order of the document */
export function summed(verdicts: readonly Verdict[]): Judgement {
  const untold = new Map<string, number>();
  for (const verdict of verdicts)
    for (const { node, test } of verdict.untold) if (!untold.has(test)) untold.set(test, node);
  return {
    faults: verdicts.flatMap(({ faults }) => faults),
    untold: [...untold].map(([test, node]) => ({ node, test })),
    verdicts,
  };
}

/** Judges the elements of one document, one by one. */
export class Judge {
  private faults: Fault[] = [];
  private untold: Untold[] = [];
  private readonly verdicts: Verdict[] = [];
  private readonly data: Data;
  private readonly evaluators = new Map<number, Evaluator>();

  constructor(
    format: KnownFormat,
    private readonly placing: Placing,
    private readonly view: DocumentView,
  ) {
    this.data = new Data(format, placing.model, view, placing.schemaOf, placing.tops);
  }

  judge(): readonly Verdict[] {
    const { tree, gone } = this.view;
    this.judgeTops();
    for (let node = 0; node < tree.size; node++) {
      if (gone(node)) node = tree.after[node]! - 1;
      else this.judgeElement(node);
    }
    this.judgeStrange();
    return this.verdicts;
  }

  /** @param nodes elements that are there, in the order of the document; -1 for the top of the data */
  judgeOnly(nodes: readonly number[]): readonly Verdict[] {
    for (const node of nodes) {
      if (node === -1) this.judgeTops();
      else this.judgeElement(node);
    }
    return this.verdicts;
  }

  private judgeTops(): void {
    for (const tops of this.placing.tops.values())
      this.judgeDoubled(tops.filter((node) => this.placing.depth[node] === 2));
    this.close(-1);
  }

  private judgeElement(node: number): void {
    const { schemaOf, depth, model } = this.placing;
    const id = schemaOf[node]!;
    if (id <= 0 || depth[node] === 0) return;
    const schema = model.nodes[id]!;
    if (schema.type) this.judgeValue(node, schema);
    // The rest of an edit is in what it is put into.
    if (depth[node] === 2) {
      if (schema.demands) this.judgeInside(this.data.itemOf(node), schema, node);
      if (isInside(schema)) this.judgeDoubled(elementsOf(this.view.tree, node));
      this.judgeConditions(node, schema);
    }
    this.close(node);
  }

  private judgeStrange(): void {
    const { schemaOf, model, strange } = this.placing;
    const { tree, gone } = this.view;
    const spaces = namespacesOf(tree);
    for (const node of strange) {
      if (gone(node)) continue;
      const module = model.nodes[schemaOf[tree.parent[node]!]!]!.module;
      this.faults.push({ node, module, is: 'not-there', name: spaces.local[tree.name[node]!]! });
    }
    this.close(tree.size);
  }

  private close(at: number): void {
    if (this.faults.length === 0 && this.untold.length === 0) return;
    this.verdicts.push({ at, faults: this.faults, untold: this.untold });
    this.faults = [];
    this.untold = [];
  }

  private judgeConditions(node: number, schema: SchemaNode): void {
    const item = this.data.itemOf(node);
    for (const { test, ask, at } of schema.whens) this.ask(node, 'when', test, ask, at === 'self' ? item : item.up);
    for (const { test, ask } of schema.musts) this.ask(node, 'must', test, ask, item);
  }

  private judgeValue(node: number, { type, module, row }: SchemaNode): void {
    const { tree, value } = this.view;
    if (!isLeaf(tree, node)) return;
    const found = misfit(this.placing.model, type!, value(node), (name) => this.data.identity(node, name));
    if (found === 'untold') this.couldNotTell(node, row.name);
    else if (found) this.faults.push({ node, module, is: 'type', misfit: found });
  }

  /** What has to be inside a data node; also inside containers that count as there without being written. */
  private judgeInside(item: Item, part: SchemaNode, node: number): void {
    for (const name of part.row.keys ?? []) {
      const key = part.members.get(`${part.module}:${name}`);
      if (key && this.data.written(item, key).length === 0)
        this.faults.push({ node, module: part.module, is: 'missing', name, least: 1 });
    }
    for (const child of part.children) {
      const { row } = child;
      if (row.state) continue;
      if (row.is === 'choice') {
        this.judgeChoice(item, child, node);
        continue;
      }
      const least = row.mandatory ? 1 : (row.least ?? 0);
      const count =
        least > 0 || row.most !== undefined || row.is === 'container' ? this.data.written(item, child).length : 0;
      if (count < least && !part.row.keys?.includes(row.name) && this.mayBe(item, child, node))
        this.faults.push({ node, module: child.module, is: 'missing', name: row.name, least });
      if (row.most !== undefined && count > row.most)
        this.faults.push({ node, module: child.module, is: 'too-many', name: row.name, most: row.most });
      if (row.is === 'container' && count === 0 && child.demands && !row.presence && this.mayBe(item, child, node))
        this.judgeInside({ node: -1, schema: child, up: item }, child, node);
    }
  }

  private judgeChoice(item: Item, choice: SchemaNode, node: number): void {
    const used = choice.children.filter((own) => this.data.isWritten(item, own));
    const { row, module } = choice;
    if (used.length === 0) {
      if (row.mandatory && this.mayBe(item, choice, node))
        this.faults.push({ node, module, is: 'missing', name: choiceNames(choice), least: 1 });
    } else if (used.length > 1) this.faults.push({ node, module, is: 'too-many', name: choiceNames(choice), most: 1 });
    const byDefault = choice.children.filter((own) => used.length === 0 && own.row.name === row.default);
    for (const own of [...used, ...byDefault]) this.judgeInside(item, own, node);
  }

  /** Whether what is not there could be: its conditions hold, or there are none. */
  private mayBe(item: Item, schema: SchemaNode, node: number): boolean {
    return schema.whens.every(({ ask, at }) => {
      const context = at === 'self' ? { node: -1, schema, up: item } : item;
      return this.evaluator(node).holds(ask, context) === true;
    });
  }

  /** What stands twice side by side: a leaf, a container, a value of a leaf-list, the keys of a list. */
  private judgeDoubled(siblings: Iterable<number>): void {
    const { gone } = this.view;
    const { schemaOf, model } = this.placing;
    const seen = new Set<number | string>();
    for (const node of siblings) {
      const id = schemaOf[node]!;
      if (id <= 0 || gone(node)) continue;
      const own = this.identityOf(node, model.nodes[id]!);
      if (own === null) continue;
      const { row, module } = model.nodes[id]!;
      if (seen.has(own)) this.faults.push({ node, module, is: 'too-many', name: row.name, most: 1 });
      seen.add(own);
    }
  }

  /** What may stand once beside its like; null for what may come as often as it likes. */
  private identityOf(node: number, schema: SchemaNode): number | string | null {
    const { row, module, id, members } = schema;
    if (row.is !== 'leaf-list' && row.is !== 'list') return id;
    if (row.state) return null;
    if (row.is === 'leaf-list') return `${id} ${this.view.value(node)}`;
    if (!row.keys) return null;
    const item = this.data.itemOf(node);
    const keys = row.keys.map((name) => this.data.written(item, members.get(`${module}:${name}`)!)[0]);
    return keys.some((key) => key === undefined)
      ? null
      : JSON.stringify([id, ...keys.map((key) => this.view.value(key!))]);
  }

  private ask(node: number, is: 'when' | 'must', test: string, ask: Expression, item: Item | null): void {
    const evaluator = this.evaluator(node);
    const holds = item && evaluator.holds(ask, item);
    if (holds === null) this.couldNotTell(node, test);
    else if (!holds) {
      const { module } = this.placing.model.nodes[this.placing.schemaOf[node]!]!;
      this.faults.push({ node, module, is, test, asked: askedBy(ask), cause: evaluator.causeOf(ask, item!) });
    }
  }

  private couldNotTell(node: number, test: string): void {
    this.untold.push({ node, test });
  }

  private evaluator(node: number): Evaluator {
    const scope = this.placing.scope[node]!;
    let found = this.evaluators.get(scope);
    if (!found) {
      found = new Evaluator(this.data, scope);
      this.evaluators.set(scope, found);
    }
    return found;
  }
}

/** What could stand in a choice: the nodes of its cases. */
function choiceNames(choice: SchemaNode): string {
  const names: string[] = [];
  const visit = (part: SchemaNode) => {
    for (const child of part.children)
      if (isData(child)) names.push(child.row.name);
      else visit(child);
  };
  visit(choice);
  return names.join(', ');
}
