/** Names looked at for one value; more would cost more than a hint is worth. */
const MOST = 2000;

/** The name that is fewest edits away (insert, delete, replace), where that is at most a third of the value; else null. */
export function nearestName(value: string, names: Iterable<string>): string | null {
  let best: string | null = null;
  let allowed = Math.min(4, Math.floor(value.length / 3));
  let looked = 0;
  if (value.length > 80) return null;
  for (const name of names) {
    if (allowed < 1 || looked++ === MOST) break;
    if (name === value || Math.abs(name.length - value.length) > allowed) continue;
    const distance = editsBetween(value, name, allowed);
    if (distance > allowed) continue;
    best = name;
    allowed = distance - 1;
  }
  return best;
}

/** Levenshtein distance; any number above `most` where it is larger than that. */
function editsBetween(a: string, b: string, most: number): number {
  let above = Array.from({ length: b.length + 1 }, (_, k) => k);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      const edits = Math.min(above[j]! + 1, row[j - 1]! + 1, above[j - 1]! + same);
      row.push(edits);
      if (edits < least) least = edits;
    }
    if (least > most) return least;
    above = row;
  }
  return above[b.length]!;
}
