import { TEXT, valueAt } from '../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../xml/tree.ts';

/** Cells told apart by their place in the row, named by a header: the column's name for each cell, and the headers. */
export interface Tables {
  readonly columnOf: ReadonlyMap<number, string>;
  readonly headers: ReadonlySet<number>;
}

const columnName = /^[\p{L}_][\p{L}\p{M}\p{N}_.:\- ]{0,60}$/u;

/** Leaf texts below an element whose children are all leaves of one name; null for any other element. */
function cellsOf(tree: Tree, node: number): number[] | null {
  const cells: number[] = [];
  const first = firstElement(tree, node);
  if (first === -1) return null;
  for (let child = first; child !== -1; child = nextElement(tree, child)) {
    if (tree.name[child] !== tree.name[first] || firstElement(tree, child) !== -1) return null;
    cells.push(child);
  }
  return cells;
}

/** Tables of the form header, row, row …: the header has as many cells as each row, and its own name. */
export function tablesOf(tree: Tree): Tables | null {
  const columnOf = new Map<number, string>();
  const headers = new Set<number>();
  let tables = 0;
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const header = firstElement(tree, node);
    if (header === -1) continue;
    const second = nextElement(tree, header);
    if (second === -1 || tree.name[second] === tree.name[header]) continue;
    const heads = cellsOf(tree, header);
    if (!heads || heads.length < 2) continue;
    const first = cellsOf(tree, second);
    if (!first || first.length !== heads.length || tree.name[first[0]!] !== tree.name[heads[0]!]) continue;
    const names = heads.map((cell) => valueAt(tree, { node: cell, attr: TEXT }).trim());
    if (new Set(names).size !== names.length || !names.every((name) => columnName.test(name))) continue;
    const rows: number[][] = [];
    let even = true;
    for (let row = second; row !== -1; row = nextElement(tree, row)) {
      const cells = tree.name[row] === tree.name[second] ? cellsOf(tree, row) : null;
      if (!cells || cells.length !== heads.length) even = false;
      else rows.push(cells);
    }
    if (!even) continue;
    tables++;
    headers.add(header);
    for (const cells of rows) for (const [at, cell] of cells.entries()) columnOf.set(cell, names[at]!);
  }
  return tables > 0 ? { columnOf, headers } : null;
}
