import type { SetValues } from '../../compile/set-values.ts';
import { type FieldData, withFields } from '../../reading/fields/fields.ts';
import { oddPlaces } from '../../reading/fields/outliers.ts';
import { SiteSet } from '../../reading/fields/site-set.ts';
import { inOneShape } from '../../reading/one-shape.ts';
import type { Dangling, Outlier, Reading } from '../../reading/reading.ts';
import { type Site, TEXT } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { eachCellAt, siteKey, siteOf } from '../facts/tables.ts';
import { amendCertificates, unreadCertificates } from './amended-certificates.ts';
import { amendLinks } from './amended-links.ts';
import { type SetValue, setIn, spotAfter, valueIn } from './set-value.ts';

/**
 * The reading as it would be with the values that the plan sets: the records, fields and targets of the donor, and other
 * values in them. It is not inferred anew, since what one value says must not change what the others mean.
 */
export interface Amended {
  readonly reading: Reading;
  readonly set: ReadonlyMap<number, SetValue>;
  /** References that lost their record by what was set. */
  readonly lost: ReadonlySet<Dangling>;
}

const nothingSet: Pick<Amended, 'set' | 'lost'> = { set: new Map(), lost: new Set() };

interface Last {
  readonly asked: string;
  readonly amended: Amended;
}

const last = new WeakMap<Reading, Last>();

/** Made again only where other values are set, so that what is derived from it stays. */
export function amend(tree: Tree, reading: Reading, values: SetValues): Amended {
  const set = setIn(tree, values);
  if (set.size === 0) return { reading, ...nothingSet };
  const asked = [...set]
    .map(([key, { value }]) => `${key} ${value.length} ${value}`)
    .sort()
    .join('\n');
  const known = last.get(reading);
  if (known?.asked === asked) return known.amended;
  const amended = amendedReading(tree, reading, set);
  last.set(reading, { asked, amended });
  return amended;
}

function amendedReading(tree: Tree, reading: Reading, set: ReadonlyMap<number, SetValue>): Amended {
  const isSet = ({ node, attr }: Site) => set.has(siteKey(node, attr));
  const { lost, ...links } = amendLinks(tree, reading, set);
  const fields = amendFields(reading, set);
  const made: Reading = {
    ...reading,
    ...links,
    values: withFields(reading.values, fields),
    remarks: reading.remarks.filter(({ site, port }) => hasWord(valueIn(tree, set, site), port)),
    publicKeys: reading.publicKeys.filter(({ site }) => !isSet(site)),
    certificates: amendCertificates(reading, fields, set),
    boxBound: reading.boxBound.filter(({ node, attr }) => !isSet({ node, attr: attr >= 0 ? attr : TEXT })),
  };
  const outliers = [
    ...reading.outliers.filter(({ site }) => !isSet(site)),
    ...unreadCertificates(set),
    ...oddIn(made, set),
  ];
  return { reading: inOneShape({ ...made, outliers }), set, lost };
}

/** What is set and looks like a slip among the values of its field. */
function oddIn(amended: Reading, set: ReadonlyMap<number, SetValue>): Outlier[] {
  const sites = [...set.values()].map(({ site }) => site);
  const touched = new Map<FieldData, Set<number>>();
  eachCellAt(amended, sites, ({ field, place }) => touched.set(field, (touched.get(field) ?? new Set()).add(place)));
  const found = [...touched].flatMap(([field, places]) =>
    oddPlaces(field).flatMap(({ place, expected }) =>
      places.has(place) ? [{ site: siteOf(field, place), expected }] : [],
    ),
  );
  if (found.length === 0) return [];
  const explained = new SiteSet(amended.references, amended.dangling, amended.mentions);
  return found.filter(({ site }) => !explained.has(site.node, site.attr));
}

/** Fields in which nothing was set are the same objects. */
function amendFields(reading: Reading, set: ReadonlyMap<number, SetValue>): readonly FieldData[] {
  const amended = new Map<FieldData, string[]>();
  const sites = [...set.values()].map(({ site }) => site);
  eachCellAt(reading, sites, ({ field, place }, key) => {
    const values = amended.get(field) ?? [...field.values];
    values[place] = valueAfter(field, place, set.get(key)!);
    amended.set(field, values);
  });
  return reading.values.fields.map((field) => {
    const values = amended.get(field);
    return values ? field.with(values) : field;
  });
}

/** What a place holds once the value there is set; of a text of several its own part, as it was where that cannot be told. */
function valueAfter({ begins, values }: FieldData, place: number, set: SetValue): string {
  if (!begins) return set.value.trim();
  const before = values[place]!;
  const begin = begins[place]!;
  const end = begin + before.length;
  if (!set.parts) return spotAfter(set, begin, end)?.text ?? before;
  let value = '';
  let at = begin;
  for (const { from, to, text } of set.parts) {
    if (from < begin || to > end) continue;
    value += before.slice(at - begin, from - begin) + text;
    at = to;
  }
  return value + before.slice(at - begin);
}

const wordUnit = /[\p{L}\p{N}_]/u;

/** Whether a text holds a word that is not part of another one. */
function hasWord(text: string, word: string): boolean {
  for (let at = text.indexOf(word); at !== -1; at = text.indexOf(word, at + 1))
    if (!wordUnit.test(text[at - 1] ?? '') && !wordUnit.test(text[at + word.length] ?? '')) return true;
  return false;
}
