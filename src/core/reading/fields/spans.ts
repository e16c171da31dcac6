import { type PartSite, type Site, TAG, TEXT, valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import type { FieldData } from './fields.ts';

/**
 * How many units of white space a value has before its first other unit: fields hold trimmed values. 0 for a value that is a
 * part of a text, as it is known where that begins.
 */
export function leadOf(tree: Tree, site: Site, { begins }: Pick<FieldData, 'begins'>): number {
  const { node, attr } = site;
  if (attr === TAG || begins) return 0;
  const at = attr === TEXT ? tree.openEnd[node]! : tree.valueStart[attr]!;
  const unit = tree.text.charCodeAt(at);
  // Only white space, a reference or markup can hide white space; letters need no second look.
  if (unit > 0x3c || (unit > 0x26 && unit < 0x3c)) return unit < 0xa0 ? 0 : lead(valueAt(tree, site));
  return lead(valueAt(tree, site));
}

/** Where one value of a field stands. */
export function partSite({ nodes, attrs, begins, values }: FieldData, place: number): PartSite {
  const site = { node: nodes[place]!, attr: attrs[place]! };
  const from = begins?.[place];
  return from === undefined ? site : { ...site, part: [from, from + values[place]!.length] };
}

function lead(value: string): number {
  return value.length - value.trimStart().length;
}
