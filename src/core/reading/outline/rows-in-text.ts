import type { Tree } from '../../xml/tree.ts';
import { kindOf } from '../names/literals.ts';
import { isFieldName } from './flat-columns.ts';
import type { Candidate, Setting } from './settings-in-text.ts';
import { standAlone } from './words-in-text.ts';

/** Rows in which cells stand one after the other, by index; null for a row that names the columns. */
export type TextRows = Map<number, readonly Setting[] | null>;

const BETWEEN = ['|', ';', '\t', ','];
/** Fewer rows are no custom. */
const LEAST = 8;
const MOSTLY = 0.9;
/** Share of the lists whose columns are of several kinds, or whose first row looks like their names. */
const MOST = 0.6;

type Cell = readonly [from: number, to: number];

interface List {
  /** Indices into the group. */
  readonly rows: readonly number[];
  readonly cells: readonly (readonly Cell[])[];
  readonly texts: readonly (readonly string[])[];
}

/** Whether texts have the same mark between cells, most of them. */
export function mayBeRows(tree: Tree, group: readonly Candidate[]): boolean {
  const isCut = (between: string) => group.filter(({ text }) => text.includes(between)).length >= group.length * MOSTLY;
  return BETWEEN.some(isCut) && standAlone(tree, group);
}

/** Texts that are rows of cells, as many in each of a list: `office|eth1|10.0.0.1/24`. Empty where they are none. */
export function rowsIn(tree: Tree, group: readonly Candidate[]): TextRows {
  const found: TextRows = new Map();
  if (group.length < LEAST) return found;
  for (const between of BETWEEN) {
    const lists = listsOf(tree, group, between);
    const rows = lists.reduce((sum, { rows: own }) => sum + own.length, 0);
    if (rows < group.length * MOSTLY) continue;
    const long = lists.filter((list) => list.rows.length > 1);
    const named = long.filter(namesColumns).length >= long.length * MOSTLY && long.some(isUnlikeHead);
    // A list of so many things of one kind is a value.
    if (long.filter((list) => isMixed(list, named)).length < long.length * MOST) continue;
    for (const { rows: own, cells, texts } of lists) {
      const names = texts[0]!.map((name, at) => (named ? name : `cell-${at + 1}`));
      for (const [index, row] of own.entries()) {
        const settings = cells[index]!.map(([from, to], at) => ({ name: names[at]!, from, to }));
        found.set(row, named && index === 0 ? null : settings.filter(({ from, to }) => to > from));
      }
    }
    return found;
  }
  return found;
}

/** The rows below each parent, where all have as many cells, several. */
function listsOf(tree: Tree, group: readonly Candidate[], between: string): List[] {
  const byParent = new Map<number, number[]>();
  for (const [at, { node }] of group.entries()) {
    const own = byParent.get(tree.parent[node]!);
    if (own) own.push(at);
    else byParent.set(tree.parent[node]!, [at]);
  }
  return [...byParent.values()].flatMap((rows) => {
    const cells = rows.map((at) => cellsOf(group[at]!.text, between));
    const width = cells[0]!.length;
    if (width < 2 || cells.some(({ length }) => length !== width)) return [];
    return [{ rows, cells, texts: cells.map((own, at) => own.map((cell) => group[rows[at]!]!.text.slice(...cell))) }];
  });
}

/** Where the cells of a row are, blanks around them left out. */
function cellsOf(text: string, between: string): Cell[] {
  const cells: Cell[] = [];
  for (let from = 0; from <= text.length; ) {
    const end = text.indexOf(between, from);
    const to = end === -1 ? text.length : end;
    const cell = text.slice(from, to);
    const start = from + cell.length - cell.trimStart().length;
    cells.push([start, Math.max(start, from + cell.trimEnd().length)]);
    from = to + 1;
  }
  return cells;
}

const namesColumns = ({ texts }: List) => new Set(texts[0]!).size === texts[0]!.length && texts[0]!.every(isFieldName);

/** Whether a column holds numbers or addresses, and its first cell a word. */
const isUnlikeHead = ({ texts }: List) =>
  texts[0]!.some((head, at) => isFieldName(head) && texts.slice(1).every((row) => /^\d/.test(row[at]!)));

/** Whether columns are of several kinds. */
function isMixed({ texts }: List, named: boolean): boolean {
  const [first] = texts.slice(named ? 1 : 0);
  return new Set((first ?? []).filter((cell) => cell !== '').map((cell) => kindOf(cell))).size > 1;
}
