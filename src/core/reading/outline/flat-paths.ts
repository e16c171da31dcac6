import type { PartSite } from '../../xml/site.ts';
import { type FlatNode, isFieldName } from './flat-columns.ts';
import { wordsOf } from './words-in-text.ts';

/** Share of the lines that are a path and a value, and of the paths that lead into a record. */
const PURE = 0.98;
const DEEP = 0.6;
/** Longer texts are no lines. */
const LONGEST = 500;

interface Step {
  readonly name: string;
  readonly first: number;
  readonly values: FlatNode[];
  readonly below: Map<string, Step>;
}

/**
 * A list of lines of words each of which leads to one value: `zone office port eth1`. The words before the last are steps of
 * a tree. Null for lines that are records by themselves, or sentences.
 * @param texts decoded, not trimmed; `sites` are where they stand.
 */
export function pathLinesOf(
  nodes: readonly number[],
  texts: readonly string[],
  sites: readonly PartSite[],
): FlatNode[] | null {
  const lines = texts.map((text) => wordsOf(text));
  if (
    !arePaths(
      lines.flatMap((words) => (words ? [words.map(({ text }) => text)] : [])),
      texts.length,
    )
  )
    return null;
  const top = new Map<string, Step>();
  for (const [at, words] of lines.entries()) {
    if (!words) continue;
    let below = top;
    let step: Step | null = null;
    for (const { text } of words.slice(0, -1)) {
      step = below.get(text) ?? { name: text, first: nodes[at]!, values: [], below: new Map() };
      below.set(text, step);
      below = step.below;
    }
    const { from, text } = words[words.length - 1]!;
    const site: PartSite = { ...sites[at]!, part: [from, from + text.length] };
    step!.values.push({ name: step!.name, element: nodes[at]!, site, below: [] });
  }
  const made = (steps: Map<string, Step>): FlatNode[] =>
    [...steps.values()].flatMap(({ name, first, values, below }) =>
      below.size === 0 ? values : [{ name, element: first, site: null, below: [...values, ...made(below)] }],
    );
  return made(top);
}

/** Whether some lines look like paths that lead into records: all that a sample can tell. */
export function mayBePaths(texts: readonly string[]): boolean {
  const deep = texts.filter((text) => {
    const words = text.length < LONGEST ? text.split(/\s+/) : [];
    return words.length > 3 && isFieldName(words[words.length - 2]!);
  });
  return deep.length >= texts.length * DEEP * 0.9;
}

/** Whether lines share their beginnings as paths do, and end in the same few names before a value. */
function arePaths(lines: readonly (readonly string[])[], all: number): boolean {
  if (lines.length < all * PURE) return false;
  const heads = new Set<string>();
  const records = new Set<string>();
  const names = new Set<string>();
  const paths = new Set<string>();
  let deep = 0;
  for (const words of lines) {
    const path = words.slice(0, -1);
    if (path.length > 2) deep++;
    heads.add(path[0]!);
    records.add(path.slice(0, -1).join(' '));
    names.add(path[path.length - 1]!);
    paths.add(path.join(' '));
  }
  return (
    deep >= all * DEEP &&
    heads.size * 4 <= all &&
    names.size * 4 <= all &&
    records.size <= all * 0.7 &&
    paths.size >= all * 0.6 &&
    [...names].every(isFieldName)
  );
}
