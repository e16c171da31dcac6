import { firstElement, isElement, nextElement, type Tree } from '../xml/tree.ts';

/**
 * Element names that add nothing but a level: every element of the name stands among siblings of that name only, below
 * parents of several names (`<port><value>…</value></port>`, `<role><body>…</body></role>`). `value` wraps leaves,
 * `body` wraps what is inside a record.
 */
export interface Wrappers {
  readonly leaf: Uint8Array;
  readonly body: Uint8Array;
}

export function wrappersOf(tree: Tree): Wrappers | null {
  const width = tree.names.length;
  const count = new Int32Array(width);
  const mixed = new Int32Array(width);
  const inner = new Int32Array(width);
  const many = new Int32Array(width);
  const parents: (Set<number> | undefined)[] = new Array(width);
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const first = firstElement(tree, node);
    if (first === -1) continue;
    const name = tree.name[first]!;
    let alone = true;
    let children = 0;
    for (let child = first; child !== -1; child = nextElement(tree, child)) {
      children++;
      if (tree.name[child] !== name) alone = false;
    }
    if (!alone) {
      for (let child = first; child !== -1; child = nextElement(tree, child)) mixed[tree.name[child]!]!++;
      continue;
    }
    count[name]! += children;
    if (children > 1) many[name]!++;
    for (let child = first; child !== -1; child = nextElement(tree, child)) {
      if (firstElement(tree, child) !== -1) inner[name]!++;
    }
    let set = parents[name];
    if (!set) {
      set = new Set();
      parents[name] = set;
    }
    if (set.size < 8) set.add(tree.name[node]!);
  }
  const leaf = new Uint8Array(width);
  const body = new Uint8Array(width);
  let found = false;
  for (let name = 0; name < width; name++) {
    if (count[name]! < 6 || (parents[name]?.size ?? 0) < 3 || mixed[name]! > count[name]! * 0.15) continue;
    if (inner[name]! <= count[name]! * 0.15) leaf[name] = 1;
    else if (mixed[name]! > 0) continue;
    else if (inner[name] === count[name] && many[name] === 0) body[name] = 1;
    else continue;
    found = true;
  }
  return found ? { leaf, body } : null;
}

/** True where everything inside an element is wrapped leaves. */
export function holdsWrapped(tree: Tree, node: number, { leaf }: Wrappers): boolean {
  const first = firstElement(tree, node);
  if (first === -1 || !leaf[tree.name[first]!]) return false;
  for (let child = first; child !== -1; child = nextElement(tree, child)) {
    if (tree.name[child] !== tree.name[first] || firstElement(tree, child) !== -1) return false;
  }
  return true;
}
