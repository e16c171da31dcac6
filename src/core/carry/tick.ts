import { withinAny } from '../compile/compile.ts';
import { closeness, placeFinder } from '../compile/leave-out.ts';
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
  private readonly said = new Map<number, { readonly close: number; readonly carries: boolean }>();

  constructor(private readonly tree: Tree) {}

  say({ kind, path }: Tick, nodes: readonly number[]): void {
    const word = { close: closeness(path), carries: kind === 'keep' };
    for (const node of nodes) if ((this.said.get(node)?.close ?? 0) <= word.close) this.said.set(node, word);
  }

  carries(node: number): boolean {
    for (let at = node; at !== -1; at = this.tree.parent[at]!) {
      const said = this.said.get(at);
      if (said) return said.carries;
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
