import { namespacesOf } from '../../xml/namespaces.ts';
import { isElement, type Tree } from '../../xml/tree.ts';
import type { KnownFormat } from './format.ts';

/** The format's paths as a tree: a number for each path, 0 for the top. */
export class PathTable {
  private readonly steps: Map<string, number>[] = [new Map()];
  private readonly moduleOf: string[] = [''];
  readonly numbers = new Map<string, number>([['', 0]]);

  constructor(format: KnownFormat) {
    const add = (path: string) => this.add(path);
    for (const { at } of format.lists) add(at);
    for (const { at, keys, label } of format.lists) {
      for (const leaf of [...keys, ...(label ? [label] : [])]) add(`${at}/${leaf}`);
    }
    for (const { at, to, or = [], within, where = [], onlyNamedAt, length = [] } of format.references) {
      for (const path of [at, to, ...or, ...(within ? [within] : []), ...(onlyNamedAt ? [onlyNamedAt] : [])]) add(path);
      for (const target of [to, ...or])
        for (const leaf of length) add(`${target.slice(0, target.lastIndexOf('/'))}/${leaf}`);
      for (const { list, key, equals } of where) {
        add(`${list}/${key}`);
        add(climbed(at, equals));
      }
    }
    for (const { at } of [...format.secrets, ...format.certificates]) add(at);
    for (const { list, name, label, type, parent, tag, addresses } of format.devices) {
      for (const leaf of [name, label, type, parent, tag, ...addresses]) add(`${list}/${leaf}`);
    }
    if (format.host) add(format.host);
  }

  private add(path: string): number {
    let at = 0;
    let walked = '';
    for (const step of path.split('/').slice(1)) {
      const cut = step.indexOf(':');
      const module = cut === -1 ? this.moduleOf[at]! : step.slice(0, cut);
      walked += `/${step}`;
      const key = `${module}:${step.slice(cut + 1)}`;
      let next = this.steps[at]!.get(key);
      if (next === undefined) {
        next = this.steps.push(new Map()) - 1;
        this.moduleOf.push(module);
        this.steps[at]!.set(key, next);
      }
      this.numbers.set(walked, next);
      at = next;
    }
    return at;
  }

  /** The path one element further; -1 where the format says nothing about it. */
  step(from: number, module: string, local: string): number {
    return this.steps[from]!.get(`${module}:${local}`) ?? -1;
  }

  /** The number of a path of the format; -1 for one that nothing in it speaks of. */
  number(path: string): number {
    return this.numbers.get(path) ?? -1;
  }
}

/** `../a/b` from a leaf's path. */
export function climbed(from: string, relative: string): string {
  let path = from;
  for (const step of relative.split('/'))
    path = step === '..' ? path.slice(0, path.lastIndexOf('/')) : `${path}/${step}`;
  return path;
}

/** Where the elements of one document stand in a format. */
export interface Placed {
  readonly tree: Tree;
  readonly table: PathTable;
  /** For each node the number of its path; 0 for wrappers, -1 for what the format says nothing about. */
  readonly path: Int32Array;
  /** 1 for elements whose namespace is the format's: the inference leaves them alone. */
  readonly covered: Uint8Array;
  /** For each node the number of the data tree that it is in; references stay inside one. */
  readonly scope: Int32Array;
  /** Nodes at each path, in document order. */
  readonly at: ReadonlyMap<number, readonly number[]>;
}

const tables = new WeakMap<KnownFormat, PathTable>();

function tableOf(format: KnownFormat): PathTable {
  let table = tables.get(format);
  if (!table) {
    table = new PathTable(format);
    tables.set(format, table);
  }
  return table;
}

/** Finds each element's path by namespace and local name; null where the document has nothing of the format. */
export function place(tree: Tree, format: KnownFormat): Placed | null {
  const table = tableOf(format);
  const walked = walk(tree, format, (from, module, local) => table.step(from, module, local));
  if (!walked) return null;
  const { path, covered, scope } = walked;
  const at = new Map<number, number[]>();
  for (let node = 0; node < tree.size; node++) {
    const here = path[node]!;
    if (here <= 0) continue;
    const nodes = at.get(here);
    if (nodes) nodes.push(node);
    else at.set(here, [node]);
  }
  return { tree, table, path, covered, scope, at };
}

interface Walked extends Pick<Placed, 'path' | 'covered' | 'scope'> {
  /** The outermost elements that have a number, in document order. */
  readonly tops: readonly number[];
  /** Elements of the format's namespaces without a number inside one that has one. */
  readonly strange: readonly number[];
}

/**
 * Gives each element a number by its parent's, its module and its local name: 0 for what wraps, -1 where there is none.
 * Null where the document has nothing of the format.
 */
export function walk(
  tree: Tree,
  format: KnownFormat,
  step: (from: number, module: string, local: string) => number,
): Walked | null {
  const spaces = namespacesOf(tree);
  const modules = new Map(format.modules.map(({ namespace, name }) => [namespace, name]));
  const moduleOf = spaces.uris.map((uri) => modules.get(uri) ?? null);
  const wraps = spaces.uris.map((uri) => {
    const names = format.envelope.filter(({ namespace }) => namespace === uri).flatMap(({ elements }) => elements);
    return names.length > 0 ? new Set(names) : null;
  });
  if (moduleOf.every((module) => module === null)) return null;
  const path = new Int32Array(tree.size).fill(-1);
  const covered = new Uint8Array(tree.size);
  const tops: number[] = [];
  const strange: number[] = [];
  /** Steps taken before, by path, namespace and name. */
  const steps = new Map<number, number>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const above = tree.parent[node]!;
    const from = above === -1 ? 0 : path[above]!;
    const space = spaces.of[node]!;
    const module = space === -1 ? null : moduleOf[space]!;
    const local = spaces.local[tree.name[node]!]!;
    if (module === null) {
      const envelope = space !== -1 && wraps[space]?.has(local);
      if (envelope) covered[node] = 1;
      // Whatever stands around the first known element is a wrapper, known or not.
      if (from === 0) path[node] = 0;
      continue;
    }
    covered[node] = 1;
    if (from === -1) continue;
    const way = (from * spaces.uris.length + space) * tree.names.length + tree.name[node]!;
    let here = steps.get(way);
    if (here === undefined) {
      here = step(from, module, local);
      steps.set(way, here);
    }
    path[node] = here;
    if (here === -1) {
      if (from > 0) strange.push(node);
      continue;
    }
    if (from === 0) tops.push(node);
  }
  return { path, covered, scope: scopesOf(tree, path, tops), tops, strange };
}

/**
 * A document may hold more than one data tree (two datastores, two devices). It does where one top element comes
 * under two parents; then each parent is a tree of its own.
 */
function scopesOf(tree: Tree, path: Int32Array, tops: readonly number[]): Int32Array {
  const scope = new Int32Array(tree.size);
  const parentOf = new Map<number, number>();
  const several = tops.some((node) => {
    const first = parentOf.get(path[node]!);
    if (first === undefined) parentOf.set(path[node]!, tree.parent[node]!);
    return first !== undefined && first !== tree.parent[node]!;
  });
  if (!several) return scope;
  for (const top of tops) scope.fill(tree.parent[top]!, top, tree.after[top]!);
  return scope;
}
