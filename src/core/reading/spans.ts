import { TAG, TEXT, valueAt } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';

/** How many units of white space a value has before its first other unit: fields hold trimmed values. */
export function leadOf(tree: Tree, node: number, attr: number): number {
  if (attr === TAG) return 0;
  const at = attr === TEXT ? tree.openEnd[node]! : tree.valueStart[attr]!;
  const unit = tree.text.charCodeAt(at);
  // Only white space, a reference or markup can hide white space; letters need no second look.
  if (unit > 0x3c || (unit > 0x26 && unit < 0x3c)) return unit < 0xa0 ? 0 : lead(valueAt(tree, { node, attr }));
  return lead(valueAt(tree, { node, attr }));
}

function lead(value: string): number {
  return value.length - value.trimStart().length;
}
