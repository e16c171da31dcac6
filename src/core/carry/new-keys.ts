import { spreadRecords } from '../compile/spread.ts';
import type { Decision } from '../plan/plan.ts';
import type { RecordLists } from '../reading/keys/record-lists.ts';
import { keySite, keyValue } from '../reading/keys/record-name.ts';
import type { Collection, Key, Reading } from '../reading/reading.ts';
import { sitePath } from '../xml/path.ts';
import type { Tree } from '../xml/tree.ts';
import { freshName } from './fresh-name.ts';

/** The key that a record goes over under, after so many tries. */
export interface NewKey {
  readonly tries: number;
  readonly key: string;
}

/** @param taken keys that other records go over under. */
export function nextKey(
  tree: Tree,
  { key, records }: Collection,
  node: number,
  tries: number,
  taken: readonly string[],
): NewKey {
  const used = new Set([...records.map((record) => keyValue(tree, key, record)), ...taken]);
  return { tries: tries + 1, key: freshName(keyValue(tree, key, node), used, tries + 1) };
}

/** The new keys as decisions: the key itself, and every reference that calls the record by it. */
export function keyDecisions(
  { tree, reading }: { readonly tree: Tree; readonly reading: Reading },
  lists: RecordLists,
  keys: ReadonlyMap<number, NewKey>,
): Decision[] {
  const decisions: Decision[] = [];
  if (keys.size === 0) return decisions;
  for (const [node, { key }] of keys) {
    const path = keyPath({ tree, reading }, lists.of(node)!.key, node);
    if (path !== null) decisions.push({ kind: 'set-value', path, value: key });
  }
  for (const { site, value, to } of reading.references) {
    const fresh = keys.get(to);
    if (!fresh || value !== keyValue(tree, lists.of(to)!.key, to)) continue;
    decisions.push({ kind: 'set-value', path: sitePath(tree, site), was: value, value: fresh.key });
  }
  return decisions;
}

/**
 * The path of a record's key, for `set-value`; null where it has none that can be set: none, a part of a text, or one that
 * each of several elements repeats.
 */
export function keyPath(
  { tree, reading }: { readonly tree: Tree; readonly reading: Reading },
  key: Key,
  node: number,
): string | null {
  const site = spreadRecords(tree, reading).has(node) ? null : keySite(tree, key, node);
  return site && !site.part ? sitePath(tree, site) : null;
}
