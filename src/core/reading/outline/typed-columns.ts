import { attributeIndexed, isElement, type Tree } from '../../xml/tree.ts';
import { isColumnName } from './column-name.ts';

/** Fewer cells, or a smaller share of the elements, or in fewer rows, are no school of writing. */
const LEAST = 12;
const SHARE = 0.2;
const ROWS = 3;
/** Share of the cells whose name comes back in other rows, and of those whose name goes with one type alone. */
const AGAIN = 0.7;
const ONE_TYPE = 0.8;
/** Share of the cells that are not told apart from others of their row. */
const DOUBLED = 0.05;
/** Types at most, and names for each at least. */
const MOST = 16;
const NAMES = 2;

interface Column {
  readonly tag: number;
  readonly name: string;
  cells: number;
  rows: number;
  lastRow: number;
}

/**
 * Cells whose tags are types and whose names stand in one attribute: `<rec><str name="login">ada</str><int name="uid">7</int>`.
 * Gives the attribute that calls an element, -1 for none; null where the document has no such cells. Lists and groups that
 * stand in rows among the cells are called by it, too, where others of their name do.
 */
export function typedColumnsOf(tree: Tree): ((node: number) => number) | null {
  const times = new Int32Array(tree.names.length);
  for (let attr = 0; attr < tree.attrName.length; attr++) times[tree.attrName[attr]!]!++;
  for (const [attribute, count] of times.entries()) {
    if (count < Math.max(LEAST, tree.size * SHARE) || !mayBeTyped(tree, attribute)) continue;
    const cells = new Columns(tree);
    for (let node = 0; node < tree.size; node++) if (isCell(tree, node)) cells.add(node, attribute);
    if (!cells.areTyped()) continue;
    const holders = new Columns(tree);
    for (let node = 0; node < tree.size; node++) {
      if (isElement(tree, node) && tree.after[node]! > node + 1 && cells.rows.has(tree.parent[node]!))
        holders.add(node, attribute);
    }
    return (node) => {
      const attr = attributeIndexed(tree, node, attribute);
      if (attr === -1 || isCell(tree, node)) return attr !== -1 && cells.tags.has(tree.name[node]!) ? attr : -1;
      return cells.rows.has(tree.parent[node]!) && (holders.columnOf(node, attr)?.rows ?? 0) > 1 ? attr : -1;
    };
  }
  return null;
}

/** At a glance: whether elements of several tags, and several in a row, have the attribute. */
function mayBeTyped(tree: Tree, attribute: number): boolean {
  const tags = new Set<number>();
  let cells = 0;
  let rows = 0;
  let row = -1;
  for (let node = 0; node < tree.size && tags.size <= MOST; node++) {
    if (!isCell(tree, node) || attributeIndexed(tree, node, attribute) === -1) continue;
    tags.add(tree.name[node]!);
    cells++;
    if (tree.parent[node] !== row) rows++;
    row = tree.parent[node]!;
  }
  return tags.size > 1 && tags.size <= MOST && cells >= LEAST && cells >= rows * 2;
}

const isCell = (tree: Tree, node: number): boolean => isElement(tree, node) && tree.after[node] === node + 1;

/** Elements by their tag and by what one attribute calls them. */
class Columns {
  readonly tags = new Set<number>();
  readonly rows = new Set<number>();
  private readonly columns = new Map<string, Column>();
  private cells = 0;
  private doubled = 0;
  private strange = 0;

  constructor(private readonly tree: Tree) {}

  add(node: number, attribute: number): void {
    const { tree } = this;
    const attr = attributeIndexed(tree, node, attribute);
    if (attr === -1) return;
    const row = tree.parent[node]!;
    const { id, name } = this.calledBy(node, attr);
    const tag = tree.name[node]!;
    this.cells++;
    this.tags.add(tag);
    this.rows.add(row);
    if (!isColumnName(name)) this.strange++;
    const column = this.columns.get(id);
    if (!column) {
      this.columns.set(id, { tag, name, cells: 1, rows: 1, lastRow: row });
      return;
    }
    column.cells++;
    if (column.lastRow === row) this.doubled++;
    else column.rows++;
    column.lastRow = row;
  }

  columnOf(node: number, attr: number): Column | undefined {
    return this.columns.get(this.calledBy(node, attr).id);
  }

  /** Whether several types of cell are told apart in their rows by names that come back, each with one type. */
  areTyped(): boolean {
    const { cells, tags, rows, columns } = this;
    if (rows.size < ROWS || cells < rows.size * 2) return false;
    if (columns.size < tags.size * NAMES || this.doubled > cells * DOUBLED || this.strange > 0) return false;
    let again = 0;
    const byName = new Map<string, number>();
    for (const { name, cells: own, rows: inRows } of columns.values()) {
      if (inRows > 1) again += own;
      byName.set(name, Math.max(byName.get(name) ?? 0, own));
    }
    const ofOneType = [...byName.values()].reduce((sum, own) => sum + own, 0);
    return again >= cells * AGAIN && ofOneType >= cells * ONE_TYPE;
  }

  private calledBy(node: number, attr: number): { id: string; name: string } {
    const { tree } = this;
    const name = tree.text.slice(tree.valueStart[attr]!, tree.valueEnd[attr]!);
    return { id: `${tree.name[node]} ${name}`, name };
  }
}
