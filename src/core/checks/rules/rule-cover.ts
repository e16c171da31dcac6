import { type Part, partCovers, samePart } from './intervals.ts';

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
  /** The same two, less marks that most rules of the list bear alike: few rules are turned round, or switched off. */
  readonly odd: Pick<RuleParts, 'turned' | 'unknown'>;
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
const MOST = 200_000;
const SEVERAL = '*';

/** For each rule the first one before it that covers it. Rules that share their parts are compared once. */
export function coversIn(rules: readonly RuleParts[]): Covers {
  const found: Cover[] = [];
  const before = new Earlier(rules);
  const told = new Map<RuleParts, Cover>();
  for (let rule = 0; rule < rules.length; rule++) {
    const own = rules[rule]!;
    const alike = told.get(own);
    if (alike) {
      found.push(alike.by === -1 ? { rule, by: alike.rule, same: true } : { ...alike, rule });
      continue;
    }
    const by = before.covering(rule);
    const cover = { rule, by, same: by !== -1 && covers(own, rules[by]!) };
    if (by !== -1) found.push(cover);
    if (before.tired) return { covers: found, cut: true };
    told.set(own, cover);
    before.add(rule);
  }
  return { covers: found, cut: false };
}

/**
 * The same for a list from which some rules are gone, worked out from what is known of the whole list: only rules whose
 * cover is gone are asked about again.
 */
export function coversWithout(rules: readonly RuleParts[], whole: Covers, gone: (rule: number) => boolean): Covers {
  if (!rules.some((_, rule) => gone(rule))) return whole;
  const left = whole.covers.filter(({ rule }) => !gone(rule));
  if (!left.some(({ by }) => gone(by))) return { covers: left, cut: whole.cut };
  const before = new Earlier(rules);
  const found: Cover[] = [];
  const told = new Map<RuleParts, Cover>();
  let added = 0;
  for (const cover of left) {
    if (!gone(cover.by)) {
      found.push(cover);
      continue;
    }
    for (; added < cover.rule; added++) if (!gone(added)) before.add(added);
    const { rule } = cover;
    const own = rules[rule]!;
    // What covers one covers all that come later and say the same.
    const alike = told.get(own);
    const by = alike ? alike.by : before.covering(rule);
    if (by === -1) continue;
    const made = { rule, by, same: alike ? alike.same : covers(own, rules[by]!) };
    told.set(own, made);
    found.push(made);
  }
  return { covers: found, cut: whole.cut || before.tired };
}

/** The rules before one, in buckets within which alone they can cover each other; of those that say the same the first. */
class Earlier {
  private readonly buckets = new Map<string, number[]>();
  private readonly added = new Set<RuleParts>();
  private left = MOST;

  constructor(private readonly rules: readonly RuleParts[]) {}

  /** True once so many were compared that the rest stays unsaid. */
  get tired(): boolean {
    return this.left <= 0;
  }

  add(rule: number): void {
    const own = this.rules[rule]!;
    if (this.added.has(own)) return;
    this.added.add(own);
    const key = bucketOf(own);
    const bucket = this.buckets.get(key);
    if (bucket) bucket.push(rule);
    else this.buckets.set(key, [rule]);
  }

  /** The first of them that covers a rule, -1 for none. */
  covering(rule: number): number {
    const own = bucketOf(this.rules[rule]!);
    let by = -1;
    // A rule of one network can be covered by one of the same network, or of several.
    for (const key of own.endsWith(SEVERAL) ? [own] : [own, bucketOf(this.rules[rule]!, SEVERAL)])
      for (const before of this.buckets.get(key) ?? []) {
        if ((by !== -1 && before > by) || this.left-- <= 0) break;
        if (covers(this.rules[before]!, this.rules[rule]!)) by = before;
      }
    return by;
  }
}

/** Rules in different buckets never cover each other, but for those that stand for several networks. */
function bucketOf({ unknown, scoped, parts }: RuleParts, whose = ''): string {
  let key = unknown;
  for (const name of scoped) {
    const part = parts.get(name);
    key += `\n${!part ? '' : whose || (part.named.size === 1 ? part.named.keys().next().value : SEVERAL)}`;
  }
  return key;
}
