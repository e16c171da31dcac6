import type { SetValues } from '../compile/set-values.ts';
import type { Key } from '../reading/reading.ts';
import { keySite, keyValue } from '../reading/record-name.ts';
import { type Site, valueAt } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import { siteKey } from './tables.ts';

/** A value that the plan sets. */
export interface SetValue {
  readonly site: Site;
  readonly before: string;
  /** As it comes out but for new names of ports. */
  readonly value: string;
  /** Parts of the value before that were set one by one, ascending; null where all of it was. */
  readonly parts: SetValues['parts'] | null;
}

/** The new values by site; those that are as they were left out. */
export function setIn(tree: Tree, { whole, parts }: SetValues): Map<number, SetValue> {
  const set = new Map<number, SetValue>();
  const add = (site: Site, value: string, own: SetValue['parts']) => {
    const before = valueAt(tree, site);
    if (before !== value) set.set(siteKey(site.node, site.attr), { site, before, value, parts: own });
  };
  for (const { site, value } of whole.values()) add(site, value, null);
  const bySite = new Map<number, SetValues['parts'][number][]>();
  for (const part of parts) {
    const key = siteKey(part.site.node, part.site.attr);
    const list = bySite.get(key);
    if (list) list.push(part);
    else bySite.set(key, [part]);
  }
  for (const list of bySite.values()) {
    list.sort((a, b) => a.from - b.from);
    const { site } = list[0]!;
    const before = valueAt(tree, site);
    let value = '';
    let at = 0;
    for (const { from, to, text } of list) {
      value += before.slice(at, from) + text;
      at = to;
    }
    add(site, value + before.slice(at), list);
  }
  return set;
}

/** The decoded value at a site, not trimmed: as the plan sets it, else as the donor has it. */
export function valueIn(tree: Tree, set: ReadonlyMap<number, SetValue>, site: Site): string {
  return set.get(siteKey(site.node, site.attr))?.value ?? valueAt(tree, site);
}

/** What a key says of one record, as the plan sets it. */
export function keyIn(tree: Tree, set: ReadonlyMap<number, SetValue>, key: Key, record: number): string {
  if (set.size === 0) return keyValue(tree, key, record);
  const site = keySite(tree, key, record);
  const own = site && set.get(siteKey(site.node, site.attr));
  return own ? own.value.trim() : keyValue(tree, key, record);
}
