import { withinAny } from '../compile/compile.ts';
import { isWide, placeFinder } from '../compile/leave-out.ts';
import { RECORD, spreadRecords } from '../compile/spread.ts';
import { isTick, type Plan, planOf, type Tick } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import type { Tree } from '../xml/tree.ts';

/**
 * The plan with rows of the carry sheet ticked or not: what was said of each row and of what is inside it gives way, and
 * no more is said than what is around it does not say already. So a section that is ticked and unticked leaves no trace.
 * @param ids paths, or paths of collections, in any order; those that are not in the file are passed over.
 */
export function tick(tree: Tree, reading: Reading, plan: Plan, ids: readonly string[], carried: boolean): Plan {
  const find = placeFinder(tree, reading);
  const spread = spreadRecords(tree, reading);
  const rows = ids
    .map((id) => {
      const nodes = find(id);
      return nodes.length === 1 && spread.has(nodes[0]!)
        ? { id: id + RECORD, nodes: find(id + RECORD) }
        : { id, nodes };
    })
    .filter(({ nodes }) => nodes.length > 0 && nodes[0] !== tree.root);
  const inside = withinAny(
    tree,
    outermost(
      tree,
      rows.flatMap(({ nodes }) => nodes),
    ),
  );
  const kept = plan.decisions.filter((decision) => {
    if (!isTick(decision)) return true;
    const nodes = find(decision.path);
    return nodes.length === 0 || !nodes.every(inside);
  });
  const nearest = new Nearest(tree);
  for (const decision of kept) if (isTick(decision)) nearest.say(decision, find(decision.path));
  const said: Tick[] = [];
  for (const { id, nodes } of rows.sort((a, b) => a.nodes[0]! - b.nodes[0]! || b.nodes.length - a.nodes.length)) {
    if (nearest.carries(nodes[0]!) === carried) continue;
    const decision: Tick = { kind: carried ? 'keep' : 'leave-out', path: id };
    nearest.say(decision, nodes);
    said.push(decision);
  }
  return { ...plan, ...planOf([...kept, ...said], plan.file) };
}

/** What the nearest decision about a node or about what is around it says. */
class Nearest {
  private readonly own = new Map<number, boolean>();
  /** Of all records of a collection at once, or of all elements of a record. */
  private readonly wide = new Map<number, boolean>();

  constructor(private readonly tree: Tree) {}

  say({ kind, path }: Tick, nodes: readonly number[]): void {
    const map = isWide(path) ? this.wide : this.own;
    for (const node of nodes) map.set(node, kind === 'keep');
  }

  carries(node: number): boolean {
    for (let at = node; at !== -1; at = this.tree.parent[at]!) {
      const said = this.own.get(at) ?? this.wide.get(at);
      if (said !== undefined) return said;
    }
    return true;
  }
}

/** The nodes that lie in none of the others, ascending. */
export function outermost(tree: Tree, nodes: readonly number[]): number[] {
  const tops: number[] = [];
  let end = 0;
  for (const node of [...nodes].sort((a, b) => a - b)) {
    if (node < end) continue;
    tops.push(node);
    end = tree.after[node]!;
  }
  return tops;
}
