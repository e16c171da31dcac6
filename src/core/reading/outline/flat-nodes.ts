import { type FlatColumn, type FlatNode, isFieldName, marksType } from './flat-columns.ts';

/** Share of the elements that name another one as what they lie in. */
const WITHIN = 0.5;
/** Share of the elements with others below them that have no value of their own. */
const HOLDERS = 0.5;

/**
 * A tree whose nodes are written side by side, each with its number and that of the node that it lies in:
 * `<node id="7" in="3" name="port" value="eth1"/>`. Null for anything else.
 */
export function nodesOf(nodes: readonly number[], columns: readonly FlatColumn[]): FlatNode[] | null {
  for (const id of columns) {
    const at = new Map(id.values.map((value, index) => [value, index]));
    if (at.size < nodes.length || at.has('')) continue;
    for (const parent of columns) {
      if (parent === id) continue;
      const above = parent.values.map((value) => at.get(value) ?? -1);
      const within = above.filter((one) => one !== -1).length;
      // All that names no node names none at all, in the same way.
      const roots = new Set(parent.values.filter((_, index) => above[index] === -1));
      if (within < nodes.length * WITHIN || roots.size > 1 || isCyclic(above)) continue;
      const rest = columns.filter((column) => column !== id && column !== parent);
      // Types come again, too; names are more.
      const [name] = rest
        .filter((column) => areNames(column, above))
        .sort((one, other) => new Set(other.values).size - new Set(one.values).size);
      const [value, ...others] = rest.filter((column) => column !== name && !marksType(column));
      if (name && value && others.length === 0 && holdNothing(value, above))
        return build(nodes, { id, name, value }, above);
    }
  }
  return null;
}

/** Whether some node lies in itself. */
function isCyclic(above: readonly number[]): boolean {
  const done = new Uint8Array(above.length);
  for (let start = 0; start < above.length; start++) {
    const path: number[] = [];
    let at = start;
    for (; at !== -1 && done[at] === 0; at = above[at]!) {
      done[at] = 2;
      path.push(at);
    }
    if (at !== -1 && done[at] === 2) return true;
    for (const one of path) done[one] = 1;
  }
  return false;
}

/** Names of fields: words that come again below other nodes. */
function areNames({ values }: FlatColumn, above: readonly number[]): boolean {
  const parents = new Map<string, Set<number>>();
  for (const [index, value] of values.entries()) {
    if (!isFieldName(value)) return false;
    const own = parents.get(value);
    if (own) own.add(above[index]!);
    else parents.set(value, new Set([above[index]!]));
  }
  const again = values.filter((value) => parents.get(value)!.size > 1).length;
  return parents.size * 2 <= values.length && again * 2 >= values.length;
}

/** Whether nodes with others below them mostly have no value, and the others mostly one. */
function holdNothing({ values }: FlatColumn, above: readonly number[]): boolean {
  const holds = new Uint8Array(values.length);
  for (const one of above) if (one !== -1) holds[one] = 1;
  const empty = (wanted: number) => values.filter((value, index) => holds[index] === wanted && value === '').length;
  const holders = holds.reduce((sum, one) => sum + one, 0);
  return empty(1) >= holders * HOLDERS && empty(0) <= (values.length - holders) * HOLDERS;
}

function build(
  nodes: readonly number[],
  { id, name, value }: { id: FlatColumn; name: FlatColumn; value: FlatColumn },
  above: readonly number[],
): FlatNode[] {
  const below: number[][] = nodes.map(() => []);
  const roots: number[] = [];
  for (const [index, one] of above.entries()) (one === -1 ? roots : below[one]!).push(index);
  const make = (index: number): FlatNode => {
    const element = nodes[index]!;
    const own = below[index]!;
    const leaf = (column: FlatColumn): FlatNode[] =>
      column.values[index] === ''
        ? []
        : [{ name: column.step, element, site: column.sites[index]!, below: [], about: true }];
    const site = own.length > 0 ? null : value.sites[index]!;
    const inside = own.length > 0 ? [...leaf(id), ...leaf(value), ...own.map(make)] : [];
    return { name: name.values[index]!, element, site, below: inside };
  };
  return roots.map(make);
}
