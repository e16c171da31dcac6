import { valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import { leadOf } from '../fields/spans.ts';
import { eachToken, type Reader } from '../names/tokens.ts';
import { flatListsOf, placeKey } from '../outline/flat-lists.ts';
import type { PortMention } from '../reading.ts';
import type { Devices } from './device-set.ts';

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
