import type { ValueKind } from '../../values/classify.ts';
import { isAddress } from '../../values/ip.ts';
import type { HeldMaterial } from '../certificates/material.ts';
import type { Outlier } from '../reading.ts';
import type { FieldData } from './fields.ts';
import type { SiteSet } from './site-set.ts';
import { candidatesOf, fieldType, judgeOnce } from './value-types.ts';

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

/** As of an address; letters that are taken for digits are part of some slips. */
const addressSlip =
  /^(?:[\dOolI]{1,4}(?:\.[\dOolI]{1,4}){3}|[0-9a-fA-F]{0,5}(?::[0-9a-fA-F]{0,5}){3,8})(?:\/\d{1,4})?$/;

/** One address among networks is no slip. */
const isOther = (value: string, kind: string) => kind === 'prefix' && isAddress(value);

interface OddPlace {
  readonly place: number;
  readonly expected: Outlier['expected'];
}

/** Places of one field that look like a slip there. */
export function oddPlaces(field: FieldData): readonly OddPlace[] {
  const { values } = field;
  if (values.length < 5 || field.steps[field.steps.length - 1] === 'name()') return [];
  // Most fields are of a kind that has no slips: a sample tells.
  const candidates = candidatesOf(field);
  if (candidates.length === 0) return oddAddresses(field);
  if (!candidates.some((kind) => slips[kind])) return [];
  const { kind, outliers } = fieldType(field);
  const slip = kind === 'enumeration' ? undefined : slips[kind];
  return slip
    ? outliers
        .filter((place) => slip.test(values[place]!) && !isOther(values[place]!, kind))
        .map((place) => ({ place, expected: kind }))
    : [];
}

/** Of fields that hold addresses of both versions, or networks among them; more than a tenth of others and it is none. */
function oddAddresses({ values, distinct, which }: FieldData): readonly OddPlace[] {
  if (!values.slice(0, 8).some(isAddress)) return [];
  const odd: OddPlace[] = [];
  const most = Math.max(1, values.length * 0.1);
  const fits = judgeOnce(distinct, isAddress);
  let others = 0;
  for (let place = 0; place < values.length; place++) {
    if (fits(which[place]!)) continue;
    if (++others > most) return [];
    if (addressSlip.test(values[place]!)) odd.push({ place, expected: 'address' });
  }
  return odd;
}

/** Values that look like a slip in their field, and certificates or keys that cannot be read. */
export function readOutliers(
  fields: readonly FieldData[],
  material: readonly HeldMaterial[],
  explained: SiteSet,
): readonly Outlier[] {
  const outliers: Outlier[] = [];
  for (const field of fields)
    for (const { place, expected } of oddPlaces(field)) {
      const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
      if (!explained.hasValue(field, place)) outliers.push({ site, expected });
    }
  for (const { kind, der, site } of material) {
    if (der === null && kind === 'certificate') outliers.push({ site, expected: 'certificate' });
  }
  return outliers;
}
