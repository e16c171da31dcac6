import type { Outline } from '../outline/outline.ts';

/** Labels of everything inside, so that tables whose rows differ are told apart; bounded. */
export function signature(outline: Outline, node: number, numbers: Uint8Array): Set<number> {
  const labels = new Set<number>();
  const end = Math.min(outline.after[node]!, node + 60);
  for (let at = node + 1; at < end; at++) if (!numbers[outline.label[at]!]) labels.add(outline.label[at]!);
  return labels;
}

export function signatureCohesion(sets: readonly Set<number>[]): number {
  if (sets.length < 2) return 1;
  const counts = new Map<number, number>();
  for (const labels of sets) for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  let sum = 0;
  for (const labels of sets) {
    if (labels.size === 0) continue;
    let shared = 0;
    for (const label of labels) shared += (counts.get(label)! - 1) / (sets.length - 1);
    sum += shared / labels.size;
  }
  return sum / sets.length;
}

/** How alike nodes are in the labels that not nearly all of them have: 0 to 1. */
export function rareCohesion(sets: readonly Set<number>[]): number {
  const counts = new Map<number, number>();
  for (const labels of sets) for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  const rare = sets.map((labels) => new Set([...labels].filter((label) => counts.get(label)! < sets.length * 0.8)));
  const size = rare.reduce((sum, labels) => sum + labels.size, 0) / rare.length;
  return size < 1.5 ? 1 : signatureCohesion(rare.filter((labels) => labels.size > 0));
}
