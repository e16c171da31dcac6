import { attributeIndexed, isElement, type Tree } from '../../xml/tree.ts';
import { isColumnName } from './column-name.ts';
import { areCounted, areLeafNames, comingBack, countedOnce, isCount, leafNames, saidElsewhere } from './lone-rows.ts';
import { typedColumnsOf } from './typed-columns.ts';

/** Tells of an element whether it is a cell of a row, and which attribute names its column. */
export interface Columns {
  /** Index of the attribute that names the column; -1 for an element that is no cell. */
  attributeOf(node: number): number;
}

interface Count {
  cells: number;
  /** Cells that have more than a name and a value. */
  full: number;
  rows: number;
  /** How often each column is the only one of its row. */
  alone: Map<string, number>;
  doubled: number;
  lastParent: number;
  inRow: Set<string>;
  columns: Map<string, number>;
  wordy: number;
}

/** Cells of one name, or of several names that are types. */
export function columnsOf(tree: Tree): Columns | null {
  const typed = typedColumnsOf(tree);
  return typed ? { attributeOf: typed } : columnsOfOneName(tree);
}

/** Share of the cells whose columns come back. */
const AGAIN = 0.7;

/** Cells that are items of lists stand once, and say nothing where others come back that are as many. */
function itemsOf({ cells, columns }: Count): number {
  const items = countedOnce(columns);
  return items * 2 <= cells ? items : 0;
}

/** More attributes of leaves of one name are not looked at together. */
const ATTRIBUTES = 16;

/** Each look for names goes through the whole document; where more were needed, these are no single rows. */
const LOOKS = 16;

/** What the attributes of leaves say of each other. */
class Beside {
  private readonly ofElement = new Map<number, Count[]>();
  private readonly width: number;
  private looks = 0;

  constructor(
    private readonly tree: Tree,
    counts: ReadonlyMap<number, Count>,
  ) {
    this.width = tree.names.length;
    for (const [id, count] of counts) {
      const element = this.elementOf(id);
      const list = this.ofElement.get(element);
      if (!list) this.ofElement.set(element, [count]);
      else if (list.length < ATTRIBUTES) list.push(count);
    }
  }

  private elementOf(id: number): number {
    return Math.floor(id / this.width);
  }

  /** How many other attributes of the elements tell all of them apart: a cell has one value. */
  identifiers(id: number, own: Count): number {
    const others = this.ofElement.get(this.elementOf(id))!.filter((count) => count !== own);
    return others.filter(({ cells, columns }) => cells >= own.cells && columns.size === cells).length;
  }

  /** Whether what counts in an attribute calls records: others name them by it, or another attribute of theirs counts them. */
  callsRecords(id: number, own: Count): boolean {
    const element = this.elementOf(id);
    const isNumber = ({ columns, cells }: Count) =>
      columns.size === cells && isCount(new Set([...columns.keys()].map(Number)));
    return (
      this.ofElement.get(element)!.some((count) => count !== own && isNumber(count)) ||
      this.looks++ >= LOOKS ||
      saidElsewhere(this.tree, element, own.columns) * 2 >= own.columns.size
    );
  }
}

function closeRow({ inRow, alone }: Count): void {
  if (inRow.size !== 1) return;
  const [column = ''] = inRow;
  alone.set(column, (alone.get(column) ?? 0) + 1);
}

/** How many rows have one cell, where nearly all of these have the same. */
function shortRows({ alone }: Count): number {
  let rows = 0;
  for (const times of alone.values()) rows += times;
  return alone.size * SHORT <= rows ? rows : 0;
}

/** So many rows of one cell for each column that these have. */
const SHORT = 4;

/**
 * Finds cells: leaf elements of one name that stand several to a parent, where the value of one attribute tells them
 * apart inside the parent and comes back under other parents, or as the name of leaves. Null where the document has none.
 */
function columnsOfOneName(tree: Tree): Columns | null {
  const counts = new Map<number, Count>();
  const width = tree.names.length;
  for (let node = 0; node < tree.size; node++) {
    const first = tree.attrFirst[node]!;
    const attributes = tree.attrFirst[node + 1]! - first;
    if (attributes === 0 || attributes > 3 || !isElement(tree, node) || tree.after[node] !== node + 1) continue;
    const text = tree.openEnd[node]! < tree.closeStart[node]!;
    if (!text && attributes < 2) continue;
    for (let a = first; a < first + attributes; a++) {
      const id = tree.name[node]! * width + tree.attrName[a]!;
      let count = counts.get(id);
      if (!count) {
        count = {
          cells: 0,
          full: 0,
          rows: 0,
          alone: new Map(),
          doubled: 0,
          lastParent: -1,
          inRow: new Set(),
          columns: new Map(),
          wordy: 0,
        };
        counts.set(id, count);
      }
      const column = tree.text.slice(tree.valueStart[a]!, tree.valueEnd[a]!);
      if (count.lastParent !== tree.parent[node]) {
        closeRow(count);
        count.lastParent = tree.parent[node]!;
        count.rows++;
        count.inRow.clear();
      }
      count.cells++;
      if (attributes > (text ? 1 : 2)) count.full++;
      if (count.inRow.has(column)) count.doubled++;
      count.inRow.add(column);
      if (count.columns.size < 5000) count.columns.set(column, (count.columns.get(column) ?? 0) + 1);
      if (isColumnName(column)) count.wordy++;
    }
  }
  const chosen = new Map<number, number>();
  let leaves: ReadonlySet<string> | null = null;
  let beside: Beside | null = null;
  const besides = () => {
    beside ??= new Beside(tree, counts);
    return beside;
  };
  for (const [id, count] of counts) {
    closeRow(count);
    const short = shortRows(count);
    if (count.cells - short < 2 * (count.rows - short) || count.rows === short) continue;
    if (count.doubled > count.cells * 0.3 || count.wordy < count.cells * 0.95) continue;
    if (count.full > 0 && besides().identifiers(id, count) > 1) continue;
    if (count.rows < 2 || count.cells < 6) {
      leaves ??= leafNames(tree);
      if (count.doubled > 0) continue;
      const lists =
        count.rows === 1 && count.full === 0 && areCounted(count.columns.keys()) && !besides().callsRecords(id, count);
      if (!lists && !areLeafNames(count.columns.keys(), leaves)) continue;
    } else if (comingBack(count.columns) < (count.cells - itemsOf(count)) * AGAIN) {
      leaves ??= leafNames(tree);
      if (count.doubled > 0 || comingBack(count.columns, leaves) < count.cells * AGAIN) continue;
    }
    const name = Math.floor(id / width);
    const best = chosen.get(name);
    if (best === undefined || counts.get(best)!.doubled > count.doubled) chosen.set(name, id);
  }
  if (chosen.size === 0) return null;
  const attributeFor = new Int32Array(width).fill(-1);
  for (const [name, id] of chosen) attributeFor[name] = id % width;
  return {
    attributeOf(node) {
      const wanted = attributeFor[tree.name[node]!]!;
      return wanted === -1 ? -1 : attributeIndexed(tree, node, wanted);
    },
  };
}
