import { keySite } from '../../reading/keys/record-name.ts';
import type { Dangling, Reading, Reference, TaggedRecord, Tagging } from '../../reading/reading.ts';
import { nearestName } from '../../reading/references/nearest.ts';
import { lowerBound } from '../../text/lower-bound.ts';
import type { Site } from '../../xml/site.ts';
import { isWithin, type Tree } from '../../xml/tree.ts';
import { eachCellAt, siteKey } from '../facts/tables.ts';
import { NamesInValues } from './names-in-values.ts';
import { keyIn, type SetValue, spotAfter } from './set-value.ts';

type SetValues = ReadonlyMap<number, SetValue>;
type Links = Pick<Reading, 'references' | 'dangling' | 'mentions' | 'bindings' | 'tagging' | 'aggregates'>;

/** What names what, once values are set: where one names another record, and where a record got another name. */
export function amendLinks(
  tree: Tree,
  reading: Reading,
  set: SetValues,
): Links & { readonly lost: ReadonlySet<Dangling> } {
  const at = ({ site }: { readonly site: { readonly node: number; readonly attr: number } }) =>
    set.get(siteKey(site.node, site.attr));
  const names = new Names(tree, reading, set);
  const devices = new Map(reading.mentions.map(({ value, port, portAt }) => [value, { port, portAt }]));
  const references: Reference[] = [];
  const dangling: Dangling[] = [];
  const lost = new Set<Dangling>();
  const lose = (one: Dangling) => {
    dangling.push(one);
    lost.add(one);
  };
  const resolve = ({ site, field, tier }: Naming, value: string, from: number): void => {
    const to = names.find(field, value);
    if (to !== undefined) references.push({ site, field, tier, value, from, to });
    else lose({ site, field, tier, value, from, to: from + value.length, nearest: names.nearest(field, value) });
  };
  const nodes = new Set([...set.values()].map(({ site }) => site.node));
  const touched = [...reading.references, ...reading.dangling].filter(({ site }) => nodes.has(site.node));
  const anew = readAnew(reading, set, touched);
  const take = (one: Reference | Dangling, still: () => void): void => {
    const own = at(one);
    if (own && anew.has(own)) return;
    const spot = own && spotAfter(own, one.from, one.from + one.value.length);
    if (!spot || spot.same) still();
    else if (spot.text !== '') resolve(one, spot.text, spot.from);
  };
  // Most values that are set name nothing, and then nothing is followed anew.
  const kept = !names.anyNew && touched.length === 0;
  for (const one of kept ? [] : reading.references) {
    if (!names.anyNew && !nodes.has(one.site.node)) references.push(one);
    else
      take(one, () => {
        if (names.isRenamed(one)) lose({ ...one, to: one.from + one.value.length, nearest: names.now(one.to) });
        else references.push(one);
      });
  }
  for (const one of reading.dangling)
    take(one, () => {
      const to = names.anyNew ? names.find(one.field, one.value) : undefined;
      if (to === undefined) dangling.push(one);
      else references.push({ site: one.site, field: one.field, tier: one.tier, value: one.value, from: one.from, to });
    });
  for (const [{ site, value }, dataField] of anew) {
    const before = touched.filter((one) => one.site.node === site.node && one.site.attr === site.attr);
    const reader = namesInValues(tree, reading);
    const manner = reader.mannerOf(dataField);
    if (!manner || (before.length === 0 && names.isKey(site))) continue;
    const { field } = manner;
    const { tier } = reading.fields[field]!;
    const isName = (text: string) => names.find(field, text) !== undefined;
    for (const { text, from } of reader.namesIn(value, manner, isName, names.all(field))) {
      const still = before.find((one): one is Dangling => (!('nearest' in one) ? false : one.value === text));
      if (isName(text)) resolve({ site, field, tier }, text, from);
      else if (still) dangling.push({ ...still, from, to: from + text.length });
      else if (tier !== 'possible') resolve({ site, field, tier }, text, from);
    }
  }
  const all = kept ? [...reading.references, ...references] : references;
  const isSame = all.length === reading.references.length && all.every((one, at) => one === reading.references[at]);
  return {
    references: isSame ? reading.references : all,
    dangling,
    lost,
    mentions: reading.mentions.flatMap((one) => {
      const own = at(one);
      const spot = own ? spotAfter(own, one.from, one.to) : null;
      if (!own || spot?.same) return [one];
      if (!spot || spot.text === '') return [];
      const device = devices.get(spot.text) ?? { port: spot.text, portAt: 0 };
      return [{ ...one, ...device, value: spot.text, from: spot.from, to: spot.from + spot.text.length }];
    }),
    bindings: reading.bindings.flatMap((one) => {
      const own = at(one);
      if (!own || (!one.site.part && own.before.trim() !== one.port)) return [one];
      const port = one.site.part ? (spotAfter(own, ...one.site.part)?.text ?? one.port) : own.value.trim();
      return port === '' ? [] : [{ ...one, port }];
    }),
    aggregates: reading.aggregates.map((one) => ({
      ...one,
      members: one.members.flatMap((member) => {
        const own = at(member);
        if (!own) return [member];
        const from = own.before.indexOf(member.port);
        const port = spotAfter(own, from, from + member.port.length)?.text ?? '';
        return port === '' ? [] : [{ ...member, port }];
      }),
    })),
    tagging: reading.tagging.map((tagging) => amendTagging(tagging, set)),
  };
}

type Naming = Pick<Reference, 'site' | 'field' | 'tier'>;

/** What was set in fields that may name records, each with its field: all of the value, or across a name that stood there. */
function readAnew(reading: Reading, set: SetValues, touched: readonly (Reference | Dangling)[]): Map<SetValue, number> {
  const anew = new Map<SetValue, number>();
  const sites = [...set.values()].map(({ site }) => site);
  const across = new Set(
    touched.flatMap(({ site, from, value }) => {
      const own = set.get(siteKey(site.node, site.attr));
      return own && !spotAfter(own, from, from + value.length) ? [own] : [];
    }),
  );
  eachCellAt(reading, sites, ({ field }, key) => {
    if (field.begins) return;
    const own = set.get(key)!;
    if (own.parts === null || across.has(own)) anew.set(own, field.index);
  });
  return anew;
}

const readers = new WeakMap<Reading, NamesInValues>();

function namesInValues(tree: Tree, reading: Reading): NamesInValues {
  const reader = readers.get(reading) ?? new NamesInValues(tree, reading);
  readers.set(reading, reader);
  return reader;
}

/** Records by the names that they have once values are set. */
class Names {
  /** True where some record got a name. */
  readonly anyNew: boolean;
  private readonly renamed = new Map<number, { readonly before: ReadonlySet<string>; readonly now: string }>();
  private readonly byCollection = new Map<number, ReadonlyMap<string, number>>();
  private readonly keySites = new Set<number>();

  constructor(
    private readonly tree: Tree,
    private readonly reading: Reading,
    private readonly set: SetValues,
  ) {
    for (const { key, label, records } of reading.collections) {
      const own = ownerAmong(tree, records, set);
      for (const node of own) {
        const keys = label ? [key, label] : [key];
        for (const by of keys) {
          const site = keySite(tree, by, node);
          if (site) this.keySites.add(siteKey(site.node, site.attr));
        }
        const before = keys.map((by) => keyIn(tree, new Map(), by, node));
        const now = keys.map((by) => keyIn(tree, set, by, node));
        const gone = before.filter((name) => name !== '' && !now.includes(name));
        if (gone.length > 0) this.renamed.set(node, { before: new Set(gone), now: now[0] || now[1] || '' });
      }
    }
    this.anyNew = this.renamed.size > 0;
  }

  /** Whether the record that a reference names no longer goes by that name, and no other does. */
  isRenamed({ to, value, field }: Reference): boolean {
    return this.renamed.get(to)?.before.has(value) === true && this.find(field, value) === undefined;
  }

  now(node: number): string | null {
    return this.renamed.get(node)?.now || null;
  }

  /** Whether a record in which something is set has its name there. */
  isKey({ node, attr }: Site): boolean {
    return this.keySites.has(siteKey(node, attr));
  }

  find(field: number, value: string): number | undefined {
    for (const target of this.reading.fields[field]?.targets ?? []) {
      const to = this.of(target).get(value);
      if (to !== undefined) return to;
    }
    return undefined;
  }

  nearest(field: number, value: string): string | null {
    return nearestName(value, this.all(field));
  }

  all(field: number): string[] {
    return (this.reading.fields[field]?.targets ?? []).flatMap((target) => [...this.of(target).keys()]);
  }

  private of(target: number): ReadonlyMap<string, number> {
    const known = this.byCollection.get(target);
    if (known) return known;
    const names = new Map<string, number>();
    const { key, label, records } = this.reading.collections[target]!;
    for (const by of label ? [key, label] : [key])
      for (const node of records) {
        const name = keyIn(this.tree, this.set, by, node);
        if (name !== '' && !names.has(name)) names.set(name, node);
      }
    // A record may be named by another field of its own than its key.
    const mayName = this.reading.fields.map(({ targets }) => targets.includes(target));
    for (const { field, value, to } of this.reading.references)
      if (mayName[field] && !names.has(value) && !this.renamed.has(to)) names.set(value, to);
    this.byCollection.set(target, names);
    return names;
  }
}

/** Records, ascending, in which something is set. */
function ownerAmong(tree: Tree, records: readonly number[], set: SetValues): Set<number> {
  const owners = new Set<number>();
  for (const { site } of set.values()) {
    const record = records[lowerBound(records, site.node + 1) - 1];
    if (record !== undefined && isWithin(tree, site.node, record)) owners.add(record);
  }
  return owners;
}

function amendTagging(tagging: Tagging, set: SetValues): Tagging {
  const amended = (record: TaggedRecord): TaggedRecord => {
    let made = record;
    for (const { site, from, to, holds } of record.spots) {
      const own = set.get(siteKey(site.node, site.attr));
      const spot = own && spotAfter(own, from, to);
      if (!spot || spot.same) continue;
      if (holds === 'tag') made = { ...made, tag: /^\d+$/.test(spot.text) ? Number(spot.text) : null };
      else if (holds === 'parent' || holds === 'device') made = { ...made, [holds]: spot.text };
    }
    return made;
  };
  return { ...tagging, records: tagging.records.map(amended) };
}
