import type { Outline } from '../outline/outline.ts';
import { holdsRecords } from './held-rows.ts';

/** No more of them are compared with all. */
const SEEDS = 8;
/** Share of the kinds of record that documents of their own have in common, and how many those are at least. */
const CONTEXTS_ALIKE = 0.5;
const CONTEXT_KINDS = 3;
/** Share of what a layer holds that the one below it holds, too. */
const LAYERS_ALIKE = 0.8;
/** Kinds of item that are looked at. */
const MOST_ITEMS = 64;

/**
 * Which of some nodes hold records of the same kinds, several: they are documents of their own, whatever they are called. None
 * or at least two, by their indices.
 */
export function contextsAmong(outline: Outline, nodes: readonly number[]): number[] {
  const kinds = nodes.map((node) => listsIn(outline, node));
  const seeds = [...kinds.keys()].filter((at) => kinds[at]!.lists.size >= CONTEXT_KINDS).slice(0, SEEDS);
  let most: number[] = [];
  for (const seed of seeds) {
    const like = [...kinds.keys()].filter((at) => at === seed || areAlike(kinds[seed]!, kinds[at]!));
    if (like.length > most.length) most = like;
  }
  return most.length > 1 ? most : [];
}

/** Names of the lists of records in a node, and of the lists with what they hold, also where that is one record. */
interface Lists {
  readonly lists: ReadonlySet<number>;
  readonly items: ReadonlySet<string>;
}

function listsIn(outline: Outline, node: number): Lists {
  const { label, after } = outline;
  const lists = new Set<number>();
  const items = new Set<string>();
  for (let child = node + 1; child < after[node]!; child = after[child]!) {
    if (holdsRecords(child, outline)) lists.add(label[child]!);
    for (let item = child + 1; item < after[child]! && items.size < MOST_ITEMS; item = after[item]!)
      if (after[item]! > item + 1) items.add(`${label[child]!} ${label[item]!}`);
  }
  return { lists, items };
}

/** Whether two hold lists of the same kinds, or one holds hardly any that the other has not, as what is laid over it does. */
function areAlike(one: Lists, other: Lists): boolean {
  const common = commonOf(one.lists, other.lists);
  const all = one.lists.size + other.lists.size - common;
  if (common >= CONTEXT_KINDS && common >= all * CONTEXTS_ALIKE) return true;
  const [few, many] = one.items.size < other.items.size ? [one.items, other.items] : [other.items, one.items];
  const laid = commonOf(few, many);
  return laid >= CONTEXT_KINDS && laid >= few.size * LAYERS_ALIKE;
}

function commonOf<T>(one: ReadonlySet<T>, other: ReadonlySet<T>): number {
  let common = 0;
  for (const name of one) if (other.has(name)) common++;
  return common;
}
