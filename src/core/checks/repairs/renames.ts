import { freshKey } from '../../compile/fresh-key.ts';
import { SiteSet } from '../../reading/fields/site-set.ts';
import { recordLists } from '../../reading/keys/record-lists.ts';
import { keySite } from '../../reading/keys/record-name.ts';
import type { Reading } from '../../reading/reading.ts';
import type { Repair } from '../../views.ts';
import { isName } from '../../xml/name.ts';
import { type Site, TAG, TEXT } from '../../xml/site.ts';
import { keyIn, valueIn } from '../amended/set-value.ts';
import { byReferences, once } from '../facts/once.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { MOST_DECISIONS, secretSites, setTo } from './repairs.ts';

type Params = Repair['params'];

const deviceSites = once(
  ({ mentions }) => new SiteSet(mentions),
  ({ mentions }) => mentions,
);

/** References by the record that they name. */
const referencesTo = once((reading): ReadonlyMap<number, Reading['references']> => {
  const found = new Map<number, Reading['references'][number][]>();
  for (const one of reading.references) {
    const list = found.get(one.to);
    if (list) list.push(one);
    else found.set(one.to, [one]);
  }
  return found;
}, byReferences);

/** Collections that are named by the same fields, its own included. */
const companyOf = once(
  ({ fields, collections }): readonly ReadonlySet<number>[] => {
    const company = collections.map((_, at) => new Set([at]));
    for (const { targets } of fields) for (const one of targets) for (const other of targets) company[one]!.add(other);
    return company;
  },
  ({ collections }) => collections,
);

/** Keys and labels of each collection, with the records that go by them; made where they are asked for. */
const namesIn = once((): Map<number, ReadonlyMap<string, readonly number[]>> => new Map());

/** The records of a collection by what they are called, once values are set. */
export function recordsByName(
  { tree, reading, set }: Pick<CheckInput, 'tree' | 'reading' | 'set'>,
  collection: number,
): ReadonlyMap<string, readonly number[]> {
  const all = namesIn(reading);
  const known = all.get(collection);
  if (known) return known;
  const names = new Map<string, number[]>();
  const { key, label, records } = reading.collections[collection]!;
  for (const node of records)
    for (const by of label ? [key, label] : [key]) {
      const name = keyIn(tree, set, by, node);
      const list = names.get(name);
      if (!list) names.set(name, [node]);
      else if (list.at(-1) !== node) list.push(node);
    }
  all.set(collection, names);
  return names;
}

/** How many places name a record so. */
export const usesOf = ({ reading }: Pick<CheckInput, 'reading'>, record: number, name: string): number =>
  (referencesTo(reading).get(record) ?? []).filter(({ value }) => value === name).length;

/** The record whose name stands at a site, null where it is no record's. */
export function namedAt({ tree, reading }: CheckInput, { node, attr }: Site): number | null {
  const lists = recordLists(reading);
  for (let at = node; at !== -1; at = tree.parent[at]!) {
    const collection = lists.indexOf(at);
    if (collection === -1) continue;
    const { key, label } = reading.collections[collection]!;
    const isIt = [key, ...(label ? [label] : [])].some((by) => {
      const site = keySite(tree, by, at);
      return site?.node === node && site.attr === attr;
    });
    return isIt ? at : null;
  }
  return null;
}

/**
 * Another name for a record, and for it in every place that names it, in lists and behind marks, too. Nothing where that
 * would not be whole or not be plain: where a place may or may not name it, where another record has the new name or the
 * old one, where a device is called so, or where one of the values is a secret.
 */
export function renameRecord(input: CheckInput, record: number, from: string, to: string, more: Params = {}): Repair[] {
  const { tree, reading, set, place } = input;
  const collection = recordLists(reading).indexOf(record);
  if (collection === -1 || from === to || from === '' || to === '') return [];
  const { key, label, together } = reading.collections[collection]!;
  const by = [key, ...(label ? [label] : [])].find((one) => keyIn(tree, set, one, record) === from);
  const site = by && keySite(tree, by, record);
  if (!site || together) return [];
  for (const other of companyOf(reading)[collection]!)
    if ((recordsByName(input, other).get(to) ?? []).some((node) => node !== record)) return [];
  const uses = (referencesTo(reading).get(record) ?? []).filter(({ value }) => value === from);
  if (uses.some(({ tier }) => tier === 'possible') || uses.length > MOST_DECISIONS) return [];
  if (deviceSites(reading).has(site.node, site.attr)) return [];
  const own = valueIn(tree, set, site);
  if (own.trim() !== from) return [];
  const spots = new Map<number, { site: Site; starts: number[] }>();
  for (const use of uses) {
    const known = spots.get(siteKey(use.site.node, use.site.attr));
    if (known) known.starts.push(use.from);
    else spots.set(siteKey(use.site.node, use.site.attr), { site: use.site, starts: [use.from] });
  }
  const places = [{ site, starts: [own.indexOf(from)] }, ...spots.values()];
  const texts = places.filter((one) => one.site.attr !== TAG);
  const tags = places.filter((one) => one.site.attr === TAG);
  if (tags.length > 0 && !isName(to)) return [];
  const params = { name: from, to, count: uses.length, ...more };
  const [texted] = setTo(
    input,
    'rename-record',
    params,
    texts.map((one) => ({ site: one.site, ...newValue(input, one, from, to) })),
  );
  if (texts.length > 0 && !texted) return [];
  if (tags.some((one) => secretSites(reading).has(one.site.node, TEXT))) return [];
  const renamed = tags.map((one) => ({ kind: 'set-value' as const, path: place(one.site).path, value: to }));
  return [{ code: 'rename-record', params, decisions: [...renamed, ...(texted?.decisions ?? [])] }];
}

/** A record whose name another has called otherwise; what names the two means the first, as long as nothing says more. */
export function renameApart(input: CheckInput, record: number, name: string): Repair[] {
  const collection = recordLists(input.reading).indexOf(record);
  if (collection === -1) return [];
  const taken = new Set(recordsByName(input, collection).keys());
  return renameRecord(
    input,
    record,
    name,
    freshKey(name, taken, () => false, name, name),
  );
}

/** The name alone where the donor has it there; all of the value where the plan wrote it. */
function newValue(
  { set }: CheckInput,
  { site, starts }: { site: Site; starts: readonly number[] },
  from: string,
  to: string,
) {
  const own = set.get(siteKey(site.node, site.attr))?.value;
  if (own === undefined) return { value: to, was: from };
  let value = own;
  for (const at of [...starts].sort((a, b) => b - a)) value = value.slice(0, at) + to + value.slice(at + from.length);
  return { value };
}
