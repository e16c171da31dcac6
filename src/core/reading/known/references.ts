import { lowerBound } from '../../text/lower-bound.ts';
import { TEXT, textOf } from '../../xml/site.ts';
import { firstElement, isLeaf, nameOf, nextElement, type Tree } from '../../xml/tree.ts';
import type { Dangling, Reference, ReferenceField } from '../reading.ts';
import { nearestName } from '../references/nearest.ts';
import type { KnownFormat, KnownReference } from './format.ts';
import { Networks, prefixOf } from './networks.ts';
import { climbed, type Placed } from './placed.ts';

export interface KnownReferences {
  readonly fields: readonly ReferenceField[];
  readonly references: readonly Reference[];
  readonly dangling: readonly Dangling[];
}

/** Values of one field that get the nearest name as a hint. */
const HINTS = 50;

/** Trimmed: printed examples and hand-made files put a leaf's value on lines of its own. */
const leafValue = (tree: Tree, leaf: number) => textOf(tree, leaf).trim();

/**
 * Follows the references of a format through a document.
 * @param collectionOf index of the collection that a record is in, -1 for none.
 */
export function followReferences(
  placed: Placed,
  format: KnownFormat,
  collectionOf: (record: number) => number,
): KnownReferences {
  const { tree, table } = placed;
  const lists = new Map(
    format.lists.map(({ at, keys }) => [table.number(at), keys.length === 1 ? table.number(`${at}/${keys[0]}`) : -1]),
  );
  const targets = new TargetCache(placed, lists);
  const fields: ReferenceField[] = [];
  const references: Reference[] = [];
  const dangling: Dangling[] = [];
  for (const row of format.references) {
    const sources = placed.at.get(table.number(row.at));
    if (!sources) continue;
    const found = targets.of(row);
    const except = exceptionsOf(row);
    const field = fields.length;
    const collections = new Set<number>();
    let hits = 0;
    let total = 0;
    for (const leaf of sources) {
      const raw = textOf(tree, leaf);
      const value = raw.trim();
      if (value === '' || !isLeaf(tree, leaf) || except(value) || !found.applies(leaf)) continue;
      const answer = found.ask(leaf, value);
      if (answer === 'unreadable' || (answer === null && row.elsewhere && found.none(leaf))) continue;
      total++;
      const from = raw.indexOf(value);
      const site = { node: leaf, attr: TEXT };
      if (answer === null) {
        const hint = row.by === 'name' && total - hits <= HINTS;
        const nearest = hint ? nearestName(value, found.names(leaf)) : null;
        dangling.push({ site, from, to: from + value.length, value, field, tier: row.tier, nearest });
        continue;
      }
      hits++;
      if (answer === 'inside') continue;
      references.push({ site, from, value, to: answer, field, tier: row.tier });
      const collection = collectionOf(answer);
      if (collection !== -1) collections.add(collection);
    }
    if (total === 0) continue;
    fields.push({
      name: row.at
        .split('/')
        .slice(-2)
        .join('/')
        .replace(/[\w.-]+:/g, ''),
      template: templateOf(tree, sources[0]!),
      targets: [...collections],
      tier: row.tier,
      hits,
      total,
      evidence: [row.source, `${hits} of ${total} values found`],
    });
  }
  return { fields, references, dangling };
}

/** Names from the root down as written, without indices. */
export function templateOf(tree: Tree, node: number): string {
  const names: string[] = [];
  for (let at = node; at !== -1; at = tree.parent[at]!) names.push(nameOf(tree, at));
  return `/${names.reverse().join('/')}`;
}

function exceptionsOf({ by, except = [] }: KnownReference): (value: string) => boolean {
  if (by !== 'address') return (value) => except.includes(value);
  const networks = new Networks<true>();
  for (const text of except) {
    const prefix = prefixOf(text);
    if (prefix) networks.add(prefix, true);
  }
  return (value) => {
    const prefix = except.length > 0 ? prefixOf(value) : null;
    return prefix !== null && networks.around(prefix) !== null;
  };
}

interface Targets {
  /** False for a source that the reference does not speak of. */
  applies(leaf: number): boolean;
  /** The record; `inside` where the value is an address range around a target; null where it names nothing. */
  ask(leaf: number, value: string): number | 'inside' | 'unreadable' | null;
  /** True where the source's data tree holds no target at all. */
  none(leaf: number): boolean;
  /** Names that the source could have, for the nearest one. */
  names(leaf: number): Iterable<string>;
}

/** Where targets are looked up: all that one source could name have one context. */
interface Group {
  readonly names: Map<string, number>;
  readonly networks: Networks<number>;
}

class TargetCache {
  private readonly groups = new Map<string, { byContext: Map<string, Group>; scopes: Set<number> }>();

  constructor(
    private readonly placed: Placed,
    /** Each list's path and that of its key, -1 where it has not just one. */
    private readonly lists: ReadonlyMap<number, number>,
  ) {}

  of(row: KnownReference): Targets {
    const { placed } = this;
    const { scope, table } = placed;
    const { byContext, scopes } = this.group(row);
    const within = row.within === undefined ? -1 : table.number(row.within);
    const equals = (row.where ?? []).map((condition) => ({
      climb: condition.equals.split('/').filter((step) => step === '..').length,
      path: table.number(climbed(row.at, condition.equals)),
    }));
    const contextOf = (leaf: number) =>
      contextId(
        scope[leaf]!,
        within === -1 ? -1 : this.ancestor(leaf, within),
        equals.map(({ climb, path }) => this.climbedValue(leaf, climb, path)),
      );
    const named = row.onlyNamedAt === undefined ? null : this.namedAt(row.onlyNamedAt);
    return {
      applies: (leaf) => named === null || named.has(`${scope[leaf]} ${this.keyAround(leaf)}`),
      ask: (leaf, value) => {
        const group = byContext.get(contextOf(leaf));
        if (row.by !== 'address') {
          return group?.names.get(row.by === 'host' ? value.toLowerCase() : value) ?? null;
        }
        const prefix = prefixOf(value);
        if (!prefix) return 'unreadable';
        if (!group) return null;
        return group.networks.around(prefix) ?? (group.networks.hasInside(prefix) ? 'inside' : null);
      },
      none: (leaf) => !scopes.has(scope[leaf]!),
      names: (leaf) => byContext.get(contextOf(leaf))?.names.keys() ?? [],
    };
  }

  /** All targets of a reference by context; many references share theirs. */
  private group(row: KnownReference) {
    const { by, to, or = [], within, where = [], length = [] } = row;
    const id = JSON.stringify([by, to, or, within, where.map(({ list, key }) => [list, key]), length]);
    const known = this.groups.get(id);
    if (known) return known;
    const { table, tree, scope, at } = this.placed;
    const byContext = new Map<string, Group>();
    const scopes = new Set<number>();
    const withinPath = within === undefined ? -1 : table.number(within);
    const conditions = where.map(({ list, key }) => ({
      list: table.number(list),
      key: table.number(`${list}/${key}`),
    }));
    const sizes = length.flatMap((leaf) => [to, ...or].map((path) => table.number(climbed(path, `../${leaf}`))));
    for (const path of [to, ...or]) {
      for (const leaf of at.get(table.number(path)) ?? []) {
        const values = conditions.map(({ list, key }) => this.childValue(this.ancestor(leaf, list), key));
        const around = withinPath === -1 ? -1 : this.ancestor(leaf, withinPath);
        const context = contextId(scope[leaf]!, around, values);
        let group = byContext.get(context);
        if (!group) {
          group = { names: new Map(), networks: new Networks() };
          byContext.set(context, group);
        }
        scopes.add(scope[leaf]!);
        this.put(group, row, leaf, leafValue(tree, leaf), sizes);
      }
    }
    const made = { byContext, scopes };
    this.groups.set(id, made);
    return made;
  }

  private put(group: Group, { by }: KnownReference, leaf: number, value: string, sizes: readonly number[]): void {
    const record = this.recordOf(leaf);
    if (by !== 'address') {
      const name = by === 'host' ? value.toLowerCase() : value;
      if (!group.names.has(name)) group.names.set(name, record);
      return;
    }
    const { tree, path } = this.placed;
    let text = value;
    for (let child = firstElement(tree, tree.parent[leaf]!); child !== -1; child = nextElement(tree, child)) {
      if (sizes.includes(path[child]!)) text = `${value}/${leafValue(tree, child)}`;
    }
    const prefix = prefixOf(text);
    if (prefix) group.networks.add(prefix, record);
  }

  /** The innermost list entry around a leaf; the leaf itself where there is none. */
  private recordOf(leaf: number): number {
    const { tree, path } = this.placed;
    for (let at = tree.parent[leaf]!; at !== -1; at = tree.parent[at]!) if (this.lists.has(path[at]!)) return at;
    return leaf;
  }

  private keyAround(leaf: number): string {
    const record = this.recordOf(leaf);
    return this.childValue(record, this.lists.get(this.placed.path[record]!) ?? -1);
  }

  private namedAt(path: string): Set<string> {
    const { tree, table, at, scope } = this.placed;
    return new Set((at.get(table.number(path)) ?? []).map((leaf) => `${scope[leaf]} ${leafValue(tree, leaf)}`));
  }

  private ancestor(node: number, wanted: number): number {
    const { tree, path } = this.placed;
    let at = node;
    while (at !== -1 && path[at] !== wanted) at = tree.parent[at]!;
    return at;
  }

  private childValue(node: number, wanted: number): string {
    const { tree, path } = this.placed;
    if (node === -1) return '';
    for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
      if (path[child] === wanted) return leafValue(tree, child);
    }
    return '';
  }

  /** The value at a path below the ancestor that is `climb` steps up. */
  private climbedValue(leaf: number, climb: number, wanted: number): string {
    const { tree, at } = this.placed;
    let around = leaf;
    for (let step = 0; step < climb && around !== -1; step++) around = tree.parent[around]!;
    const found = around === -1 ? -1 : firstIn(at.get(wanted) ?? [], around, tree.after[around]!);
    return found === -1 ? '' : leafValue(tree, found);
  }
}

const contextId = (scope: number, within: number, values: readonly string[]) =>
  values.length === 0 ? `${scope} ${within}` : JSON.stringify([scope, within, ...values]);

/** The first of some ascending numbers in [from, to), -1 for none. */
function firstIn(numbers: readonly number[], from: number, to: number): number {
  const at = lowerBound(numbers, from);
  return at < numbers.length && numbers[at]! < to ? numbers[at]! : -1;
}
