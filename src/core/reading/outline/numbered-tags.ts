import { textOf } from '../../xml/site.ts';
import { firstElement, isElement, nextElement, type Tree } from '../../xml/tree.ts';
import { osFamily } from '../devices/os-names.ts';
import { type Kind, kindOf } from '../names/literals.ts';

/**
 * Tags that only count what they hold (`<entry1>`, `<entry2>`, or `<server1>` and `<server2>` for a list of two): from the
 * index of such a name to what is left of it without the number. Null where the document has none.
 *
 * All elements of a stem count from 0 or 1 without a gap below each parent, no value anywhere says one of the tags, and
 * what they hold is built alike; else the tags are keys, or sections of their own (`<phase1>`, `<phase2>`). Single values
 * are of one kind, or of one that each place has beside others, and where all parents have as many, of one that is no mere
 * word: else they are the columns of a table whose columns have numbers for names.
 * @param said elements that are names themselves: what they are called counts nothing.
 */
export function numberedTagsOf(tree: Tree, said: ReadonlySet<number> | null): ReadonlyMap<number, string> | null {
  const split = tree.names.map((name) => /^(.*\D)(\d{1,6})$/.exec(name));
  if (!split.some((one) => one !== null)) return null;
  const stems = new Map<string, Stem>();
  const next = new Map<string, number>();
  /** How many of each stem the present parent has. */
  const held = new Map<string, number>();
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    next.clear();
    held.clear();
    for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
      const [, stem, digits] = split[tree.name[child]!] ?? [];
      if (stem === undefined || digits === undefined) continue;
      const number = Number(digits);
      const expected = next.get(stem);
      const known = stems.get(stem) ?? {
        broken: false,
        parents: 0,
        counts: new Set(),
        most: 0,
        samples: [],
        leaves: 0,
        all: 0,
      };
      stems.set(stem, known);
      if (String(number) !== digits || (expected === undefined ? number > 1 : number !== expected)) known.broken = true;
      if (expected === undefined) known.parents++;
      next.set(stem, number + 1);
      known.most = Math.max(known.most, number);
      known.all++;
      held.set(stem, (held.get(stem) ?? 0) + 1);
      if (tree.after[child] === child + 1 && tree.attrFirst[child] === tree.attrFirst[child + 1]) known.leaves++;
      if (known.samples.length < SAMPLES) known.samples.push(child);
    }
    for (const [stem, count] of held) stems.get(stem)!.counts.add(count);
  }
  for (const [stem, known] of stems) if (osFamily(`${stem}0`) || !counts(tree, known)) stems.delete(stem);
  for (const node of said ?? []) stems.delete(split[tree.name[node]!]?.[1] ?? '');
  if (stems.size === 0) return null;
  for (const { index, 0: word } of tree.text.matchAll(/[\p{L}_][\p{L}\p{M}\p{N}_.:-]*\d/gu)) {
    const before = tree.text[index - 1];
    if (before === '<' || (before === '/' && tree.text[index - 2] === '<')) continue;
    stems.delete(word.replace(/\d+$/, ''));
  }
  const found = new Map<number, string>();
  for (const [name, parts] of split.entries()) if (parts && stems.has(parts[1]!)) found.set(name, parts[1]!);
  return found.size > 0 ? found : null;
}

interface Stem {
  broken: boolean;
  parents: number;
  /** How many of them one parent has. */
  readonly counts: Set<number>;
  most: number;
  readonly samples: number[];
  leaves: number;
  all: number;
}

/** Kinds of value that stand in any column. */
const wordy = new Set<Kind>(['name', 'phrase', 'text', 'integer']);
const SAMPLES = 60;
/** Mean share of the names inside that the others have too. */
const ALIKE = 0.5;

function counts(tree: Tree, { broken, parents, counts: sizes, most, samples, leaves, all }: Stem): boolean {
  if (broken || most < 2 || all < parents + 1 || (parents === 1 && all < 3)) return false;
  if (leaves === all) {
    const kinds = new Set(samples.map((node) => kindOf(textOf(tree, node).trim())));
    if (kinds.size > 1) return sizes.size > 1 && shareKind(tree, samples);
    return parents === 1 || sizes.size > 1 || ![...kinds].some((kind) => wordy.has(kind));
  }
  return parents > 1 && likeness(tree, samples) >= ALIKE;
}

/** True where some kind of value stands under each of the tags. */
function shareKind(tree: Tree, nodes: readonly number[]): boolean {
  const byTag = new Map<number, Set<Kind>>();
  for (const node of nodes) {
    const kinds = byTag.get(tree.name[node]!) ?? new Set();
    byTag.set(tree.name[node]!, kinds.add(kindOf(textOf(tree, node).trim())));
  }
  const [first, ...others] = byTag.values();
  return [...first!].some((kind) => others.every((kinds) => kinds.has(kind)));
}

/** How much of what elements hold their neighbours hold too: the mean over those that have neighbours, 0 to 1. */
function likeness(tree: Tree, nodes: readonly number[]): number {
  let sum = 0;
  let pairs = 0;
  for (let at = 1; at < nodes.length; at++) {
    const [one, other] = [nodes[at - 1]!, nodes[at]!];
    if (tree.parent[one] !== tree.parent[other]) continue;
    const names = namesInside(tree, one);
    const others = namesInside(tree, other);
    let shared = 0;
    for (const name of names) if (others.has(name)) shared++;
    sum += names.size + others.size === 0 ? 1 : shared / (names.size + others.size - shared);
    pairs++;
  }
  return pairs === 0 ? 0 : sum / pairs;
}

/** Names of the elements in an element, and of its attributes as negative numbers. */
function namesInside(tree: Tree, node: number): Set<number> {
  const names = new Set<number>();
  for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child))
    names.add(tree.name[child]!);
  for (let at = tree.attrFirst[node]!; at < tree.attrFirst[node + 1]!; at++) names.add(-1 - tree.attrName[at]!);
  return names;
}
