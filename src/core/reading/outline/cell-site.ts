import { attributeValue, type Site, TEXT, textOf } from '../../xml/site.ts';
import { attributesOf, elementsOf, firstElement, isLeaf, nameOf, nextElement, type Tree } from '../../xml/tree.ts';
import { tablesOf } from './tables.ts';

const columnStep = /^([^[]+)\[(.*)\]$/s;

/** Whether a step of a key names a cell by its column: `cell[name]`. */
export const isColumn = (step: string): boolean => step.endsWith(']');

/**
 * The value of the cell that belongs to a column, inside of a row: one whose place the head of its table tells, that an
 * attribute names, or that holds its name and its value as elements. Null where the row has none.
 */
export function cellSite(tree: Tree, row: number, step: string): Site | null {
  const [, tag, column] = columnStep.exec(step) ?? [];
  if (tag === undefined || column === undefined) return null;
  for (const cell of elementsOf(tree, row)) {
    if (nameOf(tree, cell) !== tag) continue;
    if (tablesOf(tree)?.columnOf.get(cell) === step) return { node: cell, attr: TEXT };
    const [first, end] = attributesOf(tree, cell);
    for (let attr = first; attr < end; attr++)
      if (attributeValue(tree, attr) === column) return valueBeside(tree, cell, attr, first, end);
    const name = firstElement(tree, cell);
    const value = name === -1 ? -1 : nextElement(tree, name);
    if (value !== -1 && isLeaf(tree, name) && isLeaf(tree, value) && textOf(tree, name).trim() === column)
      return { node: value, attr: TEXT };
  }
  return null;
}

/** What stands in a cell that an attribute names: its text, else its one other attribute, else the element inside. */
function valueBeside(tree: Tree, cell: number, name: number, first: number, end: number): Site {
  const inner = firstElement(tree, cell);
  if (inner !== -1 && isLeaf(tree, inner)) return { node: inner, attr: TEXT };
  if (end - first === 2 && textOf(tree, cell).trim() === '')
    return { node: cell, attr: name === first ? first + 1 : first };
  return { node: cell, attr: TEXT };
}
