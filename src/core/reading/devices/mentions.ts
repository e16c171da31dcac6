import { valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import { leadOf } from '../fields/spans.ts';
import { eachToken, type Reader } from '../names/tokens.ts';
import { flatListsOf, placeKey } from '../outline/flat-lists.ts';
import type { PortMention } from '../reading.ts';
import type { Target } from '../references/references.ts';
import { tierOf } from '../references/score.ts';
import type { Devices } from './device-set.ts';

/**
 * Every place that names a device: in the fields that hold devices, and in others where a name is that of a device's record.
 * @param sockets fields that name ports by bare numbers.
 */
export function mentionsOf(
  tree: Tree,
  fields: readonly FieldData[],
  readers: readonly Reader[],
  devices: Devices,
  portFields: ReadonlySet<number>,
  sockets: ReadonlySet<number>,
  targets: readonly (readonly Target[])[],
): PortMention[] {
  const mentions: PortMention[] = [];
  const again = flatListsOf(tree)?.again;
  for (const field of fields) {
    const { index } = field;
    const isHolder = portFields.has(index) || sockets.has(index);
    const named = targets[index]!.filter((one) => isCertain(one) && portFields.has(one.key.field.index));
    if (field.virtual || (!isHolder && named.length === 0)) continue;
    eachToken(field, readers[index]!, (text, place, from, token) => {
      if (!isHolder && !named.some(({ tokens }) => tokens.has(token))) return;
      if (!devices.has(text) && !sockets.has(index)) return;
      const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
      const start = from + leadOf(tree, site, field);
      const whole = sockets.has(index) || devices.bases.has(text) || devices.named.has(text);
      const port = whole ? text : devices.split(text)!.base;
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

const isCertain = ({ odds }: Target): boolean => tierOf(odds) === 'certain';
