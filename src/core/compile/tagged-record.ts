import { append } from '../lists.ts';
import type { Patch } from '../patch/patch-set.ts';
import { keyValue } from '../reading/keys/record-name.ts';
import type { PortMention, Reading, Spot, TaggedRecord, Tagging } from '../reading/reading.ts';
import { bad, good, type Result } from '../trouble.ts';
import { type Fits, writeSpan, writeTag } from '../xml/edit.ts';
import { ownLines } from '../xml/remove.ts';
import { type Site, TAG, valueAt } from '../xml/site.ts';
import { Kind, type Tree } from '../xml/tree.ts';
import { type AddedRecord, siteKey } from './edits.ts';
import { freshKey } from './fresh-key.ts';
import type { DeviceIndex } from './seats.ts';

/** A tagged device that a plan asks for and no record defines. */
export interface Wanted {
  /** In the donor's names. */
  readonly port: string;
  readonly tag: number;
  /** What people read of it, and in one word. */
  readonly label: string;
  readonly word: string;
  readonly owners: readonly string[];
}

export interface Made {
  readonly added: AddedRecord;
  /** Source text, from the end of the element that it stands behind. */
  readonly text: string;
  /** What roles name the record by, where that is not the device. */
  readonly key: string | null;
}

export interface Copying {
  readonly tree: Tree;
  readonly reading: Reading;
  readonly devices: DeviceIndex;
  readonly fits: Fits;
  readonly gone: (node: number) => boolean;
}

/** Makes records for tagged devices, one after the other: keys that it gives are taken from then on. */
export class TaggedRecords {
  private readonly taken = new Map<number, Set<string>>();
  private readonly elsewhere = new Map<Tagging, Set<string>>();

  constructor(private readonly source: Copying) {}

  /** The record for one tagged device, written like the last one of its list. Never a form that the file does not have. */
  make(wanted: Wanted): Result<Made> {
    const { port, tag } = wanted;
    const none = () => bad({ code: 'plan-tag-no-record', params: { port, tag } });
    const found = this.pattern(port);
    if (!found) return none();
    const { tagging, record, after } = found;
    const device = this.source.devices.composed(tagging, port, tag);
    const changes = this.changes(tagging, record, device, wanted);
    if (!changes.ok) return changes;
    return this.copy(tagging, record, after, changes.value, device, wanted);
  }

  /** The list to add to, the record to copy and the element to stand behind; those below the same port come first. */
  private pattern(port: string): { tagging: Tagging; record: TaggedRecord; after: number } | null {
    const { reading, tree, gone } = this.source;
    let best: { tagging: Tagging; record: TaggedRecord; after: number; weight: number } | null = null;
    // A secret is not written twice.
    const secrets = reading.secrets.map(({ site }) => site.node);
    const isSecret = (part: number) => secrets.some((node) => node >= part && node < tree.after[part]!);
    for (const tagging of reading.tagging) {
      const here = tagging.records.filter(({ parts }) => parts.length > 0 && !gone(parts[0]!));
      const fitting = here.filter(
        ({ spots, parent }) =>
          spots.some(({ holds }) => holds === 'tag') &&
          (parent === port || spots.some(({ holds }) => holds === 'parent')),
      );
      const open = ({ parts }: TaggedRecord) => !parts.some(isSecret);
      const record =
        fitting.findLast((one) => one.parent === port && open(one)) ?? fitting.findLast((one) => open(one));
      if (!record) continue;
      const weight = (record.parent === port ? 1e9 : 0) + here.length;
      const after = here.map(({ parts }) => parts.at(-1)!).reduce((a, b) => (tree.end[b]! > tree.end[a]! ? b : a));
      if (!best || weight > best.weight) best = { tagging, record, after, weight };
    }
    return best;
  }

  /** New texts for the spots of the copied record, and for whatever else in it names a device. */
  private changes(tagging: Tagging, record: TaggedRecord, device: string, wanted: Wanted): Result<SpotChange[]> {
    const { tree, reading, devices } = this.source;
    const { port, tag } = wanted;
    const keys = new Map<number, string>();
    const changes: SpotChange[] = [];
    for (const spot of record.spots) {
      const was = valueAt(tree, spot.site).slice(spot.from, spot.to);
      let text: string;
      switch (spot.holds) {
        case 'tag':
          text = String(tag);
          break;
        case 'device':
          text = device;
          break;
        case 'parent': {
          const key = was === record.parent ? devices.renamed(port) : keyOf(reading, port, false);
          if (key === null) return bad({ code: 'plan-port-no-record', params: { port } });
          text = key;
          break;
        }
        case 'label':
          text = this.oneWord(tagging, spot.field) ? wanted.word : wanted.label;
          break;
        case 'key': {
          text = keys.get(spot.field) ?? this.fresh(tagging, spot, was, device, wanted.word);
          keys.set(spot.field, text);
          break;
        }
        default:
          return spot.holds satisfies never;
      }
      changes.push({ ...spot, text });
    }
    for (const mention of mentionsIn(tree, reading, record.parts)) {
      const key = siteKey(mention.site);
      if (changes.some((one) => siteKey(one.site) === key && one.from < mention.to && mention.from < one.to)) continue;
      const { value } = mention;
      const text =
        value === record.device ? device : value === record.parent ? devices.renamed(port) : devices.renamed(value);
      if (text !== value) changes.push({ ...mention, field: -1, text });
    }
    return good(changes);
  }

  private copy(
    tagging: Tagging,
    record: TaggedRecord,
    after: number,
    changes: readonly SpotChange[],
    device: string,
    wanted: Wanted,
  ): Result<Made> {
    const { tree, fits } = this.source;
    const patches: Patch[] = [];
    const values = new Map<string, string>();
    const tags = new Map<number, string>();
    for (const group of bySite(changes)) {
      const { site } = group[0]!;
      const value = spliced(valueAt(tree, site), group);
      if (site.attr === TAG) {
        const made = writeTag(tree, site.node, value, device);
        if (!made.ok) return made;
        append(patches, made.value);
        tags.set(site.node, value);
        continue;
      }
      for (const { from, to, text } of group) {
        const made = writeSpan(tree, site, from, to, text, fits, device);
        if (!made.ok) return made;
        patches.push(made.value);
      }
      values.set(siteKey(site), value);
    }
    for (const part of record.parts) append(patches, commentPatches(tree, part));
    const first = blankBefore(tree, after === record.parts.at(-1) ? record.parts[0]! : firstPart(tagging, after));
    const text = record.parts
      .map((part, at) => (at === 0 ? first : blankBefore(tree, part)) + patched(tree, part, patches))
      .join('');
    const linked = changes.find(({ field }) => field === tagging.key && field !== -1);
    return good({
      added: { device, after, parts: record.parts, values, tags, owners: wanted.owners },
      text,
      key: linked ? linked.text : null,
    });
  }

  private fresh(tagging: Tagging, spot: Spot, was: string, device: string, word: string): string {
    const { tree, reading } = this.source;
    let taken = this.taken.get(spot.field);
    if (!taken) {
      taken = new Set();
      for (const { records } of reading.tagging)
        for (const { spots } of records)
          for (const { field, site, from, to } of spots)
            if (field === spot.field) taken.add(valueAt(tree, site).slice(from, to));
      this.taken.set(spot.field, taken);
    }
    const own = taken;
    const elsewhere = /^\d+$/.test(was) ? this.keysElsewhere(tagging) : null;
    const shared = elsewhere !== null && [...own].some((key) => elsewhere.has(key));
    const isUsed = (key: string) =>
      elsewhere ? !shared && elsewhere.has(key) : tree.text.includes(key) && key !== word;
    const key = freshKey(was, own, isUsed, `${was} ${device}`, word);
    own.add(key);
    return key;
  }

  /** Keys of other lists: numbers may count through the whole file. */
  private keysElsewhere(tagging: Tagging): Set<string> {
    const { tree, reading } = this.source;
    const known = this.elsewhere.get(tagging);
    if (known) return known;
    const own = new Set(tagging.records.map(({ node }) => node));
    const keys = new Set<string>();
    for (const { key, records } of reading.collections)
      for (const node of records) if (!own.has(node)) keys.add(keyValue(tree, key, node));
    this.elsewhere.set(tagging, keys);
    return keys;
  }

  private oneWord(tagging: Tagging, field: number): boolean {
    const { tree } = this.source;
    return tagging.records.every(({ spots }) =>
      spots.every((spot) => spot.field !== field || !/\s/.test(valueAt(tree, spot.site).slice(spot.from, spot.to))),
    );
  }
}

interface SpotChange {
  readonly site: Site;
  readonly from: number;
  readonly to: number;
  readonly field: number;
  readonly text: string;
}

/** What roles, or records of tagged devices, name a device by, where that is a key; null where it has no such record. */
export function keyOf(reading: Reading, device: string, forRoles: boolean): string | null {
  return reading.deviceKeys.find((one) => one.device === device && (one.ofRoles || !forRoles))?.key ?? null;
}

function mentionsIn(tree: Tree, reading: Reading, parts: readonly number[]): PortMention[] {
  const from = parts[0]!;
  const end = tree.after[parts.at(-1)!]!;
  return reading.mentions.filter(({ site }) => site.node >= from && site.node < end);
}

function bySite(changes: readonly SpotChange[]): SpotChange[][] {
  const groups = new Map<string, SpotChange[]>();
  for (const change of changes) {
    const group = groups.get(siteKey(change.site));
    if (group) group.push(change);
    else groups.set(siteKey(change.site), [change]);
  }
  return [...groups.values()].map((group) => group.sort((a, b) => a.from - b.from));
}

function spliced(value: string, changes: readonly SpotChange[]): string {
  let out = '';
  let at = 0;
  for (const { from, to, text } of changes) {
    out += value.slice(at, from) + text;
    at = to;
  }
  return out + value.slice(at);
}

function firstPart({ records }: Tagging, last: number): number {
  return records.find(({ parts }) => parts.at(-1) === last)!.parts[0]!;
}

/** The white space directly before an element: line end and indentation, or nothing. */
function blankBefore({ text, start }: Tree, node: number): string {
  let at = start[node]!;
  while (at > 0 && /[ \t\r\n]/.test(text[at - 1]!)) at--;
  return text.slice(at, start[node]!);
}

/** A comment goes with the lines that it has to itself. */
function commentPatches(tree: Tree, part: number): Patch[] {
  const patches: Patch[] = [];
  for (let node = part; node < tree.after[part]!; node++) {
    if (tree.kind[node] !== Kind.comment) continue;
    const [start, end] = ownLines(tree.text, tree.start[node]!, tree.end[node]!) ?? [
      tree.start[node]!,
      tree.end[node]!,
    ];
    patches.push({ start, end, text: '', owner: '' });
  }
  return patches;
}

function patched({ text, start, end }: Tree, part: number, patches: readonly Patch[]): string {
  const own = patches
    .filter((patch) => patch.start >= start[part]! && patch.end <= end[part]!)
    .sort((a, b) => a.start - b.start);
  let out = '';
  let at = start[part]!;
  for (const patch of own) {
    out += text.slice(at, patch.start) + patch.text;
    at = patch.end;
  }
  return out + text.slice(at, end[part]!);
}
