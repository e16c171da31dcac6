import { type Part, partCovers, samePart } from './sets.ts';

/** What a rule lets match, by part. A packet has to fit every part. */
export interface RuleParts {
  /** By the name of the part; a part that is missing lets everything match. */
  readonly parts: ReadonlyMap<string, Part>;
  /** Parts that are either alternatives or conditions, nobody knows: they compare only where both rules have the same. */
  readonly either: readonly (readonly string[])[];
  /** Parts that a rule has to have in common with another to be compared at all: rules of one network and rules of all. */
  readonly scoped: readonly string[];
  /** Parts whose meaning a switch beside them may turn round: they compare only where they are the same. */
  readonly turned: ReadonlySet<string>;
  /** Everything that is not understood, as text: it may change what matches. */
  readonly unknown: string;
}

/** True only where every packet that fits the second rule fits the first one. */
export function covers(a: RuleParts, b: RuleParts): boolean {
  if (a.unknown !== b.unknown) return false;
  for (const name of a.scoped) if (a.parts.has(name) !== b.parts.has(name)) return false;
  for (const [name, part] of a.parts) {
    const other = b.parts.get(name);
    const turned = a.turned.has(name) || b.turned.has(name);
    if (turned ? !samePart(part, other) : !partCovers(part, other)) return false;
  }
  for (const name of b.turned) if (!a.parts.has(name) && b.parts.has(name)) return false;
  for (const group of a.either) {
    const [ours, theirs] = [a, b].map(({ parts }) => group.filter((name) => parts.has(name)).join());
    if (ours !== '' && ours !== theirs) return false;
  }
  return true;
}

export interface Cover {
  /** Indices into the list: `rule` is reached by no packet, since `by` comes first. */
  readonly rule: number;
  readonly by: number;
  /** Both let exactly the same match. */
  readonly same: boolean;
}

export interface Covers {
  readonly covers: readonly Cover[];
  /** True where the list was too long to compare every pair. */
  readonly cut: boolean;
}

/** Comparisons for one list; past it the rest stays unsaid. */
const MOST = 400_000;
const SEVERAL = '*';

/** For each rule the first one before it that covers it. Rules that are off are not in the list. */
export function coversIn(rules: readonly RuleParts[]): Covers {
  const found: Cover[] = [];
  const buckets = new Map<string, number[]>();
  let left = MOST;
  for (const [at, rule] of rules.entries()) {
    const own = bucketOf(rule);
    let by = -1;
    // A rule of one network can be covered by one of the same network, or of several.
    for (const key of own.endsWith(SEVERAL) ? [own] : [own, bucketOf(rule, SEVERAL)]) {
      for (const before of buckets.get(key) ?? []) {
        if (by !== -1 && before > by) break;
        if (left-- <= 0) return { covers: found, cut: true };
        if (covers(rules[before]!, rule)) by = before;
      }
    }
    if (by !== -1) found.push({ rule: at, by, same: covers(rule, rules[by]!) });
    const bucket = buckets.get(own);
    if (bucket) bucket.push(at);
    else buckets.set(own, [at]);
  }
  return { covers: found, cut: false };
}

/** Rules in different buckets never cover each other, but for those that stand for several networks. */
function bucketOf({ unknown, scoped, parts }: RuleParts, whose = ''): string {
  const scope = scoped.map((name) => {
    const part = parts.get(name);
    if (!part) return '';
    return whose || (part.named.size === 1 ? [...part.named.keys()][0] : SEVERAL);
  });
  return [unknown, ...scope].join('\n');
}
