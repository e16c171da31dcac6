/** Longer values are no names that someone mistyped. */
const LONGEST = 80;
/** Names looked at for one value; more would cost more than a hint is worth. */
const MOST = 1000;

/**
 * The name that is fewest edits away (insert, delete, replace), where that is at most a third of the value; else null.
 * @param most edits that count as near.
 */
export function nearestName(value: string, names: Iterable<string>, most = 4): string | null {
  let best: string | null = null;
  let allowed = Math.min(most, Math.floor(value.length / 3));
  let looked = 0;
  if (value.length > LONGEST) return null;
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

/** Two rows of the table of edits, used in turn. */
const rows = [new Uint8Array(LONGEST + 8), new Uint8Array(LONGEST + 8)] as const;

/** Levenshtein distance; any number above `most` where it is larger than that. */
function editsBetween(a: string, b: string, most: number): number {
  let [above, row] = rows;
  for (let j = 0; j <= b.length; j++) above[j] = j;
  for (let i = 1; i <= a.length; i++) {
    row[0] = i;
    let least = i;
    const unit = a.charCodeAt(i - 1);
    for (let j = 1; j <= b.length; j++) {
      const same = above[j - 1]! + (unit === b.charCodeAt(j - 1) ? 0 : 1);
      const edits = Math.min(above[j]! + 1, row[j - 1]! + 1, same);
      row[j] = edits;
      if (edits < least) least = edits;
    }
    if (least > most) return least;
    [above, row] = [row, above];
  }
  return above[b.length]!;
}
