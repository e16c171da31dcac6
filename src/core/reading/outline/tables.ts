import { attributeValue, TEXT, textOf, valueAt } from '../../xml/site.ts';
import { attributeIndexed, firstElement, isElement, nameOf, nextElement, type Tree } from '../../xml/tree.ts';
import { addRowPlaces } from './row-places.ts';

/** Cells told apart by their place in the row, named by a header: the column's name for each cell, and the headers. */
export interface Tables {
  /** For each cell the label of its column, `cell[port]`. */
  readonly columnOf: ReadonlyMap<number, string>;
  readonly headers: ReadonlySet<number>;
}

const columnName = /^[\p{L}_][\p{L}\p{M}\p{N}_.:\- ]{0,60}$/u;

/** The elements below an element that holds leaves only; null for any other. */
function cellsOf(tree: Tree, node: number): number[] | null {
  const cells: number[] = [];
  for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
    if (firstElement(tree, child) !== -1) return null;
    cells.push(child);
  }
  return cells.length > 0 ? cells : null;
}

const haveOneName = (tree: Tree, nodes: readonly number[]): boolean =>
  nodes.every((node) => tree.name[node] === tree.name[nodes[0]!]);

/**
 * Names that tell columns apart: what the cells of a header say, or else one of their attributes, which cells of rows do not
 * have; null where none does.
 */
function namesIn(tree: Tree, heads: readonly number[], ofRow: number): string[] | null {
  const tell = (names: string[]) =>
    new Set(names).size === names.length && names.every((name) => columnName.test(name)) ? names : null;
  const texts = tell(heads.map((head) => valueAt(tree, { node: head, attr: TEXT }).trim()));
  if (texts) return texts;
  const [first, end] = [tree.attrFirst[heads[0]!]!, tree.attrFirst[heads[0]! + 1]!];
  for (let attr = first; attr < end; attr++) {
    const named = heads.map((head) => {
      const at = attributeIndexed(tree, head, tree.attrName[attr]!);
      return at === -1 ? '' : attributeValue(tree, at);
    });
    const names = tell(named);
    if (names && attributeIndexed(tree, ofRow, tree.attrName[attr]!) === -1) return names;
  }
  return null;
}

interface Candidate {
  readonly header: number;
  readonly names: readonly string[];
  readonly rows: readonly (readonly number[])[];
  readonly tag: string;
  /** The names of header and rows: tables of one school have the same. */
  readonly school: number;
  readonly told: boolean;
}

const cache = new WeakMap<Tree, Tables | null>();

/**
 * Tables of the form header, row, row …: the header has as many cells as each row, and its own name. Cells are called alike
 * in header and rows, or each by the type of its value; where some tables of a school are so, the others are, one of a single column, too.
 */
export function tablesOf(tree: Tree): Tables | null {
  let tables = cache.get(tree);
  if (tables === undefined) {
    tables = findTables(tree);
    cache.set(tree, tables);
  }
  return tables;
}

function findTables(tree: Tree): Tables | null {
  const columnOf = new Map<number, string>();
  const headers = new Set<number>();
  const candidates: Candidate[] = [];
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const header = firstElement(tree, node);
    if (header === -1) continue;
    const second = nextElement(tree, header);
    if (second === -1 || tree.name[second] === tree.name[header]) continue;
    const heads = cellsOf(tree, header);
    if (!heads || !haveOneName(tree, heads)) continue;
    const rows = rowsBehind(tree, second, heads.length) ?? rowsInside(tree, second, heads.length);
    const names = rows && namesIn(tree, heads, rows[0]![0]!);
    if (!names) continue;
    const alike = rows.every((cells) => haveOneName(tree, cells) && tree.name[cells[0]!] === tree.name[heads[0]!]);
    const school = tree.name[header]! * tree.names.length + tree.name[second]!;
    const told = heads.length > 1 && (alike || areTyped(tree, rows));
    candidates.push({ header, names, rows, tag: nameOf(tree, heads[0]!), school, told });
  }
  const schools = new Set(candidates.flatMap(({ school, told }) => (told ? [school] : [])));
  for (const { header, names, rows, tag, school } of candidates) {
    if (!schools.has(school)) continue;
    headers.add(header);
    for (const cells of rows) for (const [at, cell] of cells.entries()) columnOf.set(cell, `${tag}[${names[at]!}]`);
  }
  addRowPlaces(tree, columnOf, headers);
  return columnOf.size > 0 ? { columnOf, headers } : null;
}

/** Whether the names of cells are types and not columns: fewer of them than columns, or others in some row. */
function areTyped(tree: Tree, rows: readonly number[][]): boolean {
  const names = new Set(rows.flatMap((cells) => cells.map((cell) => tree.name[cell]!)));
  return (
    names.size < rows[0]!.length ||
    rows.some((cells) => cells.some((cell, at) => tree.name[cell] !== tree.name[rows[0]![at]!]))
  );
}

/** Elements that say in attributes more than a value and its type are no cells. */
function areRecords(tree: Tree, cells: readonly number[]): boolean {
  const attributes = cells.map((cell) => (isEmpty(tree, cell) ? tree.attrFirst[cell + 1]! - tree.attrFirst[cell]! : 0));
  return attributes.some((count) => count > 2 || (count === 2 && count !== attributes[0]));
}

const isEmpty = (tree: Tree, node: number): boolean => textOf(tree, node).trim() === '';

/** As `rowsBehind`, of rows that the last element behind a header holds. */
function rowsInside(tree: Tree, holder: number, width: number): number[][] | null {
  const first = firstElement(tree, holder);
  return first === -1 || nextElement(tree, holder) !== -1 ? null : rowsBehind(tree, first, width);
}

/** The cells of the rows from one on, all of one name; null where one has another number of cells. */
function rowsBehind(tree: Tree, first: number, width: number): number[][] | null {
  const rows: number[][] = [];
  for (let row = first; row !== -1; row = nextElement(tree, row)) {
    const cells = tree.name[row] === tree.name[first] ? cellsOf(tree, row) : null;
    if (cells?.length !== width || areRecords(tree, cells)) return null;
    rows.push(cells);
  }
  return rows;
}
