import { textOf } from '../../xml/site.ts';
import { firstElement, isElement, nameOf, nextElement, type Tree } from '../../xml/tree.ts';
import { type Kind, kindOf } from '../names/literals.ts';

/** No more rows of a table are looked at. */
const LOOK = 40;
/** Fewer rows in all tables are no school of writing. */
const LEAST = 6;
/** Share of tables that have to be built so. */
const MOST = 0.8;

/** A list of rows: elements of one name side by side, each of which holds cells. */
interface Table {
  readonly rows: readonly (readonly number[])[];
  /** By column what most cells behind the first row are; null for a column without any. */
  readonly kinds: readonly (Kind | null)[];
}

const columnName = /^[\p{L}_][\p{L}\p{M}\p{N}_.:\- ]{0,60}$/u;
const wordy = (kind: Kind | null) => kind === 'name' || kind === 'phrase' || kind === 'text';

/**
 * Tables whose cells are told apart by their place in the row alone: cells of one name, or of names that only count, in rows of
 * one name, as many in each, and other things in one column than in the next. Where the first row of nearly all of them only
 * holds words that are unlike what stands below, it is a header. Adds each cell's label, `cell[Port]` or `cell[2]`, and the headers.
 */
export function addRowPlaces(tree: Tree, columnOf: Map<number, string>, headers: Set<number>): void {
  const schools = new Map<number, Table[]>();
  const width = tree.names.length;
  /** By the name of rows, how many lists of them begin with none that may name columns. */
  const refused = new Int32Array(width);
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const first = firstElement(tree, node);
    const cell = first === -1 ? -1 : firstElement(tree, first);
    if (cell === -1 || columnOf.has(cell)) continue;
    if (!mayBeRow(tree, first)) {
      refused[tree.name[first]!]!++;
      continue;
    }
    const rows = rowsOf(tree, first);
    if (!rows) continue;
    const id = tree.name[first]! * (width + 1) + (areOneName(tree, rows[0]!) ? tree.name[cell]! : width);
    const tables = schools.get(id);
    const table = { rows, kinds: kindsOf(tree, rows) };
    if (tables) tables.push(table);
    else schools.set(id, [table]);
  }
  for (const tables of schools.values()) {
    if (tables.reduce((sum, { rows }) => sum + rows.length, 0) < LEAST) continue;
    const even = tables.filter(({ rows }) => rows.every((cells) => cells.length === rows[0]!.length));
    const unlike = even.filter(({ kinds }) => new Set(kinds.map((kind) => (wordy(kind) ? 'name' : kind))).size > 1);
    if (even.length < tables.length * MOST || unlike.length * 2 < even.length) continue;
    const row = tree.name[tree.parent[tables[0]!.rows[0]![0]!]!]!;
    const headed = refused[row]! <= tables.length * (1 - MOST) && haveHeaders(tree, tables);
    if (!headed && !areOneName(tree, tables[0]!.rows[0]!)) continue;
    for (const { rows } of tables) {
      const heads = headed && rows.length > 1 ? rows[0]!.map((head) => textOf(tree, head).trim()) : null;
      if (heads) headers.add(tree.parent[rows[0]![0]!]!);
      for (const cells of heads ? rows.slice(1) : rows)
        for (const [at, cell] of cells.entries())
          columnOf.set(cell, `${nameOf(tree, cell)}[${heads?.[at] || String(at + 1)}]`);
    }
  }
}

/** Whether an element's children have one name, or all are words, as the heads of columns are: a look before it is read on. */
function mayBeRow(tree: Tree, row: number): boolean {
  const first = firstElement(tree, row);
  const second = nextElement(tree, first);
  if (second === -1 || tree.after[first] !== first + 1) return false;
  if (tree.name[first] === tree.name[second]) return true;
  if (nextElement(tree, row) === -1) return false;
  for (let cell = first; cell !== -1; cell = nextElement(tree, cell)) {
    if (tree.after[cell] !== cell + 1 || tree.attrFirst[cell] !== tree.attrFirst[cell + 1]) return false;
    const text = textOf(tree, cell).trim();
    if (!columnName.test(text) || !wordy(kindOf(text))) return false;
  }
  return true;
}

/** The cells of all elements from one on; null where some of them are no rows of such cells. */
function rowsOf(tree: Tree, first: number): number[][] | null {
  const rows: number[][] = [];
  let most = 0;
  for (let row = first; row !== -1; row = nextElement(tree, row)) {
    if (tree.name[row] !== tree.name[first]) return null;
    const cells: number[] = [];
    for (let cell = firstElement(tree, row); cell !== -1; cell = nextElement(tree, cell)) {
      const plain = tree.attrFirst[cell] === tree.attrFirst[cell + 1] && firstElement(tree, cell) === -1;
      if (!plain || (rows[0] && tree.name[cell] !== tree.name[rows[0][cells.length]!])) return null;
      cells.push(cell);
    }
    if (cells.length === 0) return null;
    if (rows.length === 0 && !areOneName(tree, cells) && !onlyCount(tree, cells)) return null;
    most = Math.max(most, cells.length);
    rows.push(cells);
  }
  return most > 1 ? rows : null;
}

const areOneName = (tree: Tree, cells: readonly number[]) =>
  cells.every((cell) => tree.name[cell] === tree.name[cells[0]!]);

/** Names such as `c1`, `c2` or `a`, `b` say nothing but a place; others name what stands in them. */
function onlyCount(tree: Tree, cells: readonly number[]): boolean {
  const names = cells.map((cell) => nameOf(tree, cell));
  if (new Set(names).size < names.length) return false;
  const stems = new Set(names.map((name) => name.replace(/\d+$/, '')));
  if (stems.size === 1 && names.every((name) => /\d$/.test(name))) return true;
  return names.every((name, at) => name.length === 1 && name.charCodeAt(0) === names[0]!.charCodeAt(0) + at);
}

function kindsOf(tree: Tree, rows: readonly (readonly number[])[]): (Kind | null)[] {
  return rows[0]!.map((_, at) => {
    const counts = new Map<Kind, number>();
    for (const cells of rows.slice(1, LOOK)) {
      const text = cells[at] === undefined ? '' : textOf(tree, cells[at]).trim();
      if (text !== '') counts.set(kindOf(text), (counts.get(kindOf(text)) ?? 0) + 1);
    }
    return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
  });
}

/**
 * Whether the first rows name the columns: words, each once, which are unlike what stands below, or come back in other first
 * rows and not below them.
 */
function haveHeaders(tree: Tree, tables: readonly Table[]): boolean {
  const full = tables.filter(({ rows }) => rows.length > 1);
  const heads = full.map(({ rows }) => rows[0]!.map((head) => textOf(tree, head).trim()));
  const times = new Map<string, number>();
  for (const texts of heads) for (const text of new Set(texts)) times.set(text, (times.get(text) ?? 0) + 1);
  let named = 0;
  let told = 0;
  for (const [at, { rows, kinds }] of full.entries()) {
    const texts = heads[at]!;
    const words = texts.filter((text) => columnName.test(text) && wordy(kindOf(text)));
    if (words.length < texts.length || new Set(texts).size < texts.length) continue;
    named++;
    const below = new Set(rows.slice(1, LOOK).flatMap((cells) => cells.map((cell) => textOf(tree, cell).trim())));
    const unlike = kinds.some((kind) => kind !== null && !wordy(kind));
    if (unlike || texts.some((text) => times.get(text)! > 1 && !below.has(text))) told++;
  }
  return full.length > 0 && named >= full.length * MOST && told * 2 >= full.length;
}
