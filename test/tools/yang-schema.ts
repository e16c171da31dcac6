import { all, argumentOf, one, parseYang, type Statement } from './yang-statements.ts';

/** A module or submodule: its text, and what its prefixes stand for. */
export interface YangText {
  readonly statement: Statement;
  /** The module that its nodes belong to. */
  readonly module: string;
  readonly prefixes: ReadonlyMap<string, string>;
}

export interface Leafref {
  readonly path: string;
  /** Where the path is written, whose prefixes it uses. */
  readonly text: YangText;
}

/** A node of the expanded schema tree: groupings, submodules and augments put in, all features on. */
export interface SchemaNode {
  readonly keyword: string;
  readonly name: string;
  readonly module: string;
  readonly parent: SchemaNode | null;
  readonly children: SchemaNode[];
  config: boolean;
  /** Names of the keys of a list, in order. */
  readonly keys: readonly string[];
  readonly leafrefs: readonly Leafref[];
  /** Typedefs that its type goes through, `module:name`, outermost first. */
  readonly types: readonly string[];
  /** True for a leaf under NACM's default-deny-all (RFC 8341, 3.4.3). */
  readonly denied: boolean;
  /** Where it is written, what is written there, and what encloses that: for what the kinds of nodes say each. */
  readonly written: Written;
  /** Statements that a `refine` puts in the place of its own (RFC 7950, 7.13.2). */
  readonly refined: Statement[];
  /** Conditions, with where they are written; those of a `uses` or an `augment` are about the node around. */
  readonly whens: { readonly test: string; readonly text: YangText; readonly at: 'self' | 'parent' }[];
  /** Whether an `if-feature` stands on it, or on the `uses` or `augment` that brings it. */
  featured: boolean;
}

export interface Written {
  readonly statement: Statement;
  readonly text: YangText;
  readonly scope: readonly Statement[];
}

export interface Schema {
  readonly grower: Grower;
  readonly root: SchemaNode;
  readonly texts: ReadonlyMap<string, YangText>;
  readonly namespaces: ReadonlyMap<string, string>;
  readonly revisions: ReadonlyMap<string, string | null>;
}

const data = ['container', 'list', 'leaf', 'leaf-list', 'choice', 'case', 'anydata', 'anyxml'];
const operations = ['rpc', 'action', 'notification', 'input', 'output'];
const builtIn = new Set(
  'binary bits boolean decimal64 empty enumeration identityref instance-identifier int8 int16 int32 int64 leafref string uint8 uint16 uint32 uint64 union'.split(
    ' ',
  ),
);

const nowhere: Written = {
  statement: { keyword: 'root', argument: '', inside: [] },
  text: { statement: { keyword: 'root', argument: '', inside: [] }, module: '', prefixes: new Map() },
  scope: [],
};

/** Expands the named modules over a library of texts. */
export function schemaOf(sources: readonly string[], implemented: readonly string[]): Schema {
  const texts = new Map<string, YangText>();
  for (const source of sources) {
    const text = textOf(parseYang(source));
    texts.set(text.statement.argument, text);
  }
  const grower = new Grower(texts);
  const root = newNode('root', '', '', null, nowhere, {});
  for (const name of implemented) {
    for (const text of grower.partsOf(name)) grower.grow(text.statement, text, name, root, [text.statement]);
  }
  grower.augment(root, implemented);
  const modules = [...texts.values()].filter((text) => text.statement.keyword === 'module');
  return {
    grower,
    root,
    texts,
    namespaces: new Map(modules.map((text) => [text.module, argumentOf(text.statement, 'namespace')!])),
    revisions: new Map(
      modules.map((text) => {
        const dates = all(text.statement, 'revision').map((revision) => revision.argument);
        return [text.module, dates.sort().at(-1) ?? null];
      }),
    ),
  };
}

function textOf(statement: Statement): YangText {
  const belongs = one(statement, 'belongs-to');
  const module = belongs?.argument ?? statement.argument;
  const prefixes = new Map([[argumentOf(belongs ?? statement, 'prefix')!, module]]);
  for (const imported of all(statement, 'import')) prefixes.set(argumentOf(imported, 'prefix')!, imported.argument);
  return { statement, module, prefixes };
}

function newNode(
  keyword: string,
  name: string,
  module: string,
  parent: SchemaNode | null,
  written: Written,
  more: Partial<Pick<SchemaNode, 'config' | 'keys' | 'leafrefs' | 'types' | 'denied'>>,
): SchemaNode {
  const node = { keyword, name, module, parent, children: [], config: true, keys: [], leafrefs: [], types: [] };
  return { ...node, denied: false, written, refined: [], whens: [], featured: false, ...more };
}

/** Puts the condition and the feature of a `uses` or an `augment` on the nodes that it brings. */
function bring(from: Statement, text: YangText, nodes: readonly SchemaNode[]): void {
  for (const node of nodes) {
    for (const { argument } of all(from, 'when')) node.whens.push({ test: argument, text, at: 'parent' });
    if (one(from, 'if-feature')) node.featured = true;
  }
}

export class Grower {
  constructor(private readonly texts: ReadonlyMap<string, YangText>) {}

  /** A module and its submodules. */
  partsOf(name: string): YangText[] {
    const text = this.texts.get(name)!;
    return [text, ...all(text.statement, 'include').map((include) => this.texts.get(include.argument)!)];
  }

  grow(from: Statement, text: YangText, module: string, parent: SchemaNode, scope: readonly Statement[]): void {
    for (const statement of from.inside) {
      if (data.includes(statement.keyword) || operations.includes(statement.keyword)) {
        this.add(statement, text, module, parent, scope);
      } else if (statement.keyword === 'uses') this.use(statement, text, module, parent, scope);
    }
  }

  private add(
    statement: Statement,
    text: YangText,
    module: string,
    parent: SchemaNode,
    scope: readonly Statement[],
  ): void {
    const inner = [...scope, statement];
    const isLeaf = statement.keyword.startsWith('leaf');
    const config = argumentOf(statement, 'config');
    const node = newNode(
      statement.keyword,
      statement.argument || statement.keyword,
      module,
      parent,
      { statement, text, scope: inner },
      {
        config: operations.includes(statement.keyword) ? false : config === null ? parent.config : config === 'true',
        keys: argumentOf(statement, 'key')?.split(/\s+/) ?? [],
        ...(isLeaf && this.typeOf(one(statement, 'type')!, text, inner)),
        denied: isLeaf && statement.inside.some(({ keyword }) => /:default-deny-all$/.test(keyword)),
      },
    );
    parent.children.push(node);
    const unseenNode = ['choice', 'case'].includes(statement.keyword);
    for (const { argument } of all(statement, 'when'))
      node.whens.push({ test: argument, text, at: unseenNode ? 'parent' : 'self' });
    node.featured = one(statement, 'if-feature') !== null;
    this.grow(statement, text, module, node, inner);
    if (statement.keyword !== 'rpc' && statement.keyword !== 'action') return;
    // Both are there even where the text leaves them out (RFC 7950, 7.14 and 7.15).
    for (const name of ['input', 'output']) {
      if (node.children.some((child) => child.keyword === name)) continue;
      node.children.push(newNode(name, name, module, node, nowhere, { config: false }));
    }
  }

  private use(
    statement: Statement,
    text: YangText,
    module: string,
    parent: SchemaNode,
    scope: readonly Statement[],
  ): void {
    const found = this.lookUp('grouping', statement.argument, text, scope);
    const before = parent.children.length;
    this.grow(found.statement, found.text, module, parent, [...found.scope, found.statement]);
    const brought = parent.children.slice(before);
    for (const refine of all(statement, 'refine')) {
      const node = this.find(parent, refine.argument, text, module);
      if (!node) throw new Error(`refine of nothing: ${refine.argument}`);
      node.refined.push(...refine.inside);
      const config = argumentOf(refine, 'config');
      if (config) node.config = config === 'true';
    }
    for (const augment of all(statement, 'augment')) {
      const node = this.find(parent, augment.argument, text, module);
      if (!node) throw new Error(`augment of nothing: ${augment.argument}`);
      const count = node.children.length;
      this.grow(augment, text, module, node, [...scope, statement, augment]);
      bring(augment, text, node.children.slice(count));
    }
    bring(statement, text, brought);
  }

  /** Puts in the augments of the modules; one may add the node that another augments. */
  augment(root: SchemaNode, implemented: readonly string[]): void {
    let waiting = implemented.flatMap((name) =>
      this.partsOf(name).flatMap((text) => all(text.statement, 'augment').map((augment) => ({ augment, text, name }))),
    );
    while (waiting.length > 0) {
      const left = waiting.filter(({ augment, text, name }) => {
        const node = this.find(root, augment.argument, text, name);
        if (!node) return true;
        const count = node.children.length;
        this.grow(augment, text, name, node, [text.statement, augment]);
        bring(augment, text, node.children.slice(count));
        return false;
      });
      if (left.length === waiting.length) throw new Error(`augment of nothing: ${left[0]!.augment.argument}`);
      waiting = left;
    }
  }

  /** The node at a schema path, choices and cases named in it. */
  private find(from: SchemaNode, path: string, text: YangText, module: string): SchemaNode | null {
    let node: SchemaNode | null = from;
    for (const step of path.split('/').filter((name) => name !== '')) {
      const [prefix, name] = step.includes(':') ? step.split(':') : [null, step];
      const owner = prefix === null ? module : text.prefixes.get(prefix!)!;
      const named: SchemaNode[] = node.children.filter((child) => child.name === name);
      node = named.find((child) => child.module === owner) ?? named[0] ?? null;
      if (!node) return null;
    }
    return node;
  }

  private typeOf(
    type: Statement,
    text: YangText,
    scope: readonly Statement[],
  ): { leafrefs: Leafref[]; types: string[] } {
    if (type.argument === 'leafref') return { leafrefs: [{ path: argumentOf(type, 'path')!, text }], types: [] };
    if (type.argument === 'union') {
      const members = all(type, 'type').map((member) => this.typeOf(member, text, scope));
      return { leafrefs: members.flatMap((m) => m.leafrefs), types: members.flatMap((m) => m.types) };
    }
    if (builtIn.has(type.argument)) return { leafrefs: [], types: [] };
    const found = this.lookUp('typedef', type.argument, text, scope);
    const inner = this.typeOf(one(found.statement, 'type')!, found.text, [...found.scope, found.statement]);
    return {
      leafrefs: inner.leafrefs,
      types: [`${found.text.module}:${found.statement.argument}`, ...inner.types],
    };
  }

  lookUp(kind: string, name: string, text: YangText, scope: readonly Statement[]) {
    const [prefix, bare] = name.includes(':') ? (name.split(':') as [string, string]) : [null, name];
    const module = prefix === null ? text.module : text.prefixes.get(prefix)!;
    if (module === text.module) {
      for (let depth = scope.length - 1; depth >= 0; depth--) {
        const statement = all(scope[depth]!, kind).find(({ argument }) => argument === bare);
        if (statement) return { statement, text, scope: scope.slice(0, depth + 1) };
      }
    }
    for (const part of this.partsOf(module)) {
      const statement = all(part.statement, kind).find(({ argument }) => argument === bare);
      if (statement) return { statement, text: part, scope: [part.statement] };
    }
    throw new Error(`no ${kind} ${name}`);
  }
}

export function* nodesOf(node: SchemaNode): Generator<SchemaNode> {
  for (const child of node.children) {
    yield child;
    yield* nodesOf(child);
  }
}

/** Steps that no document has an element for. */
const unseen = ['choice', 'case', 'input', 'output'];

/** `/module:top/inner/other-module:leaf`: a module where it changes (RFC 7951, 6.11), as instance documents have it. */
export function pathOf(node: SchemaNode): string {
  let path = '';
  const chain: SchemaNode[] = [];
  for (let at: SchemaNode | null = node; at?.parent; at = at.parent) chain.push(at);
  let module = '';
  for (const at of chain.reverse()) {
    if (unseen.includes(at.keyword)) continue;
    path += at.module === module ? `/${at.name}` : `/${at.module}:${at.name}`;
    module = at.module;
  }
  return path;
}

export interface Target {
  readonly node: SchemaNode;
  readonly predicates: readonly { readonly list: SchemaNode; readonly key: string; readonly equals: string }[];
  /** For a path that climbs, the node that it climbs to: source and target share its instance. */
  readonly common: SchemaNode | null;
}

/** What a leafref's path names (RFC 7950, 9.9.2). */
export function targetOf(root: SchemaNode, leaf: SchemaNode, ref: Leafref): Target {
  const steps = ref.path
    .replace(/\s+/g, ' ')
    .split('/')
    .map((step) => step.trim());
  // A slash inside a predicate belongs to it.
  const whole: string[] = [];
  for (const step of steps) {
    const open = whole.at(-1) ?? '';
    if (open.split('[').length > open.split(']').length) whole[whole.length - 1] = `${open}/${step}`;
    else whole.push(step);
  }
  let node = leaf;
  let common: SchemaNode | null = null;
  const absolute = whole[0] === '';
  if (absolute) node = root;
  const predicates: { list: SchemaNode; key: string; equals: string }[] = [];
  for (const step of absolute ? whole.slice(1) : whole) {
    if (step === '..') {
      do node = node.parent!;
      while (['choice', 'case'].includes(node.keyword));
      common = node;
      continue;
    }
    const [, prefix, name, rest] = /^(?:([\w.-]+):)?([\w.-]+)\s*(.*)$/.exec(step)!;
    const module = prefix ? ref.text.prefixes.get(prefix)! : node === root ? leaf.module : null;
    node = childOf(node, name!, module)!;
    for (const [, key, equals] of rest!.matchAll(/\[\s*(?:[\w.-]+:)?([\w.-]+)\s*=\s*current\(\)\/([^\]]+?)\s*\]/g)) {
      predicates.push({ list: node, key: key!, equals: equals!.replace(/[\w.-]+:/g, '') });
    }
  }
  return { node, predicates, common };
}

function childOf(node: SchemaNode, name: string, module: string | null): SchemaNode | null {
  for (const child of node.children) {
    if (['choice', 'case'].includes(child.keyword)) {
      const inside = childOf(child, name, module);
      if (inside) return inside;
    } else if (child.name === name && (module === null || child.module === module)) return child;
  }
  return null;
}
