import { firstElement, isElement, type Tree } from '../xml/tree.ts';

/**
 * Attribute names that hold the value of an element where another school writes text: the only attribute of empty
 * elements of many names (`<port is="…"/><label is="…"/>`). Indexed by name, 1 for such an attribute; null for none.
 */
export function valueAttributesOf(tree: Tree): Uint8Array | null {
  const width = tree.names.length;
  const elements: (Set<number> | undefined)[] = new Array(width);
  const elsewhere = new Int32Array(width);
  const alone = new Int32Array(width);
  const once = new Int32Array(width);
  const times = new Int32Array(width);
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const first = tree.attrFirst[node]!;
    const last = tree.attrFirst[node + 1]!;
    if (last - first === 1 && firstElement(tree, node) === -1 && tree.openEnd[node]! >= tree.closeStart[node]!) {
      const name = tree.attrName[first]!;
      let set = elements[name];
      if (!set) {
        set = new Set();
        elements[name] = set;
      }
      if (set.size < 8) set.add(tree.name[node]!);
      alone[name]!++;
      const count = ++times[tree.name[node]!]!;
      if (count === 1) once[name]!++;
      else if (count === 2) once[name]!--;
    } else for (let at = first; at < last; at++) elsewhere[tree.attrName[at]!]!++;
  }
  let found = false;
  const result = new Uint8Array(width);
  for (let name = 0; name < width; name++) {
    if ((elements[name]?.size ?? 0) < 5 || elsewhere[name]! > alone[name]! * 0.3) continue;
    // Elements of which hardly any comes twice are records called by their tags.
    if (once[name]! > alone[name]! * 0.6) continue;
    result[name] = 1;
    found = true;
  }
  return found ? result : null;
}
