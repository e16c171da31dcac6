import type { CarryTreeRow, CarryWindow, CarryWindowQuery } from '../../views.ts';
import { Row } from './carry-tree.ts';
import type { CarryView } from './carry-view.ts';

/**
 * The rows in sight between two places: those of the tree whose rows around them are open, or those that a search finds.
 * Costs a look at each row in sight; only those that are asked for are made.
 */
export function carryWindow(view: CarryView, query: CarryWindowQuery): CarryWindow {
  const { tree } = view;
  const shown: Shown[] = [];
  let total = 0;
  const add = (row: number, level: number, at: number, of: number, above: number): number => {
    if (total >= query.from && shown.length < query.limit) shown.push({ row, level, at, of, above });
    return total++;
  };
  if (query.words.trim() !== '') {
    const found = view.rowsFound(query.words).filter((row) => view.fits(row, query.filter));
    for (const [at, row] of found.entries()) add(row, 1, at + 1, found.length, -1);
  } else {
    const open = new Set(query.open.map((id) => view.rowAt(id)));
    const inRow = (row: number) => tree.children.subarray(tree.first[row + 1]!, tree.first[row + 2]!);
    const walk = (row: number, level: number, above: number) => {
      let inside = inRow(row);
      // One collection alone would only say again what the row around it says.
      if (inside.length === 1 && tree.kind[inside[0]!] === Row.collection) inside = inRow(inside[0]!);
      const fitting = query.filter === 'all' ? inside : inside.filter((child) => view.fits(child, query.filter));
      for (let at = 0; at < fitting.length; at++) {
        const child = fitting[at]!;
        const place = add(child, level, at + 1, fitting.length, above);
        if (open.has(child)) walk(child, level + 1, place);
      }
    };
    walk(-1, 1, -1);
  }
  const rows = view.views(shown.map(({ row }) => row));
  return {
    total,
    from: query.from,
    rows: rows.map((row, at): CarryTreeRow => {
      const { level, at: place, of, above } = shown[at]!;
      return { ...row, level, at: place, of, above };
    }),
  };
}

interface Shown {
  readonly row: number;
  readonly level: number;
  readonly at: number;
  readonly of: number;
  readonly above: number;
}
