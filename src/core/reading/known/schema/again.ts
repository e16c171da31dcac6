import { lowerBound } from '../../../text/lower-bound.ts';
import type { Tree } from '../../../xml/tree.ts';
import type { KnownFormat } from '../format.ts';
import type { DocumentView } from './data.ts';
import { Judge, type Judgement, summed, type Verdict } from './judge.ts';
import { lookersOf } from './looks.ts';
import { type Placing, placingOf } from './placing.ts';

/** Where this part of a document would have to be judged again, all of it is. */
const MOST = 1 / 3;

/**
 * Judges again what rests on some values that changed and on what went; the rest stands.
 * @param before the judgement of the document with all its elements and its own values
 * @param changed elements whose values changed
 * @returns null where about all of it has to be judged again
 */
export function judgeAgain(
  tree: Tree,
  format: KnownFormat,
  view: Omit<DocumentView, 'tree'>,
  before: Judgement,
  changed: readonly number[],
): Judgement | null {
  const placing = placingOf(tree, format);
  if (!placing) return null;
  const gone = outermostGone(tree, view.gone);
  // What wraps the data holds all of it.
  if (gone.some((node) => placing.schemaOf[node] === 0)) return null;
  const affected = new Set<number>();
  for (const node of [...changed, ...gone]) {
    if (placing.schemaOf[node]! <= 0) continue;
    affected.add(node);
    addOthers(tree, placing, node, affected);
  }
  if (affected.size > tree.size * MOST) return null;
  const again = [...affected].filter((node) => node === -1 || !view.gone(node)).sort((a, b) => a - b);
  const verdicts = new Judge(format, placing, { ...view, tree }).judgeOnly(again);
  return summed(merged(standing(tree, view.gone, before, affected), verdicts));
}

function outermostGone(tree: Tree, gone: (node: number) => boolean): number[] {
  const found: number[] = [];
  for (let node = 0; node < tree.size; node++) {
    if (!gone(node)) continue;
    found.push(node);
    node = tree.after[node]! - 1;
  }
  return found;
}

/** What an element is to others: one of its like beside it, a key of what is around it, something that is looked at. */
function addOthers(tree: Tree, placing: Placing, node: number, to: Set<number>): void {
  const { model, schemaOf } = placing;
  const { row } = model.nodes[schemaOf[node]!]!;
  const around = dataAround(tree, placing, node);
  to.add(around);
  if (around !== -1 && model.nodes[schemaOf[around]!]!.row.keys?.includes(row.name))
    to.add(dataAround(tree, placing, around));
  addLookers(tree, placing, node, to);
}

function dataAround(tree: Tree, { schemaOf }: Placing, node: number): number {
  const around = tree.parent[node]!;
  return around !== -1 && schemaOf[around]! > 0 ? around : -1;
}

function addLookers(tree: Tree, { model, schemaOf, elementsOf }: Placing, node: number, to: Set<number>): void {
  for (const { schema, within } of lookersOf(model).get(schemaOf[node]!) ?? []) {
    const all = elementsOf(schema.id);
    if (!within) {
      for (const one of all) to.add(one);
      continue;
    }
    let around = node;
    while (around !== -1 && schemaOf[around] !== within.id) around = tree.parent[around]!;
    if (around === -1) continue;
    for (let at = lowerBound(all, around); at < all.length && all[at]! < tree.after[around]!; at++) to.add(all[at]!);
  }
}

/** What was found where nothing changed; of strange elements those that are still there. */
function standing(
  tree: Tree,
  gone: (node: number) => boolean,
  { verdicts }: Judgement,
  affected: ReadonlySet<number>,
): Verdict[] {
  return verdicts.flatMap((verdict) => {
    const { at, faults } = verdict;
    if (at === tree.size) return { ...verdict, faults: faults.filter(({ node }) => !gone(node)) };
    return affected.has(at) || (at !== -1 && gone(at)) ? [] : verdict;
  });
}

function merged(a: readonly Verdict[], b: readonly Verdict[]): Verdict[] {
  return [...a, ...b].sort((one, other) => one.at - other.at);
}
