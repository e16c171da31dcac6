import { append } from '../lists.ts';
import { attributeValue, type Site, TEXT, textOf } from '../xml/site.ts';
import {
  attribute,
  attributesOf,
  elementsOf,
  firstElement,
  isElement,
  Kind,
  nextSibling,
  type Tree,
} from '../xml/tree.ts';
import { isDeclaration, type Matcher } from './match.ts';
import type { Kin, Standing } from './standing.ts';
import { indentOf } from './style.ts';

/**
 * How what is taken meets what is there: `replace` makes the receiver hold the same, `merge` takes what differs or is new,
 * `add` only what is new. `holder` is an element around what is taken: it is there for that alone.
 */
export type Mode = 'holder' | 'replace' | 'merge' | 'add';

export type Answer = 'keep' | 'replace' | 'new-key';

/** Something that both have, with other content. */
export interface Meeting {
  readonly from: number;
  readonly to: number;
  readonly mode: Mode;
}

export interface Insert {
  readonly place: 'after' | 'first';
  readonly at: number;
  /** Nodes of the first document in order: elements, and comments directly above them. */
  readonly nodes: readonly number[];
  /** How the place was found; null inside of what is to hold the same in the end. */
  readonly standing: Standing | null;
}

/** What the receiver is told to do; nodes of `Swap.from` and `Insert.nodes` are the donor's. */
export interface Orders {
  readonly values: { readonly site: Site; readonly value: string; readonly from: number }[];
  readonly removed: number[];
  readonly swaps: { readonly from: number; readonly to: number }[];
  readonly inserts: Insert[];
}

export interface Merging {
  readonly from: Tree;
  readonly to: Tree;
  readonly matcher: Matcher;
  readonly modeOf: (node: number) => Mode;
  /** What the ledger has an entry for: a record, or a single setting. */
  readonly isEntry: (node: number) => boolean;
  readonly isRecord: (node: number) => boolean;
  /** Nodes of the receiver that stay as they are. */
  readonly isProtected: (node: number) => boolean;
  /** Whether one of them lies in a node of the receiver. */
  readonly holdsProtected: (node: number) => boolean;
  /** Whether one that is a record or a setting of its own does, and so stays whatever becomes of what is around it. */
  readonly holdsFixture: (node: number) => boolean;
  readonly isProtectedAttribute: (attr: number) => boolean;
  readonly answer: (meeting: Meeting) => Answer;
  /** Where a new element goes inside one of the receiver's. */
  readonly standingOf: (node: number, inside: number, kin: Kin) => Standing;
}

/** Brings what a donor's tree holds into a receiver's, as orders. The walk changes nothing itself. */
export class Merge {
  readonly orders: Orders = { values: [], removed: [], swaps: [], inserts: [] };
  /** Both have it, and it differs. */
  readonly meetings: (Meeting & { readonly answer: Answer })[] = [];
  /** Of the donor: what does not go over, since the receiver's own stays. */
  readonly kept: number[] = [];
  /** Of the donor: elements around what goes over, of which the receiver has its own. */
  readonly holders: number[] = [];
  /** Of the receiver, with its parent: fields that come to a record that was there. */
  readonly touched: number[] = [];

  constructor(private readonly source: Merging) {}

  get trees(): { readonly from: Tree; readonly to: Tree } {
    return this.source;
  }

  run(): this {
    const { from, to, modeOf } = this.source;
    this.visit(from.root, to.root, modeOf(from.root), false);
    return this;
  }

  /** @param exact whether the receiver's element is to hold the same in the end. */
  private visit(from: number, to: number, mode: Mode, exact: boolean): void {
    const { source, orders } = this;
    if (source.isProtected(to)) {
      this.kept.push(from);
      return;
    }
    if (mode === 'holder' && source.isEntry(from)) this.holders.push(from);
    const write = exact || mode === 'merge';
    if (write && !this.attributes(from, to) && exact) {
      this.swap(from, to);
      return;
    }
    const leaf = firstElement(source.from, from) === -1;
    const otherLeaf = firstElement(source.to, to) === -1;
    if (leaf && otherLeaf) {
      const value = textOf(source.from, from);
      if (write && value.trim() !== textOf(source.to, to).trim())
        orders.values.push({ site: { node: to, attr: TEXT }, value, from });
      return;
    }
    const text = leaf ? textOf(source.from, from) : otherLeaf ? textOf(source.to, to) : '';
    if (text.trim() !== '') {
      if (exact) this.swap(from, to);
      else if (write) this.kept.push(from);
      return;
    }
    this.inside(from, to, exact);
  }

  private inside(from: number, to: number, exact: boolean): void {
    const { source } = this;
    const { pairs, rest, inOrder } = source.matcher.pair(from, to, exact);
    if (exact && !inOrder && !source.holdsProtected(to)) {
      this.swap(from, to);
      return;
    }
    const gone = new Set<number>();
    if (exact) for (const other of rest) if (this.remove(other)) gone.add(other);
    this.insertAll(from, to, pairs, gone, exact);
    for (const pair of pairs) {
      if (pair.to === -1) continue;
      const own = exact ? 'replace' : source.modeOf(pair.from);
      if (exact || own === 'holder') this.visit(pair.from, pair.to, own, exact);
      else if (own === 'replace') this.visit(pair.from, pair.to, own, true);
      else if (this.isWhole(pair.from)) this.meet(pair.from, pair.to, own);
      else this.visit(pair.from, pair.to, own, false);
    }
  }

  /** A record, or a setting with nothing inside: taken or left as one. */
  private isWhole(node: number): boolean {
    const { source } = this;
    return source.isRecord(node) || (source.isEntry(node) && firstElement(source.from, node) === -1);
  }

  /** Both have it: nothing to do where the receiver's would not change, else as it was answered. */
  private meet(from: number, to: number, mode: Mode): void {
    const { source, orders } = this;
    if (source.isProtected(to)) {
      this.kept.push(from);
      return;
    }
    const before = this.lengths();
    this.visit(from, to, 'replace', true);
    if (this.lengths().every((length, at) => at >= 4 || length === before[at])) return;
    const answer = source.answer({ from, to, mode });
    this.meetings.push({ from, to, mode, answer });
    if (answer === 'replace') return;
    const lists = [orders.values, orders.removed, orders.swaps, orders.inserts, this.kept, this.holders, this.touched];
    for (const [at, list] of lists.entries()) list.length = before[at]!;
    this.kept.push(from);
  }

  private lengths(): number[] {
    const { values, removed, swaps, inserts } = this.orders;
    return [values, removed, swaps, inserts, this.kept, this.holders, this.touched].map(({ length }) => length);
  }

  /** Gives the receiver's element the same attributes; false where their names differ, so that it has to be written anew. */
  private attributes(from: number, to: number): boolean {
    const { source, orders } = this;
    const [first, end] = attributesOf(source.from, from);
    const changes: Orders['values'] = [];
    let count = 0;
    for (let attr = first; attr < end; attr++) {
      const name = source.from.names[source.from.attrName[attr]!]!;
      if (isDeclaration(name)) continue;
      count++;
      const other = attribute(source.to, to, name);
      if (other === -1) return false;
      const value = attributeValue(source.from, attr);
      if (source.isProtectedAttribute(other) || value === attributeValue(source.to, other)) continue;
      changes.push({ site: { node: to, attr: other }, value, from });
    }
    const [otherFirst, otherEnd] = attributesOf(source.to, to);
    for (let attr = otherFirst; attr < otherEnd; attr++)
      if (!isDeclaration(source.to.names[source.to.attrName[attr]!]!)) count--;
    if (count !== 0) return false;
    append(orders.values, changes);
    return true;
  }

  private swap(from: number, to: number): void {
    if (to === this.source.to.root || this.source.holdsProtected(to)) this.kept.push(from);
    else this.orders.swaps.push({ from, to });
  }

  /** Takes out what the donor does not have, but for what stays as it is; false where something of it stays. */
  private remove(node: number): boolean {
    const { source } = this;
    if (source.isProtected(node)) return false;
    if (!source.holdsFixture(node)) {
      this.orders.removed.push(node);
      return true;
    }
    for (const child of elementsOf(source.to, node)) this.remove(child);
    return false;
  }

  /**
   * New elements go to their standing. Inside of what is to hold the same in the end they come behind the last of their name,
   * else behind what stands before them on the donor's side.
   */
  private insertAll(
    from: number,
    to: number,
    pairs: readonly { readonly from: number; readonly to: number }[],
    gone: ReadonlySet<number>,
    exact: boolean,
  ): void {
    const { source, orders } = this;
    if (pairs.every((pair) => pair.to !== -1)) return;
    const { names, otherNames } = source.matcher;
    const kinOf = new Map<number, number[]>();
    let last = -1;
    for (const child of elementsOf(source.to, to)) {
      if (gone.has(child)) continue;
      const kin = kinOf.get(otherNames[child]!);
      if (kin) kin.push(child);
      else kinOf.set(otherNames[child]!, [child]);
      last = child;
    }
    const comments = commentsAbove(source.from, from);
    let before = -1;
    for (const pair of pairs) {
      const kin = kinOf.get(names[pair.from]!);
      if (pair.to !== -1) {
        before = kin?.[kin.length - 1] ?? before;
        continue;
      }
      const like = (node: number) => kinOf.get(otherNames[node]!)!;
      const standing = exact ? null : source.standingOf(pair.from, to, { alike: kin ?? [], like, last });
      const at = standing ? standing.behind : (kin?.[kin.length - 1] ?? (before === -1 ? last : before));
      const comment = comments.get(pair.from);
      const nodes = comment === undefined ? [pair.from] : [comment, pair.from];
      orders.inserts.push(
        at === -1 ? { place: 'first', at: to, nodes, standing } : { place: 'after', at, nodes, standing },
      );
      if (!source.isEntry(pair.from)) this.touched.push(to);
    }
  }
}

/** Comments on lines of their own, by the element that they stand directly above. */
function commentsAbove(tree: Tree, parent: number): Map<number, number> {
  const comments = new Map<number, number>();
  for (let node = parent + 1; node < tree.after[parent]!; node = tree.after[node]!) {
    const below = nextSibling(tree, node);
    if (tree.kind[node] !== Kind.comment || below === -1 || !isElement(tree, below)) continue;
    const between = tree.text.slice(tree.end[node]!, tree.start[below]!);
    if (indentOf(tree, node) !== null && /^[ \t]*(?:\r\n|\r|\n)[ \t]*$/.test(between)) comments.set(below, node);
  }
  return comments;
}
