import { naturalOrder } from '../../text/natural-order.ts';
import { valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import { leadOf } from '../fields/spans.ts';
import type { KeyTable } from '../keys/key-table.ts';
import { eachToken, type Reader } from '../names/tokens.ts';
import { flatListsOf, placeKey } from '../outline/flat-lists.ts';
import type { Outline } from '../outline/outline.ts';
import type { Port, PortMention } from '../reading.ts';
import type { Devices } from './device-set.ts';
import { osAggregate } from './os-names.ts';

/** Every place that names a device, from the fields that hold devices. */
export function mentionsOf(
  tree: Tree,
  fields: readonly FieldData[],
  readers: readonly Reader[],
  devices: Devices,
  portFields: ReadonlySet<number>,
): PortMention[] {
  const mentions: PortMention[] = [];
  const again = flatListsOf(tree)?.again;
  for (const index of portFields) {
    const field = fields[index]!;
    if (field.virtual) continue;
    eachToken(field, readers[index]!, (text, place, from) => {
      if (!devices.has(text)) return;
      const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
      const start = from + leadOf(tree, site, field);
      const port = devices.bases.has(text) || devices.named.has(text) ? text : devices.split(text)!.base;
      const mention = { value: text, port, portAt: 0 };
      mentions.push({ site, from: start, to: start + text.length, ...mention });
      for (const other of again?.get(placeKey(site)) ?? []) {
        const lead = valueAt(tree, other).indexOf(text);
        mentions.push({ site: other, from: lead, to: lead + text.length, ...mention });
      }
    });
  }
  return mentions.sort((a, b) => a.site.node - b.site.node || a.site.attr - b.site.attr || a.from - b.from);
}

/** The devices of the file, ports first, then what is derived from them. */
export function portsOf(mentions: readonly PortMention[], devices: Devices, keys: KeyTable, outline: Outline): Port[] {
  const names = new Set<string>();
  for (const { value, port } of mentions) names.add(port).add(value);
  const recordOf = (name: string): number => {
    let row = -1;
    keys.each(name, (_, at) => {
      if (row === -1 || at < row) row = at;
    });
    return row === -1 ? -1 : outline.element[row]!;
  };
  return [...names]
    .map((name): Port => {
      const derived = devices.bases.has(name) ? null : devices.split(name);
      const own = devices.named.get(name);
      if (derived) return { name, kind: 'tagged', parent: derived.base, tag: derived.tag, node: recordOf(name) };
      if (own) {
        const tagged = own.tag !== null;
        const kind = tagged ? 'tagged' : 'aggregate';
        return { name, kind, parent: own.parent, tag: own.tag, node: recordOf(name) };
      }
      const kind = osAggregate(name) ? 'aggregate' : 'physical';
      return { name, kind, parent: null, tag: null, node: recordOf(name) };
    })
    .sort((a, b) => rank(a) - rank(b) || naturalOrder(a.name, b.name));
}

const rank = (port: Port) => ({ physical: 0, aggregate: 1, tagged: 2, other: 3 })[port.kind];
