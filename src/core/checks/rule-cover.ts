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
const MOST = 200_000;
const SEVERAL = '*';

/** For each rule the first one before it that covers it. */
export function coversIn(rules: readonly RuleParts[]): Covers {
  const found: Cover[] = [];
  const before = new Earlier(rules);
  for (let rule = 0; rule < rules.length; rule++) {
    const by = before.covering(rule);
    if (by !== -1) found.push({ rule, by, same: covers(rules[rule]!, rules[by]!) });
    if (before.tired) return { covers: found, cut: true };
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
  let added = 0;
  for (const cover of left) {
    if (!gone(cover.by)) {
      found.push(cover);
      continue;
    }
    for (; added < cover.rule; added++) if (!gone(added)) before.add(added);
    const by = before.covering(cover.rule);
    if (by !== -1) found.push({ rule: cover.rule, by, same: covers(rules[cover.rule]!, rules[by]!) });
  }
  return { covers: found, cut: whole.cut || before.tired };
}

/** The rules before one, in buckets within which alone they can cover each other. */
class Earlier {
  private readonly buckets = new Map<string, number[]>();
  private readonly keys = new Map<number, string>();
  private left = MOST;

  constructor(private readonly rules: readonly RuleParts[]) {}

  /** True once so many were compared that the rest stays unsaid. */
  get tired(): boolean {
    return this.left <= 0;
  }

  add(rule: number): void {
    const key = this.keyOf(rule);
    const bucket = this.buckets.get(key);
    if (bucket) bucket.push(rule);
    else this.buckets.set(key, [rule]);
  }

  /** The first of them that covers a rule, -1 for none. */
  covering(rule: number): number {
    const own = this.keyOf(rule);
    let by = -1;
    // A rule of one network can be covered by one of the same network, or of several.
    for (const key of own.endsWith(SEVERAL) ? [own] : [own, bucketOf(this.rules[rule]!, SEVERAL)])
      for (const before of this.buckets.get(key) ?? []) {
        if ((by !== -1 && before > by) || this.left-- <= 0) break;
        if (covers(this.rules[before]!, this.rules[rule]!)) by = before;
      }
    return by;
  }

  private keyOf(rule: number): string {
    let key = this.keys.get(rule);
    if (key === undefined) {
      key = bucketOf(this.rules[rule]!);
      this.keys.set(rule, key);
    }
    return key;
  }
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
