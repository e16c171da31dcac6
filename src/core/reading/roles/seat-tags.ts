import type { PartSite } from '../../xml/site.ts';
import { byRow, derivationOf, type TaggingSource } from '../devices/device-names.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import { partSite } from '../fields/spans.ts';
import { isOrder, isOwnCount, isSequence } from '../numbers/number-counts.ts';
import { isVlanWord } from '../numbers/vlan-ids.ts';
import type { Target } from '../references/references.ts';
import type { Bound } from './roles.ts';

/** The VLAN ID that tells a network's frames on its port. */
export interface SeatTag {
  /** Null on a port that has the VLAN without its number. */
  readonly site: PartSite | null;
  /** Outline node of the record that has it. */
  readonly row: number;
}

/** A network on a port, with the rows that say so: those on the way to the port, that of the place, the network's own. */
export interface Led {
  readonly bound: Bound;
  /** The network's own, -1 for none. */
  readonly own: number;
  readonly rows: readonly number[];
}

/**
 * VLAN IDs that the device's own name does not say: a number in one of the records that tells those networks apart that
 * share a port, and that hardly any network with a port of its own has.
 */
export class SeatTags {
  private readonly tags = new Map<number, SeatTag>();
  /** Devices whose names say their VLAN IDs. */
  private readonly tagged: ReadonlySet<string>;
  private readonly places: ReadonlySet<FieldData>;
  /** What records are named by. */
  private readonly named: ReadonlySet<FieldData>;
  /** Where VLANs tell which ports have them without their number. */
  private readonly untagged: ReadonlySet<FieldData>;
  private readonly byShape: ReadonlyMap<number, readonly FieldData[]>;

  constructor(
    private readonly source: TaggingSource,
    led: readonly Led[],
  ) {
    const { devices, structure, fields, targets } = source;
    this.named = new Set(targets.flatMap((list) => list.filter(isName).map(({ key }) => key.field)));
    this.byShape = fieldsByShape(fields);
    this.places = new Set(led.flatMap(({ bound: { field, via } }) => (via ? [field, via] : [field])));
    this.tagged = new Set([...devices.composed.values()].flatMap((names) => [...names.keys()]));
    this.untagged = untaggedMembers(led);
    const plain = led.filter(({ bound }) => !this.tagged.has(bound.port));
    const portsBy = new Map<number, Map<string, Set<number>>>();
    for (const { bound, rows } of plain)
      for (const row of rows) {
        const shape = structure.shapeOf[row]!;
        const ports = portsBy.get(shape) ?? new Map<string, Set<number>>();
        portsBy.set(shape, ports.set(bound.port, (ports.get(bound.port) ?? new Set()).add(row)));
      }
    const between = new Set(
      led.flatMap(({ bound: { through = [] } }) => through.map((row) => structure.shapeOf[row]!)),
    );
    for (const { bound, own } of led)
      for (const row of [bound.field.rows[bound.place]!, own]) if (row !== -1) between.delete(structure.shapeOf[row]!);
    for (const [shape, ports] of portsBy) {
      if (this.linked(shape)) continue;
      const field = between.has(shape) ? this.ownId(shape) : this.tellingApart(shape, [...ports.values()]);
      for (const [place, row] of field?.rows.entries() ?? [])
        this.tags.set(row, { site: partSite(field!, place), row });
    }
  }

  /** That of the first record that has one. */
  of({ bound, rows }: Led): SeatTag | null {
    const row = this.tagged.has(bound.port) ? undefined : rows.find((one) => this.tags.has(one));
    const tag = row === undefined ? undefined : this.tags.get(row);
    if (!tag) return null;
    const isUntagged = bound.through?.includes(tag.row) && bound.at !== undefined && this.untagged.has(bound.at);
    return isUntagged ? { ...tag, site: null } : tag;
  }

  /** Whether records of a shape name that of a tagged device beside its port: it says the VLAN ID. */
  private linked(shape: number): boolean {
    const { devices, targets, keys, fields } = this.source;
    for (const field of this.byShape.get(shape) ?? []) {
      const likely = targets[field.index]!.find(({ key, odds }) => odds >= 0 && derivationOf(devices, key.shape));
      if (!likely || this.places.has(field) || field.several) continue;
      const tags = fields[derivationOf(devices, likely.key.shape)!.tag]!;
      const places = new Map(tags.rows.map((row, place) => [row, place]));
      for (const [place, row] of field.rows.entries()) {
        const device = keys.rowOf(field.values[place]!, likely.key, row);
        const at = places.get(device);
        if (at !== undefined) this.tags.set(row, { site: partSite(tags, at), row: device });
      }
      return true;
    }
    return false;
  }

  /** The number of VLANs that networks name to meet their ports: each has one of its own, and it counts nothing. */
  private ownId(shape: number): FieldData | null {
    const ids = this.fieldsOf(shape).filter(({ values, distinct }) => distinct.length === values.length);
    const likely = ids.filter(({ values }) => !isOrder(values));
    const worded = ids.find((field) => isVlanWord(leafName(field)));
    return worded ?? likely[0] ?? (ids.length === 1 && !isOwnCount(ids[0]!.values) ? ids[0]! : null);
  }

  /** @param ports rows of the shape by the port that they lead to */
  private tellingApart(shape: number, ports: readonly ReadonlySet<number>[]): FieldData | null {
    const shared = ports.filter(({ size }) => size > 1);
    const alone = ports.flatMap((rows) => (rows.size === 1 ? [...rows] : []));
    const many = shared.reduce((sum, { size }) => sum + size, 0);
    let best: { field: FieldData; rank: number } | null = null;
    for (const field of this.fieldsOf(shape)) {
      if (this.named.has(field)) continue;
      const values = byRow(field);
      const tags = shared.map((rows) => [...rows].flatMap((row) => values.get(row) ?? []));
      if (tags.some((list) => new Set(list).size < list.length)) continue;
      const found = tags.flat().length;
      const isWord = isVlanWord(leafName(field));
      if (found < (isWord ? 0 : 2) || found < many * 0.5) continue;
      // A number that networks with a port of their own have as well is something else: a prefix length, a size of frames.
      const elsewhere = alone.filter((row) => values.has(row)).length;
      if (elsewhere > Math.max(1, alone.length / 2)) continue;
      const doubts = [!isWord, isSequence(field), this.source.targets[field.index]!.some(isName)].filter(
        Boolean,
      ).length;
      const rank = elsewhere + doubts / 4;
      if (!best || rank < best.rank) best = { field, rank };
    }
    return best?.field ?? null;
  }

  private fieldsOf(shape: number): readonly FieldData[] {
    return (this.byShape.get(shape) ?? []).filter(
      (field) =>
        !field.several &&
        !field.tag &&
        !this.places.has(field) &&
        field.values.every((value) => /^\d{1,4}$/.test(value) && Number(value) <= 4095),
    );
  }
}

/** Whether a field names records, other than VLANs by their numbers. */
const isName = ({ key, odds }: Target) => odds >= 0 && !key.vlans;

/** A port has one VLAN without its number, and any with it: where VLANs have two lists of ports, one of them repeats these. */
function untaggedMembers(led: readonly Led[]): ReadonlySet<FieldData> {
  const vlansBy = new Map<FieldData, Map<string, Set<number>>>();
  for (const { bound } of led) {
    const { at, port, through = [] } = bound;
    if (!at || through.length === 0) continue;
    const ports = vlansBy.get(at) ?? new Map<string, Set<number>>();
    vlansBy.set(at, ports.set(port, (ports.get(port) ?? new Set()).add(through[0]!)));
  }
  const once = [...vlansBy].filter(([, ports]) => [...ports.values()].every(({ size }) => size === 1));
  return new Set(once.length < vlansBy.size ? once.map(([at]) => at) : []);
}
