import type { PartSite } from '../xml/site.ts';
import { isWithin } from '../xml/tree.ts';
import { fieldsByShape } from './by-shape.ts';
import { byRow, type TaggingSource } from './device-names.ts';
import { type FieldData, leafName } from './fields.ts';
import { osAggregate } from './os-names.ts';
import { piecesOf } from './pieces.ts';
import type { Aggregate, Binding } from './reading.ts';
import type { Bound } from './roles.ts';
import { leadOf, partSite } from './spans.ts';

/** Where roles name what they sit on. */
export function bindingsOf(source: TaggingSource): Binding[] {
  const { roles, outline } = source;
  const rowOf = new Map<string, number>();
  for (const { name } of roles.kinds)
    for (const [place, row] of name?.rows.entries() ?? []) rowOf.set(name!.values[place]!, row);
  const shapes = new Set(roles.kinds.map(({ shape }) => shape));
  const tags = new Map<FieldData, Map<number, PartSite>>();
  return roles.bindings.map(({ role, port, field, place, name }) => {
    let beside = tags.get(field);
    if (!beside) {
      beside = tagsBeside(source, field);
      tags.set(field, beside);
    }
    const row = field.rows[place]!;
    const at = shapes.has(field.rowShape) ? row : rowOf.get(role);
    const node = at === undefined ? -1 : outline.element[at]!;
    const site = nameSite(source, field, place, name);
    return {
      role,
      port,
      site,
      node,
      tag: beside.get(row) ?? null,
      ofPort: shapes.has(field.rowShape)
        ? role === port && node !== -1 && isWithin(source.tree, site.node, node)
        : roles.deviceNames.has(field),
    };
  });
}

/** Where a name in a value stands: the mark of a fragment before it, or the rest of a list, stays what it is. */
function nameSite({ tree }: TaggingSource, field: FieldData, place: number, { text, from }: Bound['name']): PartSite {
  const site = partSite(field, place);
  if (text.length === field.values[place]!.length) return site;
  const begin = (site.part?.[0] ?? leadOf(tree, site, field)) + from;
  return { ...site, part: [begin, begin + text.length] };
}

/**
 * VLAN IDs that stand beside the port: a number that tells those roles apart that share a port, and that hardly any role
 * with a port of its own has. A file that defines tagged devices in records has none.
 */
function tagsBeside(source: TaggingSource, field: FieldData): Map<number, PartSite> {
  const none = new Map<number, PartSite>();
  if (source.devices.derivations.length > 0) return none;
  const byPort = new Map<string, number[]>();
  for (const { field: own, port, place } of source.roles.bindings) {
    if (own !== field) continue;
    const rows = byPort.get(port);
    if (rows) rows.push(field.rows[place]!);
    else byPort.set(port, [field.rows[place]!]);
  }
  const shared = [...byPort.values()].filter((rows) => rows.length > 1);
  const alone = [...byPort.values()].filter((rows) => rows.length === 1).flat();
  let best: { field: FieldData; elsewhere: number } | null = null;
  for (const other of source.fields) {
    if (other.rowShape !== field.rowShape || other === field || other.several || other.tag) continue;
    if (!other.values.every((value) => /^\d{1,4}$/.test(value) && Number(value) <= 4095)) continue;
    const values = byRow(other);
    const tags = shared.map((rows) => rows.flatMap((row) => values.get(row) ?? []));
    if (tags.some((list) => new Set(list).size < list.length)) continue;
    const found = tags.flat().length;
    if (found < (/vlan|tag/i.test(leafName(other)) ? 1 : 2) || found < shared.flat().length * 0.5) continue;
    // A number that roles with a port of their own have as well is something else: a prefix length, a size of frames.
    const elsewhere = alone.filter((row) => values.has(row)).length;
    if (elsewhere > Math.max(1, alone.length / 2) || (best && elsewhere >= best.elsewhere)) continue;
    best = { field: other, elsewhere };
  }
  if (!best) return none;
  const { field: found } = best;
  return new Map(found.rows.map((row, place) => [row, partSite(found, place)]));
}

/** Records that are called like a device and list ports. */
export function aggregatesOf(source: TaggingSource): Aggregate[] {
  const { fields, readers, portFields, devices, outline } = source;
  const byShape = fieldsByShape(fields);
  const found: Aggregate[] = [];
  for (const field of fields) {
    const { separator } = readers[field.index]!;
    if (!portFields.has(field.index) || field.tag || (!field.several && separator === null)) continue;
    const isDevice = (value: string) => devices.has(value) || osAggregate(value);
    const name = (byShape.get(field.rowShape) ?? []).find(
      (other) =>
        other !== field &&
        (!other.several || other.tag) &&
        new Set(other.values).size === other.values.length &&
        other.values.every(isDevice),
    );
    if (!name) continue;
    const names = new Map(name.rows.map((row, place) => [row, name.values[place]!]));
    const members = new Map<number, { port: string; site: { node: number; attr: number } }[]>();
    for (const [place, value] of field.values.entries()) {
      const row = field.rows[place]!;
      const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
      const ports = piecesOf(value, separator).map(({ text }) => ({ port: text, site }));
      members.set(row, [...(members.get(row) ?? []), ...ports]);
    }
    for (const [row, ports] of members) {
      const device = names.get(row);
      if (device !== undefined) found.push({ device, node: outline.element[row]!, members: ports });
    }
  }
  return found;
}
