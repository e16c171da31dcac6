import type { Devices } from '../devices/device-set.ts';
import { osFamily } from '../devices/os-names.ts';
import type { FieldData } from '../fields/fields.ts';
import type { LeafNames } from '../fields/leaf-names.ts';
import { mapLong } from '../fields/long-lists.ts';
import type { FieldProfile } from '../fields/profiles.ts';
import { isSetting } from '../names/dangling.ts';
import { isLiteral, type Kind, kindOf } from '../names/literals.ts';
import { areVlanIds } from '../numbers/vlan-ids.ts';
import { isCountOfOne } from '../outline/lone-rows.ts';
import type { Key } from '../reading.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Contexts } from './contexts.ts';
import {
  averageLength,
  averageWords,
  coveredBy,
  hasLetters,
  isCounter,
  isInRecords,
  isOnlyChild,
  namesOther,
  namesOwn,
  shapeNames,
  type UniqueValues,
  uniqueValues,
} from './key-signs.ts';
import { type KeyField, KeyTable } from './key-table.ts';

/** Identifiers of one kind of record in a table of several: all of the kind have them, and another field, too. */
function isOfKind({ rows, distinct }: FieldData, { kind }: FieldProfile, list: readonly FieldData[]): boolean {
  return (
    kind === 'opaque' &&
    rows.length > 1 &&
    distinct.length === rows.length &&
    list.some(
      (one) =>
        one.rows.length === rows.length && one.distinct !== distinct && rows.every((row, at) => one.rows[at] === row),
    )
  );
}

/** Key candidates of every record shape, strongest first within a shape. */
export function keysOf(
  fields: readonly FieldData[],
  structure: Structure,
  records: readonly boolean[],
  profiles: readonly FieldProfile[],
  devices: Devices,
  { names: leaf, meaning }: LeafNames,
  contexts: Contexts,
  /** The key that someone chose for a shape, null for none. */
  chosenKey: (shape: number) => Key | null = () => null,
): KeyTable {
  const table = new KeyTable(contexts);
  const deviceNames = new Set(devices.derivations.map(({ name }) => name));
  const areDevices = (names: readonly string[]) =>
    names.filter((name) => devices.has(name) || osFamily(name)).length >= names.length * 0.4;
  const isDevice = ({ distinct }: FieldData) => areDevices(distinct.slice(0, 50));
  /** The same where a path may lead to the device. */
  const leadsToDevice = ({ distinct }: FieldData) =>
    areDevices(distinct.slice(0, 50).map((value) => value.replace(markHead, '')));
  // Where values repeat within one field, fields of that name that share them are referrers, wherever they occur.
  const repeating = new Map<string, Set<string>[]>();
  const scopes = fields.map((field) =>
    isUnique(field.distinct.length, field.values.length) ? -1 : contexts.scopeOf(field, isUnique),
  );
  for (const field of fields) {
    const profile = profiles[field.index]!;
    if (field.tag || field.values.length < 3 || profile.distinct >= field.values.length * 0.85) continue;
    if (scopes[field.index] !== -1) continue;
    const list = repeating.get(leaf[field.index]!);
    const values = new Set(field.distinct);
    if (list) list.push(values);
    else repeating.set(leaf[field.index]!, [values]);
  }
  const repeatsElsewhere = (field: FieldData): boolean =>
    (repeating.get(leaf[field.index]!) ?? []).slice(0, 50).some((values) => {
      let shared = 0;
      let seen = 0;
      for (const value of field.values) {
        if (values.has(value)) shared++;
        if (++seen >= 200) break;
      }
      return shared >= seen * 0.3;
    });
  const byShape = new Map<number, FieldData[]>();
  const widths = new Map<number, number>();
  for (const field of fields) {
    widths.set(field.rowShape, (widths.get(field.rowShape) ?? 0) + 1);
    if (field.rowShape === -1 || !records[field.rowShape] || (field.several && !field.tag)) continue;
    const list = byShape.get(field.rowShape);
    if (list) list.push(field);
    else byShape.set(field.rowShape, [field]);
  }
  const kindNames = shapeNames(structure, records);
  let unique: UniqueValues | null = null;
  const isCovered = (field: FieldData, larger = 0) => {
    unique ??= uniqueValues(byShape, profiles);
    return coveredBy(field, unique, profiles, larger);
  };
  /** Share of the values, addresses and the like left out, that are names of other records behind one head. */
  const behind = (head: RegExp, { distinct, rowShape }: FieldData): number => {
    const isName = (value: string) => !isLiteral(kindOf(value));
    const own = head.exec(distinct.find(isName) ?? '')?.[0];
    if (own === undefined || distinct.some((value) => !value.startsWith(own) && isName(value))) return 0;
    const names = distinct.filter((value) => value.startsWith(own) && isName(value));
    return names.filter((value) => isTold(value, own, rowShape)).length / names.length;
  };
  /** The same behind heads of several kinds: `host:till`, `group:tills`. */
  const behindKinds = ({ distinct, rowShape }: FieldData): number => {
    const heads = mapLong(distinct, (value) => wordHead.exec(value)?.[0]);
    if (new Set(heads).size < 2 || heads.filter((head) => head !== undefined).length * 2 < heads.length) return 0;
    const told = distinct.filter((value, at) => heads[at] !== undefined && isTold(value, heads[at], rowShape));
    return told.length / distinct.length;
  };
  /** Whether a value names another record behind its head; what another field of the record says is its own name. */
  const isTold = (value: string, head: string, rowShape: number): boolean => {
    unique ??= uniqueValues(byShape, profiles);
    const named = unique.get(value.slice(head.length).replace(/['"\])]+$/, ''));
    return [named ?? []].flat().some((at) => fields[at]!.rowShape !== rowShape);
  };
  const constants = constantsOf(fields, structure);
  interface Candidate {
    field: FieldData;
    strength: number;
    kind: Kind;
    rows: number;
  }
  const all = new Map<number, Candidate[]>();
  const leafWins = new Map<string, number>();
  const counters = new Map<string, number>();
  for (const [shape, list] of byShape) {
    const rows = structure.shapes[shape]!.nodes.length;
    const candidates: Candidate[] = [];
    const chosen = chosenKey(shape);
    if (chosen?.by === 'position') continue;
    let position = 0;
    for (const field of list) {
      const depth = structure.shapes[field.shape]!.depth - structure.shapes[shape]!.depth;
      const profile = profiles[field.index]!;
      const order = position++;
      if (chosen && isKeyField(field, chosen, depth)) {
        candidates.push({ field, strength: 10, kind: profile.kind, rows });
        continue;
      }
      if (depth > 2 || constants.has(field)) continue;
      const count = field.values.length;
      const scope = scopes[field.index]!;
      if (count < rows * 0.8 && !isOfKind(field, profile, list)) continue;
      if (scope === -1 && !isUnique(profile.distinct, count)) continue;
      // What drives a card may be told by its hardware address.
      const isCard = profile.kind === 'mac' && list.some(isDevice);
      const kind = isCard ? 'opaque' : profile.kind;
      if (profile.distinct <= 4 && field.distinct.every(isSetting)) continue;
      if (kind === 'address' || kind === 'mac' || kind === 'number' || kind === 'text') continue;
      let strength = field.tag ? (kind === 'integer' ? 0.5 : 3) : 0;
      if (kind === 'opaque') strength += isCard ? 0 : 2;
      else if (kind === 'name') strength += 1.5;
      else if (kind === 'phrase') strength -= 0.5;
      else strength += isCounter(field.values) ? 0.3 : -2;
      strength += order === 0 ? 1 : order === 1 ? 0.5 : 0;
      if (field.attrs[0]! >= 0) strength += 0.4;
      if (depth > 1) strength -= 0.7;
      if (count < rows) strength -= 0.7;
      if (profile.distinct < count && scope === -1) strength -= 0.7;
      if (!field.tag && repeatsElsewhere(field) && !namesOwn(field, structure) && isCovered(field))
        strength -= kind === 'phrase' ? 0.7 : 2.5;
      const single = !structure.shapes[shape]!.repeated && !field.tag;
      if (single) strength -= 0.7;
      if (field.values.filter((value) => marks.test(value)).length > count * 0.3)
        strength -= single ? 5 : kind === 'phrase' ? 3 : 2;
      // A mark before names of other records makes no name.
      if (!field.tag && (behind(markHead, field) >= 0.5 || behindKinds(field) >= 0.5)) continue;
      const headed = !field.tag && behind(wordHead, field) === 1;
      if (headed) strength -= 2.5;
      // What a record holds of one value each, known by their look or from elsewhere, it lists.
      if (
        list.length === 1 &&
        !field.tag &&
        isInRecords(structure, records, shape) &&
        (isDevice(field) || isCovered(field))
      )
        continue;
      if (kind === 'integer' && areVlanIds(field, structure, devices)) strength = Math.max(strength, 0.3);
      if (averageLength(field.values) > 40) strength -= 1.5;
      if (deviceNames.has(field.index)) strength += 2;
      if (meaning && !field.tag && namesOther(field, shape, kindNames)) strength -= 1.5;
      // A record of two values rather joins two others than being one that others name.
      const alone = list.length <= 2 && (kind !== 'integer' || widths.get(shape)! <= 2);
      if (alone && !field.tag) strength -= kind === 'name' && list.some(isDevice) ? 1.6 : 0.8;
      else if (!meaning) strength += Math.min(0.5, 0.1 * (list.length - 3));
      if (!meaning && isCovered(field, 1.3)) strength -= 1.5;
      // As a weak key it would hide the name behind its head.
      if (headed && strength < 0) continue;
      candidates.push({ field, strength, kind, rows });
    }
    if (candidates.length === 0) continue;
    // What has an address and a name of its own is not called by the device that it sits on.
    const ownName = candidates.find(
      ({ field, kind, strength }) => kind === 'name' && strength > 1.2 && !isDevice(field),
    );
    if (ownName && hasLetters(ownName.field) && list.some(({ index }) => profiles[index]!.kind === 'address'))
      for (const candidate of candidates)
        if (candidate.kind === 'name' && isDevice(candidate.field)) candidate.strength -= 1;
    all.set(shape, candidates);
    for (const { field, kind, strength } of candidates) {
      if (kind !== 'integer' || field.tag || rows < 2 || strength < COUNTER || !isCounter(field.values)) continue;
      const name = leaf[field.index]!;
      counters.set(name, (counters.get(name) ?? 0) + 1);
    }
    const top = candidates.reduce((a, b) => (b.strength > a.strength ? b : a));
    const name = leaf[top.field.index]!;
    if (rows >= 2) leafWins.set(name, (leafWins.get(name) ?? 0) + 1);
  }
  for (const [shape, candidates] of all) {
    const { repeated, keyedByTag } = structure.shapes[shape]!;
    for (const candidate of candidates) {
      const wins = leafWins.get(leaf[candidate.field.index]!) ?? 0;
      if (wins >= 2) candidate.strength += Math.min(1, 0.25 * wins);
      // A record that stands once is a settings page, unless it goes by what others go by.
      else if (!repeated && !keyedByTag && wins === 0 && !isOnlyChild(structure, shape)) candidate.strength -= 1.5;
      // What several other kinds of record count by, this one does.
      if (
        candidate.kind === 'integer' &&
        !candidate.field.tag &&
        (counters.get(leaf[candidate.field.index]!) ?? 0) >= 3
      )
        if (candidate.strength >= COUNTER && isCounter(candidate.field.values))
          candidate.strength = Math.max(candidate.strength, 0.3);
    }
    candidates.sort((a, b) => b.strength - a.strength);
    const called = candidates.some(
      ({ field, kind, strength }) =>
        kind === 'name' &&
        hasLetters(field) &&
        (field.tag ? !isCountOfOne(field.values) : strength > 1.2 && !leadsToDevice(field)),
    );
    const kindsSeen = new Set<Kind>();
    for (const [rank, { field, strength, kind, rows }] of candidates.entries()) {
      if (strength < (kind === 'integer' ? 0.2 : rank > 0 && kind !== 'phrase' ? 0 : -2.5)) continue;
      // Labels name records that have no name, or where they stand elsewhere, too; free text names nothing.
      if (kind === 'phrase' && ((called && !isCovered(field)) || averageWords(field.distinct) > 3.6)) continue;
      const key: KeyField = {
        index: table.keys.length,
        field,
        shape,
        strength,
        best: rank === 0,
        bestOfKind: !kindsSeen.has(kind),
        kind,
        rows,
        scope: scopes[field.index]!,
        vlans: kind === 'integer' && areVlanIds(field, structure, devices),
      };
      kindsSeen.add(kind);
      table.add(key, field.values, field.rows);
    }
  }
  return table;
}

/** What may stand before a name: marks, as of fragments; a path; or one word and a mark, as in `zone:office`. */
const markHead = /^(?:[#@&$%^~*+=<>]+|\/(?:[\p{L}_][\p{L}\p{N}_:-]*\/)*(?:[\p{L}_][\p{L}\p{N}_:-]*\[[^'"]*['"])?)/u;
const wordHead = /^\p{L}+[^\p{L}\p{M}\p{N}\s_.-]+/u;

/** Names seldom have these; lists, expressions and remarks do, and no settings page is called by one. */
const marks = /[,;|()[\]<>!=@$%^*]/;

/** Weaker numbers count no records, whatever they are called. */
const COUNTER = -1.5;

/** Whether values tell apart what has them, but for a few that come twice by mistake. */
const isUnique = (distinct: number, count: number) => distinct >= count - Math.max(count >= 8 ? 1 : 0, count * 0.08);

/** What is the same in elements of one name of several kinds tells none of them apart. */
function constantsOf(fields: readonly FieldData[], { shapes }: Structure): ReadonlySet<FieldData> {
  const byName = new Map<string, FieldData[]>();
  for (const field of fields) {
    const { steps, shape, rowShape, distinct, tag } = field;
    if (tag || distinct.length > 1 || rowShape === -1) continue;
    const own = steps.length - 1 - (shapes[shape]!.depth - shapes[rowShape]!.depth);
    if (!steps[own]?.endsWith('}')) continue;
    const name = [...steps.slice(0, own), steps[own].replace(kindMark, ''), ...steps.slice(own + 1), distinct[0]!].join(
      '/',
    );
    byName.set(name, [...(byName.get(name) ?? []), field]);
  }
  return new Set([...byName.values()].filter(({ length }) => length > 1).flat());
}

/** How a step says of what kind its elements are, see `isKind`. */
const kindMark = /\{.*\}$/;

/** True for the field that a key means: the tag, an attribute, or a leaf by its path below the record. */
function isKeyField(field: FieldData, key: Key, depth: number): boolean {
  if (key.by === 'position') return false;
  if (key.by === 'tag' || field.tag) return key.by === 'tag' && field.tag;
  const path = field.steps.slice(field.steps.length - depth).map((step) => step.replace(/\{.*$/, ''));
  if (key.by === 'attribute') return depth === 1 && path[0] === `@${key.name}`;
  return path.join('/') === key.path.join('/');
}
