import type { Decision, Finding, Repair } from '../../core/index.ts';

/** Fewer than this of one cause are told one by one. */
const FEW = 3;

/** Findings that are told as one: all of one cause, or one alone. */
export interface Bundle<T> {
  readonly key: string;
  /** In the order of the list; the bundle stands where the first of them did. */
  readonly items: readonly T[];
}

/** Puts what has one cause together. What was set aside has a reason of its own and stays apart. */
export function bundlesOf<T>(items: readonly T[], findingOf: (item: T) => Finding): Bundle<T>[] {
  const byCause = new Map<string, T[]>();
  const causeOf = (item: T): string | null => {
    const { code, cause, aside } = findingOf(item);
    return cause && !aside ? `${code} ${cause.key}` : null;
  };
  for (const item of items) {
    const cause = causeOf(item);
    const list = cause === null ? undefined : byCause.get(cause);
    if (list) list.push(item);
    else if (cause !== null) byCause.set(cause, [item]);
  }
  return items.flatMap((item, at) => {
    const cause = causeOf(item);
    const list = cause === null ? undefined : byCause.get(cause);
    if (!list || list.length < FEW) return [{ key: String(at), items: [item] }];
    return list[0] === item ? [{ key: cause!, items: list }] : [];
  });
}

/** More decisions than this are no one step. */
const MOST = 2000;

/** Repairs that all of the findings have, each with the decisions of all of them. */
export function repairsForAll(findings: readonly Finding[]): Repair[] {
  const [first, ...others] = findings;
  return (first?.repairs ?? []).flatMap(({ code, params }) => {
    const each = findings.map(({ repairs = [] }) => repairs.find((repair) => repair.code === code));
    if (each.some((repair) => repair === undefined) || others.length === 0) return [];
    const decisions = new Map<string, Decision>();
    for (const repair of each) for (const one of repair!.decisions) decisions.set(JSON.stringify(one), one);
    const withdraws = [...new Set(each.flatMap((repair) => repair!.withdraws ?? []))];
    if (decisions.size + withdraws.length > MOST) return [];
    return [{ code, params, decisions: [...decisions.values()], withdraws }];
  });
}
