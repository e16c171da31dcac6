import type { Reading, Tier } from '../reading/reading.ts';
import { lowerBound } from '../text/lower-bound.ts';
import type { Site } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import { endsOf, entriesOf } from './entries.ts';
import { INSIDE, kinds, type NeedKind, needEdges } from './need-edges.ts';
import { indicesOf, sorted } from './sorted.ts';

/** One need: the entry `from` cannot do without the entry `to`; both are nodes of the tree. */
export interface Need {
  readonly from: number;
  readonly to: number;
  readonly kind: NeedKind;
  /** Where the value is written that makes the need; null for `inside`. */
  readonly site: Site | null;
  /** For people: the field, `rule/source`; empty where the need comes from no field. */
  readonly field: string;
  /** What is written there; empty for keys and certificates, whose values are long or secret. */
  readonly value: string;
  readonly tier: Tier;
}

/** An entry that is needed in the end, with the needs that lead to it, the first one first. */
export interface Chain {
  readonly node: number;
  readonly why: readonly Need[];
}

/**
 * What needs what, between the entries of the ledger (compile/units.ts). What an entry holds itself is told apart from the
 * entries inside it: a nested record needs what the record around it says of itself, and not its other nested records;
 * who names a record needs it whole. Built in one pass over tree and reading; edges lie in flat arrays by their start (CSR).
 */
export class Needs {
  /** Entries as nodes, in document order. */
  readonly nodes: Int32Array;
  /** For each node of the tree the index of the entry that it belongs to, -1 for structure. */
  readonly of: Int32Array;
  /** For each entry one past the last entry inside it. */
  readonly ends: Int32Array;
  private readonly first: Int32Array;
  private readonly to: Int32Array;
  private readonly from: Int32Array;
  private readonly kind: Uint8Array;
  /** Index of the reference, mention or certificate that made the edge, -1 for none. */
  private readonly source: Int32Array;
  private readonly backFirst: Int32Array;
  /** Edges by their end. */
  private readonly back: Int32Array;

  constructor(
    readonly tree: Tree,
    readonly reading: Reading,
  ) {
    const { nodes, of } = entriesOf(tree, reading);
    this.nodes = nodes;
    this.of = of;
    this.ends = endsOf(tree, nodes);
    const edges = needEdges(tree, reading, nodes, of);
    const { first, order } = sorted(edges.from, nodes.length);
    this.first = first;
    this.from = Int32Array.from(order, (edge) => edges.from[edge]!);
    this.to = Int32Array.from(order, (edge) => edges.to[edge]!);
    this.kind = Uint8Array.from(order, (edge) => edges.kind[edge]!);
    this.source = Int32Array.from(order, (edge) => edges.source[edge]!);
    const backward = sorted(this.to, nodes.length);
    this.backFirst = backward.first;
    this.back = backward.order;
  }

  get edges(): number {
    return this.to.length;
  }

  /** The entries that a node stands for: those inside it or, inside an entry, that one too. Indices, ascending. */
  entriesAt(node: number): number[] {
    const own = this.of[node]!;
    const [from, to] = this.range(node);
    const entries: number[] = own !== -1 && own < from ? [own] : [];
    for (let at = from; at < to; at++) entries.push(at);
    return entries;
  }

  /** What the entries at a node need outside of it. */
  needs(node: number): Need[] {
    return this.leaving(
      node,
      (entry) => this.range2(this.first, entry),
      this.to,
      (edge) => edge,
    );
  }

  /** What outside of a node needs an entry in it. */
  neededBy(node: number): Need[] {
    return this.leaving(
      node,
      (entry) => this.range2(this.backFirst, entry),
      this.from,
      (at) => this.back[at]!,
    );
  }

  /** Everything that a node needs in the end, each entry once, nearest first. */
  allNeeds(node: number): Chain[] {
    const reached = new Reached(this.nodes.length);
    for (const entry of this.entriesAt(node)) reached.add(entry, -1);
    return this.chains(reached, (entry, reach) => {
      for (let edge = this.first[entry]!; edge < this.first[entry + 1]!; edge++) this.follow(edge, reach);
    });
  }

  /** Everything that would miss something, at once or in the end, if a node were not there. */
  allNeededBy(node: number): Chain[] {
    const reached = new Reached(this.nodes.length);
    for (const entry of this.entriesAt(node)) reached.add(entry, -1);
    return this.chains(reached, (entry, reach) => {
      for (let at = this.backFirst[entry]!; at < this.backFirst[entry + 1]!; at++) {
        reach(this.from[this.back[at]!]!, this.back[at]!);
      }
      // Who names a record needs all of it, so a loss inside it is a loss for them.
      for (let around = this.around(entry); around !== -1; around = this.around(around)) {
        for (let at = this.backFirst[around]!; at < this.backFirst[around + 1]!; at++) {
          const edge = this.back[at]!;
          if (this.kind[edge] !== INSIDE) reach(this.from[edge]!, edge);
        }
      }
    });
  }

  /**
   * The smallest set that holds the given entries and whatever its members need. Idempotent and monotone.
   * @param entries indices into `nodes`; `entriesAt` makes them of a section or record.
   * @returns a flag for each entry.
   */
  closure(entries: Iterable<number>): Uint8Array {
    const held = new Uint8Array(this.nodes.length);
    const queue: number[] = [];
    const add = (entry: number) => {
      if (held[entry]) return;
      held[entry] = 1;
      queue.push(entry);
    };
    const whole = new Uint8Array(this.nodes.length);
    for (const entry of entries) add(entry);
    for (let at = 0; at < queue.length; at++) {
      const entry = queue[at]!;
      for (let edge = this.first[entry]!; edge < this.first[entry + 1]!; edge++) {
        const to = this.to[edge]!;
        add(to);
        if (this.kind[edge] === INSIDE || whole[to]) continue;
        for (let inner = to; inner < this.ends[to]!; inner++) {
          whole[inner] = 1;
          add(inner);
        }
      }
    }
    return held;
  }

  /**
   * Nodes to take along so that the given entries have what they need: records and settings that are needed whole, none
   * inside another. What is needed only as the shell of something inside it comes with that.
   * @param own flags of the entries that are there already.
   */
  toTakeAlong(own: Uint8Array): number[] {
    const { nodes, ends } = this;
    const held = this.closure(indicesOf(own));
    const lacking = new Int32Array(nodes.length + 1);
    for (let entry = 0; entry < nodes.length; entry++) lacking[entry + 1] = lacking[entry]! + (held[entry] ? 0 : 1);
    const along: number[] = [];
    for (let entry = 0; entry < nodes.length; ) {
      const end = ends[entry]!;
      if (held[entry] && !own[entry] && lacking[end] === lacking[entry]) {
        along.push(nodes[entry]!);
        entry = end;
      } else entry++;
    }
    return along;
  }

  /** What entries outside of a set need of the entries in it. Flags as `closure` gives. */
  losses(set: Uint8Array, found: (need: Need) => void): void {
    for (let edge = 0; edge < this.to.length; edge++) {
      if (set[this.to[edge]!] && !set[this.from[edge]!]) found(this.needOf(edge));
    }
  }

  /** Calls back for each need of a held entry whose target is not held. Flags as `closure` gives. */
  unmet(held: Uint8Array, found: (need: Need) => void): void {
    for (let edge = 0; edge < this.to.length; edge++) {
      if (held[this.from[edge]!] && !held[this.to[edge]!]) found(this.needOf(edge));
    }
  }

  private needOf(edge: number): Need {
    const kind = kinds[this.kind[edge]!]!;
    const from = this.nodes[this.from[edge]!]!;
    const to = this.nodes[this.to[edge]!]!;
    const source = this.source[edge]!;
    const plain = { from, to, kind, site: null, field: '', value: '', tier: 'certain' as const };
    switch (kind) {
      case 'names': {
        const { site, value, field, tier } = this.reading.references[source]!;
        return { ...plain, site, value, tier, field: this.reading.fields[field]?.name ?? '' };
      }
      case 'device': {
        const { site, value } = this.reading.mentions[source]!;
        return { ...plain, site, value, tier: 'likely' };
      }
      case 'private-key':
      case 'authority':
        return { ...plain, site: this.reading.certificates[source]!.site };
      case 'inside':
        return plain;
      default:
        return kind satisfies never;
    }
  }

  /** The entry around an entry, -1 for none. */
  private around(entry: number): number {
    const parent = this.tree.parent[this.nodes[entry]!]!;
    return parent === -1 ? -1 : this.of[parent]!;
  }

  /** Entries whose node lies in the subtree of `node`. */
  private range(node: number): [from: number, to: number] {
    return [lowerBound(this.nodes, node), lowerBound(this.nodes, this.tree.after[node]!)];
  }

  private range2(first: Int32Array, entry: number): [from: number, to: number] {
    return [first[entry]!, first[entry + 1]!];
  }

  private leaving(
    node: number,
    rangeOf: (entry: number) => [from: number, to: number],
    ends: Int32Array,
    edgeAt: (at: number) => number,
  ): Need[] {
    const own = new Set(this.entriesAt(node));
    const needs: Need[] = [];
    for (const entry of own) {
      const [from, to] = rangeOf(entry);
      for (let at = from; at < to; at++) if (!own.has(ends[edgeAt(at)]!)) needs.push(this.needOf(edgeAt(at)));
    }
    return needs;
  }

  private follow(edge: number, reach: (entry: number, edge: number) => void): void {
    const to = this.to[edge]!;
    reach(to, edge);
    if (this.kind[edge] !== INSIDE) for (let inner = to + 1; inner < this.ends[to]!; inner++) reach(inner, edge);
  }

  private chains(
    reached: Reached,
    step: (entry: number, reach: (entry: number, edge: number) => void) => void,
  ): Chain[] {
    const start = reached.queue.length;
    const came = new Map<number, number>();
    for (let at = 0; at < reached.queue.length; at++) {
      const entry = reached.queue[at]!;
      step(entry, (next, edge) => {
        if (reached.add(next, edge)) came.set(next, entry);
      });
    }
    return reached.queue.slice(start).map((entry) => {
      const why: Need[] = [];
      for (let at = entry; came.has(at); at = came.get(at)!) why.unshift(this.needOf(reached.by[at]!));
      return { node: this.nodes[entry]!, why };
    });
  }
}

class Reached {
  readonly queue: number[] = [];
  readonly by: Int32Array;
  private readonly seen: Uint8Array;

  constructor(size: number) {
    this.by = new Int32Array(size).fill(-1);
    this.seen = new Uint8Array(size);
  }

  add(entry: number, edge: number): boolean {
    if (this.seen[entry]) return false;
    this.seen[entry] = 1;
    this.by[entry] = edge;
    this.queue.push(entry);
    return true;
  }
}

const cache = new WeakMap<Reading, Needs>();

/** The needs of one reading, made once for it. */
export function needsOf(tree: Tree, reading: Reading): Needs {
  const known = cache.get(reading);
  if (known) return known;
  const made = new Needs(tree, reading);
  cache.set(reading, made);
  return made;
}
