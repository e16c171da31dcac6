import type { StandingReason } from '../views.ts';
import { elementsOf, type Tree } from '../xml/tree.ts';
import type { Matcher } from './match.ts';

/** Where something new goes: behind an element of the receiver, -1 for the start of what is around it. */
export interface Standing {
  readonly behind: number;
  readonly reason: StandingReason;
  /** The element of the receiver that the reason speaks of; -1 for none. */
  readonly beside: number;
}

export interface StandingSource {
  readonly donor: Tree;
  readonly receiver: Tree;
  /** Finds elements of the donor, as it is, in the receiver. */
  readonly matcher: Matcher;
  /** Whether the name of a donor's element is its own and not that of its kind. */
  readonly isNamedAlone: (node: number) => boolean;
  /** Whether a rule of the receiver fits all that is left, so that what stands behind it never applies. */
  readonly isClosing: (node: number) => boolean;
  /** By the donor's node: the receiver's element that it was told to stand behind, or the one around it for its start. */
  readonly told: ReadonlyMap<number, number>;
}

/** The counterparts that stand nearest to each child of a donor's element, -1 for none. */
interface Near {
  readonly before: ReadonlyMap<number, number>;
  readonly behind: ReadonlyMap<number, number>;
}

/** What the receiver has inside one element, but for what goes. */
export interface Kin {
  /** Those of the new one's name, in their order. */
  readonly alike: readonly number[];
  /** Those of the name that one of them has. */
  readonly like: (node: number) => readonly number[];
  /** The last of all, -1 for none. */
  readonly last: number;
}

/** Finds the place of what is new in a list of the receiver, so that the order of the donor holds there, too. */
export class Standings {
  private readonly near = new Map<string, Near>();
  private readonly previousOf = new Map<number, Map<number, number>>();

  constructor(private readonly source: StandingSource) {}

  /** The standing of a donor's element inside an element of the receiver. */
  of(node: number, inside: number, { alike, like, last }: Kin): Standing {
    const { receiver, donor, told, isClosing, isNamedAlone } = this.source;
    const said = told.get(node);
    if (said === inside) return { behind: -1, reason: 'told', beside: -1 };
    if (said !== undefined && receiver.parent[said] === inside) return { behind: said, reason: 'told', beside: said };
    const alone = isNamedAlone(node);
    const anyName = alone || alike.length === 0;
    const { before, behind } = this.nearIn(donor.parent[node]!, inside, anyName);
    // What has another name and is of another kind does not come between those of one name.
    const run = (other: number) => (other === -1 || !anyName || alone ? [other] : like(other));
    const above = run(before.get(node) ?? -1).at(-1)!;
    if (above !== -1) return { behind: above, reason: 'behind-neighbour', beside: above };
    const below = run(behind.get(node) ?? -1)[0]!;
    if (below !== -1) return { behind: this.previous(below, inside), reason: 'before-neighbour', beside: below };
    let at = alike.length;
    while (at > 0 && isClosing(alike[at - 1]!)) at--;
    if (at < alike.length)
      return { behind: this.previous(alike[at]!, inside), reason: 'before-closing', beside: alike[at]! };
    const end = alike.at(-1) ?? last;
    return { behind: end, reason: 'last', beside: end };
  }

  /** @param anyName whether neighbours of other names count. */
  private nearIn(from: number, to: number, anyName: boolean): Near {
    const key = `${from} ${to} ${anyName}`;
    let near = this.near.get(key);
    if (!near) {
      const { matcher } = this.source;
      const { pairs } = matcher.pair(from, to, false);
      const names = anyName ? null : matcher.names;
      const before = nearest(pairs, names);
      // What has a counterpart itself and is new all the same goes under a new key, behind what it clashed with.
      for (const pair of pairs) if (pair.to !== -1) before.set(pair.from, pair.to);
      near = { before, behind: nearest([...pairs].reverse(), names) };
      this.near.set(key, near);
    }
    return near;
  }

  /** The element right before another one, -1 where that is the first. */
  private previous(node: number, inside: number): number {
    let known = this.previousOf.get(inside);
    if (!known) {
      known = new Map();
      let before = -1;
      for (const child of elementsOf(this.source.receiver, inside)) {
        known.set(child, before);
        before = child;
      }
      this.previousOf.set(inside, known);
    }
    return known.get(node)!;
  }
}

/** For each element the counterpart of the nearest one, of its name where names are given, that comes earlier in the list. */
function nearest(
  pairs: readonly { readonly from: number; readonly to: number }[],
  names: Int32Array | null,
): Map<number, number> {
  const last = new Map<number, number>();
  const near = new Map<number, number>();
  for (const { from, to } of pairs) {
    const name = names?.[from] ?? -1;
    near.set(from, last.get(name) ?? -1);
    if (to !== -1) last.set(name, to);
  }
  return near;
}
