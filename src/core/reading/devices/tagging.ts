import { append } from '../../lists.ts';
import { TEXT, valueAt } from '../../xml/site.ts';
import { attributesOf, firstElement, isLeaf, nextElement } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import { leadOf } from '../fields/spans.ts';
import { isCounter } from '../keys/key-signs.ts';
import { kindOf } from '../names/literals.ts';
import { nameAt } from '../names/tokens.ts';
import { flatListsOf } from '../outline/flat-lists.ts';
import type { Aggregate, Binding, DeviceKey, Spot, TaggedRecord, Tagging } from '../reading.ts';
import { aggregatesOf, bindingsOf } from '../roles/seats.ts';
import { byRow, DeviceNames, derivationOf, mostOf, type TaggingSource } from './device-names.ts';

export interface DevicesWritten {
  readonly bindings: Binding[];
  readonly tagging: Tagging[];
  readonly deviceKeys: DeviceKey[];
  readonly aggregates: Aggregate[];
}

/** How the file writes down where a role sits, and what it sits on: enough to write one more in the same way. */
export function taggingOf(source: TaggingSource): DevicesWritten {
  const named = new DeviceNames(source);
  const keys = new Map<string, DeviceKey>();
  const keyFields = new Map<number, number>();
  const linked = new Set(
    source.roles.bindings.filter(({ port, name }) => name.text !== port).map(({ field }) => field),
  );
  for (const field of linked) addKeys(field, true);
  function addKeys(field: FieldData, ofRoles: boolean): void {
    for (const { key, odds } of source.targets[field.index]!) {
      if (odds < 0) continue;
      const devices = named.of(key.shape);
      for (const [place, row] of key.field.rows.entries()) {
        const device = devices.get(row);
        if (device === undefined || keys.has(device)) continue;
        keys.set(device, { device, key: key.field.values[place]!, node: source.outline.element[row]!, ofRoles });
      }
      if (ofRoles && !keyFields.has(key.shape)) keyFields.set(key.shape, key.field.index);
    }
  }
  const tagging: Tagging[] = [];
  const seen = new Set<number>();
  const body = source.outline.wrappers?.body ?? null;
  for (const { shape } of source.devices.derivations) {
    if (seen.has(shape)) continue;
    seen.add(shape);
    const table = new TaggedTable(source, named, shape);
    if (table.link) addKeys(table.link, false);
    append(tagging, table.lists(keyFields.get(shape) ?? -1, body));
  }
  return {
    bindings: bindingsOf(source),
    tagging,
    deviceKeys: [...keys.values()],
    aggregates: aggregatesOf(source),
  };
}

/** The records of one shape that define tagged devices. */
class TaggedTable {
  /** The field that names the port below by the key of its record; null where the port itself is written. */
  readonly link: FieldData | null = null;
  private readonly fields: readonly FieldData[];
  private readonly device: Map<number, string>;
  private readonly parent: Map<number, string>;
  private readonly tag: Map<number, string>;
  private readonly parentField: number | null;

  constructor(
    private readonly source: TaggingSource,
    named: DeviceNames,
    private readonly shape: number,
  ) {
    const derivation = derivationOf(source.devices, shape)!;
    this.fields = (named.byShape.get(shape) ?? []).filter((field) => !field.several || field.tag);
    this.device = named.of(shape);
    this.tag = byRow(source.fields[derivation.tag]);
    this.parent = derivation.parent === null ? new Map() : byRow(source.fields[derivation.parent]);
    this.parentField = derivation.parent;
    if (derivation.parent !== null) return;
    // The port is named by the key of its record: the target's device is what the tagged device's name begins with.
    for (const field of this.fields) {
      for (const { key, odds } of source.targets[field.index]!) {
        if (odds < 0 || key.shape === shape) continue;
        const rowOf = new Map(key.field.values.map((value, place) => [value, key.field.rows[place]!]));
        const devices = named.of(key.shape);
        const found = new Map<number, string>();
        for (const [place, row] of field.rows.entries()) {
          const parent = devices.get(rowOf.get(nameAt(field, source.readers[field.index]!, place).text) ?? -1);
          if (parent !== undefined) found.set(row, parent);
        }
        const right = [...found].filter(([row, parent]) => this.device.get(row)?.startsWith(parent)).length;
        if (found.size === 0 || right < found.size * 0.6) continue;
        this.parent = found;
        this.link = field;
        this.parentField = field.index;
        return;
      }
    }
  }

  /**
   * One pattern for each element that holds such records.
   * @param key the field that roles name them by; -1 for none.
   * @param body names of elements that only wrap a record.
   */
  lists(key: number, body: Uint8Array | null): Tagging[] {
    const { outline, structure, tree } = this.source;
    const spots = this.spots();
    const { marks, onParent } = this.naming();
    const byHolder = new Map<number, TaggedRecord[]>();
    for (const row of structure.shapes[this.shape]!.nodes) {
      const device = this.device.get(row);
      if (device === undefined) continue;
      const parts = this.parts(row, body);
      const node = outline.element[row]!;
      const holder = tree.parent[parts[0] ?? node]!;
      const tag = this.tag.get(row);
      const record: TaggedRecord = {
        node,
        parts,
        device,
        parent: this.parent.get(row) ?? null,
        tag: tag !== undefined && /^\d{1,6}$/.test(tag) ? Number(tag) : null,
        spots: spots.get(row) ?? [],
      };
      const list = byHolder.get(holder);
      if (list) list.push(record);
      else byHolder.set(holder, [record]);
    }
    return [...byHolder].map(([holder, records]) => ({ holder, marks, onParent, key, records }));
  }

  private naming(): { marks: string; onParent: boolean } {
    const after: string[] = [];
    const whole: string[] = [];
    for (const [row, device] of this.device) {
      const tag = this.tag.get(row);
      if (tag === undefined || !device.endsWith(tag)) continue;
      const stem = device.slice(0, device.length - tag.length);
      const parent = this.parent.get(row);
      if (parent !== undefined && stem.startsWith(parent) && stem.length > parent.length)
        after.push(stem.slice(parent.length));
      else whole.push(stem);
    }
    return after.length >= whole.length
      ? { marks: mostOf(after), onParent: true }
      : { marks: mostOf(whole), onParent: false };
  }

  /** The elements of one record. Entries of a property list count where they stand side by side. */
  private parts(row: number, body: Uint8Array | null): number[] {
    const { outline, tree } = this.source;
    if (!outline.part[row]) {
      let node = outline.element[row]!;
      while (body?.[tree.name[node]!] && tree.parent[node] !== -1) node = tree.parent[node]!;
      const caption = outline.captions.get(node);
      return caption === undefined ? [node] : [caption, node];
    }
    // What tells these apart stands in every one of them: a copy would have no number, or path, of its own.
    if (flatListsOf(tree)?.members.has(outline.element[row]!)) return [];
    const own = new Set<number>();
    for (let at = row; at < outline.after[row]!; at++) own.add(outline.element[at]!);
    const parts = [...own].sort((a, b) => a - b);
    return parts.every((node, at) => at === 0 || nextElement(tree, parts[at - 1]!) === node) ? parts : [];
  }

  private spots(): Map<number, Spot[]> {
    const { tree, readers } = this.source;
    const spots = new Map<number, Spot[]>();
    const add = (row: number, spot: Spot) => {
      const list = spots.get(row);
      if (list) list.push(spot);
      else spots.set(row, [spot]);
    };
    for (const field of this.fields) {
      const found = this.holds(field);
      if (!found) continue;
      const { holds, before = '', after = '' } = found;
      for (const [place, row] of field.rows.entries()) {
        if (field.virtual) {
          for (const spot of this.keyParts(row, field.values[place]!)) add(row, { ...spot, field: field.index, holds });
          continue;
        }
        const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
        // What stands around the name of a port is not the record's own: the mark of a fragment.
        const name = field === this.link ? nameAt(field, readers[field.index]!, place) : null;
        const value = name?.text ?? field.values[place]!;
        const from = (field.begins?.[place] ?? leadOf(tree, site, field)) + (name?.from ?? before.length);
        const to = from + value.length - before.length - after.length;
        add(row, { site, from, to, field: field.index, holds });
      }
    }
    return spots;
  }

  /** What a field of these records holds that is each record's own; null for what is copied as it is. */
  private holds(field: FieldData): { holds: Spot['holds']; before?: string; after?: string } | null {
    const { devices, keys } = this.source;
    const derivation = derivationOf(devices, this.shape)!;
    if (field.index === derivation.tag) return { holds: 'tag' };
    if (field.index === derivation.name) return { holds: 'device' };
    if (field.index === this.parentField) return { holds: 'parent' };
    const { values, rows } = field;
    const mostly = (test: (value: string, row: number) => boolean) =>
      values.filter((value, place) => test(value, rows[place]!)).length >= values.length * 0.9;
    if (mostly((value, row) => value === this.device.get(row))) return { holds: 'device' };
    if (mostly((value, row) => value === this.parent.get(row))) return { holds: 'parent' };
    if (mostly((value, row) => value === this.tag.get(row))) return { holds: 'tag' };
    const around = aroundTag(values, rows, this.tag);
    if (around) return { holds: 'tag', ...around };
    const kinds = values.map((value) => kindOf(value));
    const mostKind = (...wanted: string[]) =>
      kinds.filter((kind) => wanted.includes(kind)).length >= values.length * 0.8;
    const distinct = new Set(values).size;
    const own = keys.keys.find((key) => key.field === field);
    if (field.tag) return { holds: 'key' };
    if (mostKind('opaque') && distinct === values.length) return { holds: 'key' };
    if (mostKind('integer')) {
      const counts =
        distinct === values.length && own !== undefined && (values.length === 1 ? own.best : isCounter(values));
      return counts ? { holds: 'key' } : null;
    }
    if (!mostKind('name', 'phrase', 'text') || distinct < values.length * 0.8) return null;
    if (own?.best && kinds[0] === 'name' && distinct === values.length && values.length > 1) return { holds: 'key' };
    const told = values.length >= 4 || kinds.includes('phrase') || own?.kind === 'phrase' || this.speaksOfRole(values);
    return told ? { holds: 'label' } : null;
  }

  private speaksOfRole(values: readonly string[]): boolean {
    const { roles, roleLabels } = this.source;
    const words = new Set([
      ...roles.kinds.flatMap(({ name }) => name?.values ?? []),
      ...roleLabels.flatMap(({ values }) => values),
    ]);
    return values.some((value) => words.has(value));
  }

  /** Where the keys of a property list's entries say which record they belong to. */
  private keyParts(row: number, label: string): Pick<Spot, 'site' | 'from' | 'to'>[] {
    const { outline, tree } = this.source;
    const chain: string[] = [];
    for (let at = row; at !== -1 && outline.part[at]; at = outline.parent[at]!)
      chain.unshift(outline.labels[outline.label[at]!]!);
    const spots: Pick<Spot, 'site' | 'from' | 'to'>[] = [];
    for (const node of this.parts(row, null)) {
      const [first, end] = attributesOf(tree, node);
      const sites = Array.from({ length: end - first }, (_, at) => ({ node, attr: first + at }));
      const inner = firstElement(tree, node);
      if (inner !== -1 && isLeaf(tree, inner)) sites.push({ node: inner, attr: TEXT });
      for (const site of sites) {
        const to = chainEnd(valueAt(tree, site), chain);
        if (to === -1) continue;
        spots.push({ site, from: to - label.length, to });
        break;
      }
    }
    return spots;
  }
}

/** Where the last of the names ends that stand in a key one after the other, marks between them; -1 where they do not. */
function chainEnd(key: string, chain: readonly string[]): number {
  let at = 0;
  for (const name of chain) {
    while (at < key.length && !key.startsWith(name, at) && !/[\p{L}\p{M}\p{N}]/u.test(key[at]!)) at++;
    if (!key.startsWith(name, at)) return -1;
    at += name.length;
  }
  return at;
}

/** The same text before and after the record's number in every value; null where there is none. */
function aroundTag(
  values: readonly string[],
  rows: readonly number[],
  tags: ReadonlyMap<number, string>,
): { before: string; after: string } | null {
  const parts = /^(\D*)(\d+)(\D*)$/u;
  const first = parts.exec(values[0]!);
  if (!first || values.length < 2) return null;
  for (const [place, value] of values.entries()) {
    const found = parts.exec(value);
    if (!found || found[1] !== first[1] || found[3] !== first[3] || found[2] !== tags.get(rows[place]!)) return null;
  }
  return { before: first[1]!, after: first[3]! };
}
