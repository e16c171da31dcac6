import type { SetValues } from '../../compile/set-values.ts';
import { keySite, keyValue } from '../../reading/keys/record-name.ts';
import type { Key } from '../../reading/reading.ts';
import { type Site, valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { siteKey } from '../facts/tables.ts';

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
  if (!own) return keyValue(tree, key, record);
  return site.part ? (spotAfter(own, ...site.part)?.text ?? '') : own.value.trim();
}

/** A word of a value once that is set. */
export interface Spot {
  readonly text: string;
  readonly from: number;
  readonly same: boolean;
}

/** What stands after a change where [from, to) stood before it; null where that cannot be told, or is nothing. */
export function spotAfter({ before, value, parts }: SetValue, from: number, to: number): Spot | null {
  const word = before.slice(from, to);
  if (parts) {
    let shift = 0;
    for (const part of parts) {
      if (part.from === from && part.to === to) return { text: part.text, from: from + shift, same: false };
      if (part.from < to && from < part.to) return null;
      if (part.to <= from) shift += part.text.length - (part.to - part.from);
    }
    return { text: word, from: from + shift, same: true };
  }
  // All that stands before and behind it, marks and other names, has to be the same.
  const [head, tail] = [before.slice(0, from).trimStart(), before.slice(to).trimEnd()];
  const inner = value.trim();
  if (inner.length <= head.length + tail.length || !inner.startsWith(head) || !inner.endsWith(tail)) return null;
  const text = inner.slice(head.length, inner.length - tail.length).trim();
  if (text === '') return null;
  return {
    text,
    from: value.indexOf(text, value.length - value.trimStart().length + head.length),
    same: text === word,
  };
}
