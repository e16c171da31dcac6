import type { ValueKind } from '../values/classify.ts';
import type { Field } from './fields.ts';
import type { HeldMaterial } from './material.ts';
import type { Outlier } from './reading.ts';
import type { SiteSet } from './site-set.ts';
import { candidatesOf, fieldType } from './value-types.ts';

/**
 * What a slip of each kind looks like: close to the kind and not of it. Anything else that does not fit its field is more
 * likely a name or a word of the dialect, and one false alarm too many makes people stop reading the list.
 */
const slips: Partial<Record<ValueKind, RegExp>> = {
  ipv4: /^\d{1,4}(?:\.\d{1,4}){2,4}$/,
  netmask: /^\d{1,4}(?:\.\d{1,4}){2,4}$/,
  ipv6: /^[0-9a-fA-F]{0,5}(?::[0-9a-fA-F]{0,5}){2,8}$/,
  prefix: /^[0-9a-fA-F.:]{5,45}(?:\/\d{1,4})?$/,
  'address-range': /^\d{1,4}(?:\.\d{1,4}){3}\s*-\s*\d{1,4}(?:\.\d{1,4}){0,4}$/,
  mac: /^[0-9a-zA-Z]{1,4}(?:[:.-][0-9a-zA-Z]{1,4}){2,6}$/,
  uuid: /^[0-9a-zA-Z]{4,10}(?:-[0-9a-zA-Z]{2,6}){3}-[0-9a-zA-Z]{8,16}$/,
  date: /^\d{4}-\d{1,3}-\d{1,3}(?:[T ].*)?$/,
  vlan: /^\d{1,5}$/,
  port: /^\d{1,6}$/,
  url: /^[a-z]{2,12}:\/{1,3}\S*$/,
};

/** Values that look like a slip in their field, and certificates or keys that cannot be read. */
export function readOutliers(
  fields: readonly Field[],
  material: readonly HeldMaterial[],
  explained: SiteSet,
): readonly Outlier[] {
  const outliers: Outlier[] = [];
  for (const field of fields) {
    if (field.values.length < 5 || field.steps[field.steps.length - 1] === 'name()') continue;
    // Most fields are of a kind that has no slips: a sample tells.
    if (!candidatesOf(field).some((kind) => slips[kind])) continue;
    const { kind, outliers: places } = fieldType(field);
    const slip = kind === 'enumeration' ? undefined : slips[kind];
    if (!slip) continue;
    for (const place of places) {
      const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
      if (slip.test(field.values[place]!) && !explained.has(site.node, site.attr))
        outliers.push({ site, expected: kind });
    }
  }
  for (const { kind, der, site } of material) {
    if (der === null && kind === 'certificate') outliers.push({ site, expected: 'certificate' });
  }
  return outliers;
}
