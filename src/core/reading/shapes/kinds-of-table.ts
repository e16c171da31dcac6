import { largestOf } from '../../lists.ts';
import { type Kind, kindOf } from '../names/literals.ts';
import type { Outline } from '../outline/outline.ts';

/** Values of one table that are looked at. */
const LOOK = 80;
/** Share of what columns of one name hold that two tables have in common, below which they are tables of other things. */
const ALIKE = 0.75;
/** Share of names of tables that are said elsewhere, too; names of records mostly are. */
const SAID = 0.3;

const literals: readonly Kind[] = ['address', 'integer', 'number', 'mac', 'opaque'];

/** What tells tables of other things apart: the label of a leaf or attribute, or their order where they have none. */
export type TableName = { readonly label: number } | 'order';

/**
 * Of elements that hold records: what they are called by, where their columns have the same names (`c1`, `cell[2]`) and hold
 * other things in each, as tables do that are written in one way; null where they are records of one kind themselves.
 * @param times by index of a value, how often the document has it.
 */
export function tableNameOf(outline: Outline, nodes: readonly number[], times: Int32Array): TableName | null {
  const columns = nodes.map((node) => columnsIn(outline, node));
  const names = new Map<number, number>();
  const kinds = new Map<number, number>();
  const add = (counts: Map<number, number>, key: number) => counts.set(key, (counts.get(key) ?? 0) + 1);
  for (const own of columns)
    for (const [label, kind] of own) {
      add(names, label);
      add(kinds, label * (literals.length + 1) + kind);
    }
  // Of two tables that have a column of the name, how often it holds the same.
  const pairs = (counts: Map<number, number>) => [...counts.values()].reduce((sum, n) => sum + n * (n - 1), 0);
  const all = pairs(names);
  if (all === 0 || pairs(kinds) >= all * ALIKE) return null;
  return namedBy(outline, nodes, times);
}

/** For each label of values inside a node but for its own leaves what most of them are; 0 for words. */
function columnsIn({ after, label, value, values }: Outline, node: number): Map<number, number> {
  const counts = new Map<number, number[]>();
  let seen = 0;
  for (let child = node + 1; child < after[node]! && seen < LOOK; child = after[child]!)
    for (let at = child + 1; at < after[child]! && seen < LOOK; at++) {
      if (value[at] === -1 || after[at]! > at + 1) continue;
      seen++;
      let own = counts.get(label[at]!);
      if (!own) {
        own = new Array<number>(literals.length + 1).fill(0);
        counts.set(label[at]!, own);
      }
      own[1 + literals.indexOf(kindOf(values[value[at]!]!))]!++;
    }
  return new Map([...counts].map(([name, own]) => [name, own.indexOf(largestOf(own))]));
}

function namedBy(
  { after, label, value, values }: Outline,
  nodes: readonly number[],
  times: Int32Array,
): TableName | null {
  const told = new Map<number, number[]>();
  for (const node of nodes)
    for (let child = node + 1; child < after[node]!; child = after[child]!) {
      if (after[child]! > child + 1 || value[child] === -1) continue;
      const list = told.get(label[child]!);
      if (list) list.push(value[child]!);
      else told.set(label[child]!, [value[child]!]);
    }
  if (told.size === 0) return 'order';
  let count: TableName | null = null;
  for (const [name, list] of told) {
    if (list.length !== nodes.length || new Set(list).size < list.length) continue;
    if (list.filter((one) => times[one]! > 1).length > list.length * SAID) continue;
    // A number says nothing of what it counts where a name stands beside it.
    if (!list.every((one) => /^\d+$/.test(values[one]!))) return { label: name };
    count ??= { label: name };
  }
  return count;
}
