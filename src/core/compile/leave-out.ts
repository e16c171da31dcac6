import type { Plan } from '../plan/plan.ts';
import { subjectOf } from '../plan/plan.ts';
import type { Trouble } from '../trouble.ts';
import { nodeAt } from '../xml/path.ts';
import type { Tree } from '../xml/tree.ts';

/** The elements that the plan leaves out, outermost only, in document order. */
export function leftOutNodes(tree: Tree, plan: Plan, troubles: Trouble[]): Map<number, string> {
  const asked = new Map<number, string>();
  for (const decision of plan.decisions) {
    if (decision.kind !== 'leave-out') continue;
    const node = nodeAt(tree, decision.path);
    if (node === -1) troubles.push({ code: 'plan-path-missing', params: { path: decision.path } });
    else if (node === tree.root) troubles.push({ code: 'plan-root-left-out', params: { path: decision.path } });
    else asked.set(node, subjectOf(decision));
  }
  const outermost = new Map<number, string>();
  let end = 0;
  for (const node of [...asked.keys()].sort((a, b) => a - b)) {
    if (node < end) continue;
    outermost.set(node, asked.get(node)!);
    end = tree.after[node]!;
  }
  return outermost;
}
