import { recordPath } from '../../compile/spread.ts';
import type { Decision } from '../../plan/plan.ts';
import { SiteSet } from '../../reading/fields/site-set.ts';
import { recordTest } from '../../reading/keys/record-test.ts';
import type { Reading } from '../../reading/reading.ts';
import { lowerBound } from '../../text/lower-bound.ts';
import type { Cause, Repair } from '../../views.ts';
import { pathOf } from '../../xml/path.ts';
import { type Site, TAG } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { byReferences, once } from '../facts/once.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';

type Params = Repair['params'];

/** More decisions than this are no repair any more; look at the list instead. */
export const MOST_DECISIONS = 200;

export const secretSites = once(
  (reading) => new SiteSet(reading.secrets),
  (reading) => reading.secrets,
);

/** A new value for a site; with `was`, for that word in it alone, which begins at `from`. */
interface NewValue {
  readonly site: Site;
  readonly value: string;
  readonly was?: string;
  readonly from?: number;
}

/** Sets values. What is a secret is not told to the page, and the name of an element is no text, so there is nothing for those. */
export function setTo(
  { reading, place, set }: Pick<CheckInput, 'reading' | 'place' | 'set'>,
  code: Repair['code'],
  params: Params,
  values: readonly NewValue[],
): Repair[] {
  const secrets = secretSites(reading);
  if (values.length === 0 || values.length > MOST_DECISIONS) return [];
  if (values.some(({ site }) => site.attr === TAG || secrets.has(site.node, site.attr))) return [];
  // Where a text holds several values, only a word of it can be set.
  const { texts } = reading.values;
  if (values.some(({ site, was }) => was === undefined && texts.has(site.node, site.attr))) return [];
  const decisions: Decision[] = [];
  for (const { site, value, was, from } of values) {
    const { path } = place(site);
    const own = was === undefined ? undefined : set.get(siteKey(site.node, site.attr))?.value;
    if (was === undefined) decisions.push({ kind: 'set-value', path, value });
    else if (own === undefined) decisions.push({ kind: 'set-value', path, value, was });
    // What the plan wrote there is no word of the donor, so all of the value is written anew.
    else if (from !== undefined)
      decisions.push({
        kind: 'set-value',
        path,
        value: `${own.slice(0, from)}${value}${own.slice(from + was.length)}`,
      });
    else return [];
  }
  return [{ code, params, decisions }];
}

/** Nodes that something names, ascending. */
const namedNodes = once((reading): Int32Array => {
  const named = new Int32Array(reading.references.length);
  let count = 0;
  for (const { to, tier } of reading.references) if (tier !== 'possible') named[count++] = to;
  return named.subarray(0, count).sort();
}, byReferences);

/** Whether something names the element or one inside it. */
export function isNamed(tree: Tree, reading: Reading, node: number): boolean {
  const named = namedNodes(reading);
  const at = lowerBound(named, node);
  return at < named.length && named[at]! < tree.after[node]!;
}

/** Leaves an element behind that nothing names, so that no reference is lost with it. */
export function leaveOut(
  { tree, reading }: Pick<CheckInput, 'tree' | 'reading'>,
  node: number,
  code: 'leave-out' | 'leave-out-other' = 'leave-out',
  params: Params = {},
): Repair[] {
  if (node === tree.root || isNamed(tree, reading, node)) return [];
  return [{ code, params, decisions: [{ kind: 'leave-out', path: recordPath(tree, reading, node) }] }];
}

/** Takes along what the plan leaves out: the record that a place lies in. */
export function carry(input: CheckInput, at: number, params: Params = {}): Repair[] {
  const { tree, plan } = input;
  const node = recordAround(input, at);
  const path = recordPath(tree, input.reading, node);
  const around = plan.decisions.filter(
    (decision) =>
      decision.kind === 'leave-out' &&
      decision.path !== path &&
      (decision.path.endsWith('[*]') || path.startsWith(`${decision.path}/`)),
  );
  const own = plan.decisions.some((decision) => decision.kind === 'leave-out' && decision.path === path);
  return own && around.length === 0
    ? [{ code: 'carry', params, decisions: [], withdraws: [`leave-out ${path}`] }]
    : [{ code: 'carry', params, decisions: [{ kind: 'keep', path }] }];
}

/** What the plan leaves behind with a record. */
export function causeOf(input: CheckInput, lost: number): Cause {
  const decision = input.leftBy(lost);
  return { key: decision ?? '', decision, lost: pathOf(input.tree, recordAround(input, lost)) };
}

/** Gives decisions up. */
export const takeBack = (withdraws: readonly string[], params: Params = {}): Repair[] =>
  withdraws.length > 0 ? [{ code: 'take-back', params, decisions: [], withdraws }] : [];

/** The innermost record around a node, itself included; the node where there is none. */
export function recordAround({ tree, reading }: Pick<CheckInput, 'tree' | 'reading'>, node: number): number {
  const isRecord = recordTest(reading.collections);
  for (let at = node; at !== -1; at = tree.parent[at]!) if (isRecord(at)) return at;
  return node;
}
