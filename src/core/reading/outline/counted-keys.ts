/** A kind of record, its number, and the field: `zone3_port`, `rule-12-from`. */
const counted = /^(\p{L}[\p{L}\p{M}_-]*?)[_-]?(\d{1,4})[_-]([\p{L}_].*)$/u;
/** Share of the keys that are so, and of those whose field comes back under another number. */
const MOSTLY = 0.8;
const AGAIN = 0.6;
/** Keys for each kind of record, at least, on average. */
const OF_KIND = 6;

/**
 * How flat names are cut that hold a counter: kind, number, field. Null where they are no such names.
 * @param keys of one list; others among them, as those of the machine, stay whole.
 */
export function countedKeys(keys: readonly string[]): ((key: string) => readonly string[]) | null {
  const kinds = new Map<string, Set<string>>();
  const fields = new Map<string, number>();
  let all = 0;
  for (const key of keys) {
    const [, kind, number, field] = counted.exec(key) ?? [];
    if (kind === undefined) continue;
    all++;
    kinds.set(kind, (kinds.get(kind) ?? new Set()).add(number!));
    fields.set(`${kind}\n${field}`, (fields.get(`${kind}\n${field}`) ?? 0) + 1);
  }
  if (all < keys.length * MOSTLY || kinds.size * OF_KIND > all || new Set(keys).size < keys.length) return null;
  let again = 0;
  for (const times of fields.values()) if (times > 1) again += times;
  if (again < all * AGAIN) return null;
  return (key) => {
    const found = counted.exec(key);
    return found && kinds.get(found[1]!)!.size > 1 ? found.slice(1, 4) : [key];
  };
}
