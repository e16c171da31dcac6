import { namespacesOf } from '../../../xml/namespaces.ts';
import { textOf } from '../../../xml/site.ts';
import { elementsOf, isLeaf, type Tree } from '../../../xml/tree.ts';
import type { KnownFormat } from '../format.ts';
import { walk } from '../placed.ts';
import { type Asked, askedBy } from './condition.ts';
import { Data, type DocumentView, type Item } from './data.ts';
import { type Cause, Evaluator } from './evaluate.ts';
import { isData, modelOf, type SchemaModel, type SchemaNode } from './model.ts';
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

export interface Judgement {
  readonly faults: readonly Fault[];
  /** Conditions and types that could not be told, each once, with the first element that asks for it. */
  readonly untold: readonly { readonly node: number; readonly test: string }[];
}

/** Where a document's elements stand in the schema; made once for a tree. */
interface Placing {
  readonly model: SchemaModel;
  readonly schemaOf: Int32Array;
  readonly scope: Int32Array;
  readonly tops: ReadonlyMap<number, readonly number[]>;
  /** 0 for elements that are not judged, 1 for those of which only types are, 2 for whole data trees. */
  readonly depth: Uint8Array;
  /** Elements of known modules that the schema does not have, the outermost. */
  readonly strange: readonly number[];
}

const placings = new WeakMap<Tree, Placing | null>();

/**
 * What a document owes to a known format. Linear in its size.
 * @returns null where the format has no schema or the document nothing of it.
 */
export function judge(tree: Tree, format: KnownFormat, view: Omit<DocumentView, 'tree'>): Judgement | null {
  let placing = placings.get(tree);
  if (placing === undefined) {
    placing = placingOf(tree, format);
    placings.set(tree, placing);
  }
  return placing && new Judge(format, placing, { ...view, tree }).judge();
}

/**
 * Judges again where only the values of some leaves changed and nothing else rests on them: they are no keys, stand in no
 * condition of a module, and may come once.
 * @returns null where more has to be judged again
 */
export function judgeAgain(
  tree: Tree,
  format: KnownFormat,
  view: Omit<DocumentView, 'tree'>,
  before: Judgement,
  changed: readonly number[],
): Judgement | null {
  const placing = placings.get(tree);
  if (!placing || !changed.every((node) => standsAlone(placing, node))) return null;
  const again = new Judge(format, placing, { ...view, tree });
  const own = again.judgeValues(changed);
  const nodes = new Set(changed);
  const ofValue = ({ is }: Fault) => is === 'type' || is === 'when' || is === 'must';
  return {
    faults: [...before.faults.filter((fault) => !nodes.has(fault.node) || !ofValue(fault)), ...own.faults],
    untold: [...before.untold.filter(({ node }) => !nodes.has(node)), ...own.untold],
  };
}

function standsAlone({ model, schemaOf }: Placing, node: number): boolean {
  const id = schemaOf[node]!;
  if (id <= 0) return true;
  const { row, module } = model.nodes[id]!;
  return row.is === 'leaf' && !askedAbout(model).has(`${module}:${row.name}`);
}

const asked = new WeakMap<SchemaModel, ReadonlySet<string>>();

/** Names, with their modules, that conditions and keys look at. */
function askedAbout(model: SchemaModel): ReadonlySet<string> {
  const known = asked.get(model);
  if (known) return known;
  const names = new Set<string>();
  for (const { whens, musts, row, module } of model.nodes) {
    for (const { test } of [...whens, ...musts])
      for (const [name] of test.matchAll(/[A-Za-z_][\w.-]*:[A-Za-z_][\w.-]*/g)) names.add(name);
    for (const key of row.keys ?? []) names.add(`${module}:${key}`);
  }
  asked.set(model, names);
  return names;
}

export const asWritten = (tree: Tree): Omit<DocumentView, 'tree'> => ({
  value: (node) => textOf(tree, node).trim(),
  gone: () => false,
});

function placingOf(tree: Tree, format: KnownFormat): Placing | null {
  const model = modelOf(format);
  const found =
    model &&
    walk(tree, format, (from, module, local) => model.nodes[from]!.members.get(`${module}:${local}`)?.id ?? -1);
  if (!found) return null;
  const { path: schemaOf, scope, tops } = found;
  const byScope = new Map<number, number[]>();
  const depth = new Uint8Array(tree.size);
  for (const top of tops) {
    const list = byScope.get(scope[top]!);
    if (list) list.push(top);
    else byScope.set(scope[top]!, [top]);
    depth.fill(depthAt(tree, format, top), top, tree.after[top]!);
  }
  // Where a box tells its state, what it does may break what its configuration may not (RFC 8342, 5.3).
  const telling = new Set<number>();
  for (let node = 0; node < tree.size; node++)
    if (schemaOf[node]! > 0 && model.nodes[schemaOf[node]!]!.row.state) telling.add(scope[node]!);
  for (const top of tops) if (telling.has(scope[top]!) && depth[top] === 2) depth.fill(1, top, tree.after[top]!);
  const strange: number[] = [];
  for (const node of found.strange) {
    const above = model.nodes[schemaOf[tree.parent[node]!]!];
    if (depth[node]! > 0 && above && isInside(above)) strange.push(node);
  }
  return { model, schemaOf, scope, tops: byScope, depth, strange };
}

const isInside = ({ row }: SchemaNode) => row.is === 'container' || row.is === 'list';

/** A filter names what it asks for, an edit and a notification hold a part. */
function depthAt(tree: Tree, format: KnownFormat, top: number): 0 | 1 | 2 {
  const spaces = namespacesOf(tree);
  let depth: 0 | 1 | 2 = 2;
  for (let node = tree.parent[top]!; node !== -1; node = tree.parent[node]!) {
    const local = spaces.local[tree.name[node]!]!;
    const space = spaces.of[node]!;
    if (!format.envelope.some(({ namespace }) => namespace === spaces.uris[space])) continue;
    if (local === 'filter') return 0;
    if (['edit-config', 'notification', 'action'].includes(local)) depth = 1;
  }
  return depth;
}

class Judge {
  private readonly faults: Fault[] = [];
  private readonly untold = new Map<string, number>();
  private readonly data: Data;
  private readonly evaluators = new Map<number, Evaluator>();

  constructor(
    format: KnownFormat,
    private readonly placing: Placing,
    private readonly view: DocumentView,
  ) {
    this.data = new Data(format, placing.model, view, placing.schemaOf, placing.tops);
  }

  judge(): Judgement {
    const { schemaOf, depth, model, strange } = this.placing;
    const { tree, gone } = this.view;
    for (const tops of this.placing.tops.values()) this.judgeDoubled(tops.filter((node) => depth[node] === 2));
    for (let node = 0; node < tree.size; node++) {
      const id = schemaOf[node]!;
      if (id <= 0 || depth[node] === 0) continue;
      if (gone(node)) {
        node = tree.after[node]! - 1;
        continue;
      }
      const schema = model.nodes[id]!;
      if (schema.type) this.judgeValue(node, schema);
      // The rest of an edit is in what it is put into.
      if (depth[node] === 1) continue;
      if (schema.demands) this.judgeInside(this.data.itemOf(node), schema, node);
      if (isInside(schema)) this.judgeDoubled(elementsOf(tree, node));
      this.judgeConditions(node, schema);
    }
    const spaces = namespacesOf(tree);
    for (const node of strange) {
      if (gone(node)) continue;
      const module = model.nodes[schemaOf[tree.parent[node]!]!]!.module;
      this.faults.push({ node, module, is: 'not-there', name: spaces.local[tree.name[node]!]! });
    }
    return { faults: this.faults, untold: [...this.untold].map(([test, node]) => ({ node, test })) };
  }

  /** What leaves owe by their own values: their types, and conditions that are asked at them. */
  judgeValues(nodes: readonly number[]): Judgement {
    const { schemaOf, depth, model } = this.placing;
    for (const node of nodes) {
      const id = schemaOf[node]!;
      if (id <= 0 || depth[node] === 0) continue;
      if (model.nodes[id]!.type) this.judgeValue(node, model.nodes[id]!);
      if (depth[node] === 2) this.judgeConditions(node, model.nodes[id]!);
    }
    return { faults: this.faults, untold: [...this.untold].map(([test, node]) => ({ node, test })) };
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
    if (!this.untold.has(test)) this.untold.set(test, node);
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
