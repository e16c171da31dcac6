import { type Plan, subjectOf } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import type { Trouble } from '../trouble.ts';
import { isAllowed } from '../xml/escape.ts';
import { pathFinder, siteAt } from '../xml/path.ts';
import { type Site, TEXT, valueAt } from '../xml/site.ts';
import { isLeaf, type Tree } from '../xml/tree.ts';
import { siteKey } from './edits.ts';

/** The units [from, to) of the decoded value at a site give way to `text`. */
export interface SpanChange {
  readonly site: Site;
  readonly from: number;
  readonly to: number;
  readonly text: string;
  readonly owner: string;
}

export interface SetValues {
  /** Whole values, by `siteKey`. */
  readonly whole: ReadonlyMap<string, { readonly site: Site; readonly value: string; readonly owner: string }>;
  readonly parts: readonly SpanChange[];
}

/** The values that the plan sets. A whole value outweighs changes of its parts. */
export function setValues(tree: Tree, reading: Reading, plan: Plan, troubles: Trouble[]): SetValues {
  const whole = new Map<string, { site: Site; value: string; owner: string }>();
  const parts: SpanChange[] = [];
  const find = pathFinder(tree);
  let items: Map<string, { from: number; value: string }[]> | null = null;
  for (const decision of plan.decisions) {
    if (decision.kind !== 'set-value') continue;
    const { path, value, was } = decision;
    const site = siteAt(tree, path, find);
    const trouble = (code: Trouble['code'], params = {}) => troubles.push({ code, params: { path, ...params } });
    if (!site) trouble('plan-value-missing');
    else if (site.attr === TEXT && !isLeaf(tree, site.node)) trouble('value-holds-elements');
    else if (![...value].every((char) => isAllowed(char.codePointAt(0)!))) trouble('value-not-allowed');
    else if (was === undefined) whole.set(siteKey(site), { site, value, owner: subjectOf(decision) });
    else {
      items ??= itemsOf(reading);
      const places = placesOf(valueAt(tree, site), was, items.get(siteKey(site)) ?? []);
      if (places.length === 0) trouble('plan-value-other', { was });
      for (const from of places)
        parts.push({ site, from, to: from + was.length, text: value, owner: subjectOf(decision) });
    }
  }
  return { whole, parts: parts.filter(({ site }) => !whole.has(siteKey(site))) };
}

/** Where `was` stands in a value: as a reference or port that was read there, else as words of their own. */
function placesOf(text: string, was: string, items: readonly { from: number; value: string }[]): number[] {
  const read = items.filter(({ value }) => value === was).map(({ from }) => from);
  if (read.length > 0) return [...new Set(read)].sort((a, b) => a - b);
  const places: number[] = [];
  for (let at = text.indexOf(was); at !== -1; at = text.indexOf(was, at + was.length)) {
    if (!isInWord(text, at, at + was.length)) places.push(at);
  }
  return places;
}

const wordUnit = /[\p{L}\p{N}_]/u;
const isInWord = (text: string, from: number, to: number) =>
  (wordUnit.test(text[from - 1] ?? '') && wordUnit.test(text[from]!)) ||
  (wordUnit.test(text[to] ?? '') && wordUnit.test(text[to - 1]!));

function itemsOf(reading: Reading): Map<string, { from: number; value: string }[]> {
  const items = new Map<string, { from: number; value: string }[]>();
  for (const { site, from, value } of [...reading.references, ...reading.dangling, ...reading.mentions]) {
    const key = siteKey(site);
    const list = items.get(key);
    if (list) list.push({ from, value });
    else items.set(key, [{ from, value }]);
  }
  return items;
}
