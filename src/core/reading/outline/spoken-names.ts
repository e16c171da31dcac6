import { isAddress } from '../../values/ip.ts';
import { isElement, isLeaf, type Tree } from '../../xml/tree.ts';
import type { Candidate, TextOfSettings } from './settings-in-text.ts';

/** Share of the words that the document has to have as values, numbers left out. */
const BORNE = 0.7;
/** So many names, addresses or numbers a text has: one that has a single name is rather a remark on it. */
const RELATED = 1.5;
/** Longer values are no names. */
const LONGEST = 40;

const known = new WeakMap<Tree, ReadonlySet<string>>();

/**
 * Whether texts that stand beside other settings say something of the document's records, and are no remarks: most words
 * in the places of values are addresses, or values of their own elsewhere, and most texts say several.
 * @param found by index of the text what it would be made of.
 */
export function areBorneOut(
  tree: Tree,
  group: readonly Candidate[],
  found: ReadonlyMap<number, TextOfSettings>,
): boolean {
  const byName = new Map<string, string[]>();
  let numbers = 0;
  for (const [at, { settings }] of found) {
    for (const { name, from, to } of settings) {
      for (const value of group[at]!.text.slice(from, to).split(/\s*,\s*/)) {
        if (/^\d+$/.test(value)) {
          numbers++;
          continue;
        }
        const values = byName.get(name);
        if (values) values.push(value);
        else byName.set(name, [value]);
      }
    }
  }
  let spoken = 0;
  let borne = 0;
  for (const values of byName.values()) {
    const named = values.filter((value) => isAddress(value) || valuesOf(tree).has(value)).length;
    // A word that all texts have, and nothing else, is one of the manner.
    if (named === 0 && new Set(values).size === 1) continue;
    spoken += values.length;
    borne += named;
  }
  return spoken > 0 && borne >= spoken * BORNE && borne + numbers >= found.size * RELATED;
}

/** Whether the document has a word as a value of its own. */
export const isNamed = (tree: Tree, word: string) => valuesOf(tree).has(word);

/** Short values of one word, as they are written. */
function valuesOf(tree: Tree): ReadonlySet<string> {
  const made = known.get(tree);
  if (made) return made;
  const values = new Set<string>();
  const add = (start: number, end: number) => {
    if (end <= start || end - start > LONGEST) return;
    const value = tree.text.slice(start, end).trim();
    if (!/\s/.test(value)) values.add(value);
  };
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    if (isLeaf(tree, node)) add(tree.openEnd[node]!, tree.closeStart[node]!);
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++)
      add(tree.valueStart[attr]!, tree.valueEnd[attr]!);
  }
  known.set(tree, values);
  return values;
}
