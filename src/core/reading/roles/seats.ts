import type { PartSite } from '../../xml/site.ts';
import { isWithin } from '../../xml/tree.ts';
import type { TaggingSource } from '../devices/device-names.ts';
import { osAggregate } from '../devices/os-names.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import { leadOf, partSite } from '../fields/spans.ts';
import { piecesOf } from '../names/pieces.ts';
import type { Aggregate, Binding } from '../reading.ts';
import type { Bound } from './roles.ts';
import { type Led, SeatTags } from './seat-tags.ts';

/** Where roles name what they sit on. */
export function bindingsOf(source: TaggingSource): Binding[] {
  const { roles, outline } = source;
  const rowOf = new Map<string, number>();
  for (const { name } of roles.kinds)
    for (const [place, row] of name?.rows.entries() ?? []) rowOf.set(name!.values[place]!, row);
  const shapes = new Set(roles.kinds.map(({ shape }) => shape));
  const led = roles.bindings.map((bound): Led => {
    const { field, place, role, through = [] } = bound;
    const row = field.rows[place]!;
    const own = shapes.has(field.rowShape) ? row : rowOf.get(role);
    return { bound, own: own ?? -1, rows: [...new Set([...through, row, ...(own === undefined ? [] : [own])])] };
  });
  const tags = new SeatTags(source, led);
  return led.map((one) => {
    const { role, port, field, place, name } = one.bound;
    const node = one.own === -1 ? -1 : outline.element[one.own]!;
    const site = nameSite(source, field, place, name);
    const tag = tags.of(one);
    return {
      role,
      port,
      site,
      node,
      tag: tag?.site ?? null,
      vlan: tag && !isOwn(one, tag.row) ? outline.element[tag.row]! : -1,
      ofPort: shapes.has(field.rowShape)
        ? role === port && node !== -1 && isWithin(source.tree, site.node, node)
        : roles.deviceNames.has(field),
    };
  });
}

/** Whether a record says of one network alone where it sits: its own, or that of the place. */
const isOwn = ({ bound: { field, place }, own }: Led, row: number) => row === own || row === field.rows[place];

/** Where a name in a value stands: the mark of a fragment before it, or the rest of a list, stays what it is. */
function nameSite({ tree }: TaggingSource, field: FieldData, place: number, { text, from }: Bound['name']): PartSite {
  const site = partSite(field, place);
  if (text.length === field.values[place]!.length) return site;
  const begin = (site.part?.[0] ?? leadOf(tree, site, field)) + from;
  return { ...site, part: [begin, begin + text.length] };
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
